package kit

import (
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
)

func TestMain(m *testing.M) {
	test.NewApp().Settings().SetTheme(NewTheme(LightMode, 1))
	os.Exit(m.Run())
}

// inWindow shows an object in a window of the test driver.
func inWindow(t *testing.T, o fyne.CanvasObject, w, h float32) fyne.Window {
	t.Helper()
	win := test.NewTempWindow(t, o)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	return win
}

func press(f fyne.Focusable, keys ...fyne.KeyName) {
	for _, k := range keys {
		f.TypedKey(&fyne.KeyEvent{Name: k})
	}
}

func typeIn(f fyne.Focusable, s string) {
	for _, r := range s {
		f.TypedRune(r)
	}
}

func TestFieldCommits(t *testing.T) {
	f := NewField("f")
	var got []string
	f.OnCommit = func(s string) string { got = append(got, s); return "" }
	f.Check = func(s string) string {
		if s == "bad" {
			return "not so"
		}
		return ""
	}
	other := NewField("other")
	win := inWindow(t, NewColumn(4, f, other), 200, 100)
	f.SetText("18 1/2")

	win.Canvas().Focus(f)
	typeIn(f, "17")
	press(f, fyne.KeyReturn)
	if len(got) != 1 || got[0] != "17" {
		t.Fatalf("after Return: committed %q, want 17 once", got)
	}
	press(f, fyne.KeyReturn)
	if len(got) != 1 {
		t.Fatalf("Return without a change committed again: %q", got)
	}
	typeIn(f, "16")
	press(f, fyne.KeyEscape)
	if f.Text() != "17" || len(got) != 1 {
		t.Fatalf("after Escape: shows %q, committed %q; want 17 and nothing more", f.Text(), got)
	}
	typeIn(f, "15")
	win.Canvas().Focus(other)
	if len(got) != 2 || got[1] != "15" {
		t.Fatalf("after the focus left: committed %q, want 15 as second", got)
	}
}

func TestFieldKeepsWhatIsWrong(t *testing.T) {
	f := NewField("f")
	committed := 0
	f.OnCommit = func(string) string { committed++; return "" }
	f.Check = func(s string) string {
		if s == "17x" {
			return "x is not understood"
		}
		return ""
	}
	row := NewRowFor("Front width", "a hint", f)
	win := inWindow(t, row, 300, 100)
	f.SetText("18")
	win.Canvas().Focus(f)
	typeIn(f, "17x")
	press(f, fyne.KeyReturn)
	if committed != 0 || f.Text() != "17x" || f.Problem() == "" || !row.problem.Visible() || row.hint.Visible() {
		t.Fatalf("wrong text: committed %d, shows %q, problem %q, row shows problem %v and hint %v", committed, f.Text(), f.Problem(), row.problem.Visible(), row.hint.Visible())
	}
	// A refresh from outside must not take away what is being typed.
	f.SetText("18")
	if f.Text() != "17x" {
		t.Fatalf("a refresh replaced what is typed: %q", f.Text())
	}
	press(f, fyne.KeyBackspace)
	if f.Problem() != "" || row.problem.Visible() || !row.hint.Visible() {
		t.Fatalf("put right, but the problem stays: %q", f.Problem())
	}
	press(f, fyne.KeyReturn)
	if committed != 1 {
		t.Fatalf("committed %d times, want once", committed)
	}
}

func TestFieldRefusedByTheJob(t *testing.T) {
	f := NewField("f")
	f.OnCommit = func(s string) string {
		if s == "40" {
			return "a bow of 40 is too big"
		}
		return ""
	}
	win := inWindow(t, f, 200, 60)
	f.SetText("3/4")
	win.Canvas().Focus(f)
	typeIn(f, "40")
	press(f, fyne.KeyReturn)
	if f.Problem() == "" || f.Text() != "40" {
		t.Fatalf("problem %q, shows %q; want the words and the text as typed", f.Problem(), f.Text())
	}
	press(f, fyne.KeyEscape)
	if f.Problem() != "" || f.Text() != "3/4" {
		t.Fatalf("after Escape: problem %q, shows %q", f.Problem(), f.Text())
	}
}

func TestFieldUndoGoesOnToTheWindow(t *testing.T) {
	f := NewField("f")
	win := inWindow(t, f, 200, 60)
	passed := 0
	f.OnShortcut = func(fyne.Shortcut) { passed++ }
	f.SetText("18")
	win.Canvas().Focus(f)
	typeIn(f, "17")
	f.TypedShortcut(&fyne.ShortcutUndo{})
	if f.Text() != "18" || passed != 0 {
		t.Fatalf("undo while typing: shows %q, passed on %d times; want 18 and 0", f.Text(), passed)
	}
	f.TypedShortcut(&fyne.ShortcutUndo{})
	f.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyS, Modifier: fyne.KeyModifierControl})
	if passed != 2 {
		t.Fatalf("passed on %d shortcuts, want 2: there is nothing typed to take back", passed)
	}
}

func TestFieldSteps(t *testing.T) {
	f := NewField("f")
	var got string
	f.OnCommit = func(s string) string { got = s; return "" }
	f.OnStep = func(s string, dir int, coarse bool) string {
		if dir > 0 {
			return s + "+"
		}
		return ""
	}
	win := inWindow(t, f, 200, 60)
	f.SetText("1")
	win.Canvas().Focus(f)
	press(f, fyne.KeyUp)
	if got != "1+" {
		t.Fatalf("arrow up committed %q, want 1+", got)
	}
	press(f, fyne.KeyDown)
	if f.Text() != "1+" {
		t.Fatalf("a refused step changed the text to %q", f.Text())
	}
}

func TestFieldPointer(t *testing.T) {
	f := NewField("f")
	inWindow(t, f, 240, 40)
	f.SetText("front width")
	down := func(x float32) {
		f.MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 15)}})
		f.MouseUp(nil)
	}
	down(60)
	if f.edit.selected() != "front width" {
		t.Fatalf("the first click selects %q, want all", f.edit.selected())
	}
	f.clicks = clicker{}
	x := fieldPad + Body.measure("fro")
	down(x)
	if f.edit.caret != 3 || f.edit.selected() != "" {
		t.Fatalf("a click after the third letter put the caret at %d (selected %q)", f.edit.caret, f.edit.selected())
	}
	f.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(fieldPad+Body.measure("front"), 15)}})
	if f.edit.selected() != "nt" {
		t.Fatalf("dragging selected %q, want nt", f.edit.selected())
	}
}

func TestFieldClipboard(t *testing.T) {
	f := NewField("f")
	win := inWindow(t, f, 200, 60)
	f.SetText("44.5 cm")
	win.Canvas().Focus(f)
	f.TypedShortcut(&fyne.ShortcutCopy{})
	if got := fyne.CurrentApp().Clipboard().Content(); got != "44.5 cm" {
		t.Fatalf("copied %q", got)
	}
	f.TypedShortcut(&fyne.ShortcutCut{})
	if f.Text() != "" {
		t.Fatalf("after cutting: %q", f.Text())
	}
	f.TypedShortcut(&fyne.ShortcutPaste{})
	f.TypedShortcut(&fyne.ShortcutPaste{})
	if f.Text() != "44.5 cm44.5 cm" {
		t.Fatalf("after pasting twice: %q", f.Text())
	}
	ro := NewField("ro").ReadOnly()
	ro.SetText("23")
	typeIn(ro, "1")
	ro.TypedShortcut(&fyne.ShortcutPaste{})
	if ro.Text() != "23" {
		t.Fatalf("a field that only shows was changed to %q", ro.Text())
	}
}

// The field's own menu must not stop what is typed from being committed later.
func TestFieldMenuKeepsTheCommit(t *testing.T) {
	f, other := NewField("f").SetMenu(FieldMenu{"Cut", "Copy", "Paste", "Select all"}), NewField("other")
	committed := ""
	f.OnCommit = func(s string) string { committed = s; return "" }
	win := inWindow(t, NewColumn(4, f, other), 300, 200)
	win.Canvas().Focus(f)
	typeIn(f, "17")
	f.TappedSecondary(&fyne.PointEvent{Position: fyne.NewPos(10, 10), AbsolutePosition: fyne.NewPos(10, 10)})
	menu := win.Canvas().Overlays().Top()
	if menu == nil {
		t.Fatal("no menu")
	}
	fyne.CurrentApp().Clipboard().SetContent(" 1/2")
	f.TypedShortcut(&fyne.ShortcutPaste{})
	menu.(*Menu).Close()
	win.Canvas().Focus(other)
	if committed != "17 1/2" {
		t.Fatalf("committed %q, want 17 1/2", committed)
	}
}
