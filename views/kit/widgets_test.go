package kit

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
)

// Pressing a button must commit what is typed elsewhere: the toolkit leaves
// the focus where it was.
func TestPressCommitsFirst(t *testing.T) {
	f := NewField("f")
	var order []string
	f.OnCommit = func(s string) string { order = append(order, "commit "+s); return "" }
	b := NewButton("b", "", "Go", func() { order = append(order, "go") })
	win := inWindow(t, NewColumn(4, f, b), 200, 100)
	win.Canvas().Focus(f)
	typeIn(f, "7")
	test.Tap(b)
	if len(order) != 2 || order[0] != "commit 7" || order[1] != "go" {
		t.Fatalf("got %q, want the commit before the button's work", order)
	}
}

func TestPressByKeyboard(t *testing.T) {
	n := 0
	b := NewButton("b", "", "Go", func() { n++ })
	win := inWindow(t, b, 100, 40)
	win.Canvas().Focus(b)
	press(b, fyne.KeyReturn)
	b.TypedRune(' ')
	if n != 2 {
		t.Fatalf("pressed %d times by keyboard, want 2", n)
	}
	b.Disable()
	press(b, fyne.KeyReturn)
	test.Tap(b)
	if n != 2 {
		t.Fatalf("a disabled button was pressed")
	}
}

func TestSwitch(t *testing.T) {
	var got []int
	s := NewSwitch([]string{"units:in", "units:cm"}, []string{"in", "cm"}, 0, func(i int) { got = append(got, i) })
	win := inWindow(t, s, 120, 40)
	test.Tap(s.parts[0])
	test.Tap(s.parts[1])
	win.Canvas().Focus(s.parts[1])
	press(s.parts[1], fyne.KeyLeft)
	press(s.parts[0], fyne.KeyLeft)
	s.Set(1)
	if len(got) != 2 || got[0] != 1 || got[1] != 0 {
		t.Fatalf("told %v, want 1 then 0: no news of what was chosen already or set from outside", got)
	}
	if win.Canvas().Focused() != fyne.Focusable(s.parts[0]) {
		t.Fatal("the focus did not follow the arrow key")
	}
}

func TestTabsFollowAndCount(t *testing.T) {
	var got []int
	tabs := NewTabs([]string{"a", "b", "c"}, []string{"Outline", "Build-up", "Roll"}, 0, func(i int) { got = append(got, i) })
	inWindow(t, tabs, 500, 40)
	before := tabs.MinSize().Width
	tabs.SetCount(1, 2)
	if tabs.MinSize().Width <= before || tabs.tabs[1].count.Text() != "2" {
		t.Fatal("a count takes no room or shows no figure")
	}
	test.Tap(tabs.tabs[2].Press)
	press(tabs.tabs[2], fyne.KeyLeft)
	if len(got) != 2 || got[0] != 2 || got[1] != 1 {
		t.Fatalf("told %v, want 2 then 1", got)
	}
}

func TestFormKeepsTyping(t *testing.T) {
	form := NewForm(FieldMenu{})
	groups := func(text string, extra bool) []Group {
		es := []Entry{{Kind: AField, Name: "w", Label: "Front width", Text: text}}
		if extra {
			es = append(es, Entry{Kind: AField, Name: "x", Label: "Other", Text: "1"})
		}
		return []Group{{Head: "Board", Entries: es}}
	}
	form.Set(groups("18", false))
	win := inWindow(t, form, 300, 300)
	f := form.Field("w")
	win.Canvas().Focus(f)
	typeIn(f, "17")
	form.Set(groups("18", false)) // another part of the job changed
	form.Set(groups("18", true))  // and a row more
	if form.Field("w") != f || f.Text() != "17" || win.Canvas().Focused() != fyne.Focusable(f) {
		t.Fatalf("the field was replaced or lost what was typed: %q", form.Field("w").Text())
	}
	if form.Field("x") == nil {
		t.Fatal("the new row is missing")
	}
	press(f, fyne.KeyEscape)
	form.Set(groups("16", true))
	if f.Text() != "16" {
		t.Fatalf("shows %q, want the new value 16", f.Text())
	}
}

func TestFocusScrollsIntoSight(t *testing.T) {
	form := NewForm(FieldMenu{})
	var es []Entry
	for i := range 30 {
		es = append(es, Entry{Kind: AField, Name: string(rune('a' + i)), Label: "Row"})
	}
	form.Set([]Group{{Head: "Many", Entries: es}})
	win := inWindow(t, form, 300, 300)
	last := form.Field(es[29].Name)
	win.Canvas().Focus(last)
	y := fyne.CurrentApp().Driver().AbsolutePositionForObject(last).Y
	if y < 0 || y+last.Size().Height > 300 {
		t.Fatalf("the focused field is at y %v, out of the window's 300", y)
	}
}

func TestSpots(t *testing.T) {
	inner := NewColumn(10, NewButton("one", "", "One", nil), NewButton("two", "", "Two", nil))
	for range 20 {
		inner.Add(NewText("filler", Body, Ink))
	}
	far := NewButton("far", "", "Far", nil)
	inner.Add(far)
	hidden := NewButton("hidden", "", "Hidden", nil)
	hidden.Hide()
	inner.Add(hidden)
	s := NewScroll(inner)
	win := inWindow(t, s, 200, 120)
	inset, _ := win.Canvas().InteractiveArea() // the test driver takes it off, the real one has none
	var names []string
	for _, p := range Spots(s, fyne.NewPos(0, 0)) {
		names = append(names, p.Name)
		if want := fyne.CurrentApp().Driver().AbsolutePositionForObject(inner.Objects[len(names)-1]).Add(inset); p.X != want.X || p.Y != want.Y {
			t.Errorf("%s at %v,%v; the toolkit has it at %v", p.Name, p.X, p.Y, want)
		}
	}
	if got := strings.Join(names, " "); got != "one two" {
		t.Fatalf("in sight: %q, want one two (far is scrolled away, hidden is hidden)", got)
	}
}

func TestTextWraps(t *testing.T) {
	inWindow(t, NewText("", Body, Ink), 10, 10)
	const s = "Type a length such as 17 1/2 or 44.5 cm, as the tape shows it."
	p := NewPara(s, Small, Ink)
	for _, w := range []float32{60, 100, 200, 400} {
		lines := p.lines(w)
		if got := strings.Join(lines, " "); got != s {
			t.Fatalf("at width %v words were lost: %q", w, got)
		}
		for _, l := range lines {
			if strings.Contains(l, " ") && Small.measure(l) > w+1 {
				t.Errorf("at width %v the line %q is %v wide", w, l, Small.measure(l))
			}
		}
	}
	if got := wrapLine("as 17\u00a01/2", Small, Small.measure("as 17")+2); len(got) != 2 || got[1] != "17\u00a01/2" {
		t.Errorf("a figure was torn from its fraction: %q", got)
	}
	if got := shorten("Window bench pad", Body, Body.measure("Window b…")); got != "Window b…" {
		t.Errorf("shortened to %q", got)
	}
}

func TestTips(t *testing.T) {
	var fire func()
	layer := NewTipLayer(func(_ time.Duration, f func()) interface{ Stop() bool } { fire = f; return stopped{} })
	b := NewButton("b", "", "Undo", nil).Tip("Undo the change of the front width")
	root := &fyne.Container{Layout: &fixed{}, Objects: []fyne.CanvasObject{NewColumn(0, b), layer}}
	inWindow(t, root, 400, 200)
	b.MouseIn(&desktop.MouseEvent{})
	if layer.Showing() != "" {
		t.Fatal("the tip came at once")
	}
	fire()
	if layer.Showing() != "Undo the change of the front width" {
		t.Fatalf("shows %q", layer.Showing())
	}
	b.MouseOut()
	if layer.Showing() != "" {
		t.Fatal("the tip stayed")
	}
	b.MouseIn(&desktop.MouseEvent{})
	late := fire
	b.MouseOut()
	late()
	if layer.Showing() != "" {
		t.Fatal("a tip came after the pointer had left")
	}
}

type stopped struct{}

func (stopped) Stop() bool { return true }

func TestToast(t *testing.T) {
	var fire func()
	toast := NewToast(func(_ time.Duration, f func()) interface{ Stop() bool } { fire = f; return stopped{} })
	inWindow(t, toast, 600, 300)
	undone := 0
	toast.Say("Vestry stools deleted.", "Undo", false, time.Second, func() { undone++ })
	test.Tap(toast.button)
	if undone != 1 || toast.Showing() != "" {
		t.Fatalf("undone %d times, still shows %q", undone, toast.Showing())
	}
	toast.Say("Saved.", "", false, time.Second, nil)
	if toast.button.Visible() {
		t.Fatal("a button without anything to do")
	}
	fire()
	if toast.Showing() != "" {
		t.Fatal("the message stayed after its time")
	}
}

func TestModalKeys(t *testing.T) {
	win := inWindow(t, NewText("behind", Body, Ink), 600, 400)
	answered := ""
	open := func() {
		ShowModal(win.Canvas(), "ask", "Delete?", NewPara("words", Body, Ink), 300, nil,
			Answer{Name: "no", Words: "Keep", Do: func() bool { answered = "no"; return true }},
			Answer{Name: "yes", Words: "Delete", Main: true, Do: func() bool { answered = "yes"; return true }})
	}
	open()
	win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if answered != "no" || win.Canvas().Overlays().Top() != nil {
		t.Fatalf("Escape answered %q and left the sheet open: %v", answered, win.Canvas().Overlays().Top() != nil)
	}
	open()
	win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if answered != "yes" {
		t.Fatalf("Return answered %q", answered)
	}
	if win.Canvas().OnTypedKey() != nil {
		t.Fatal("the sheet kept the window's keys")
	}
}

func TestMenu(t *testing.T) {
	win := inWindow(t, NewText("behind", Body, Ink), 400, 300)
	did := ""
	open := func() *Menu {
		return ShowMenu(win.Canvas(), fyne.NewPos(390, 290), 0, []MenuEntry{
			{Words: "Duplicate", Do: func() { did = "duplicate" }},
			{Words: "Move up", Off: true, Do: func() { did = "up" }},
			{},
			{Words: "Delete", Keys: "Del", Do: func() { did = "delete" }},
		})
	}
	m := open()
	if p, s := m.panel.Position(), m.panel.Size(); p.X < 0 || p.Y < 0 || p.X+s.Width > 400 || p.Y+s.Height > 300 {
		t.Fatalf("the menu reaches out of the window: %v %v", p, s)
	}
	press(m, fyne.KeyDown, fyne.KeyDown, fyne.KeyReturn)
	if did != "delete" || win.Canvas().Overlays().Top() != nil {
		t.Fatalf("by keyboard: did %q; what cannot be used must be stepped over", did)
	}
	m = open()
	test.Tap(m.rows[1])
	if did != "delete" || win.Canvas().Overlays().Top() == nil {
		t.Fatalf("a line that is off did %q", did)
	}
	m.Tapped(nil)
	if win.Canvas().Overlays().Top() != nil {
		t.Fatal("a click beside the menu leaves it open")
	}
	m = open()
	press(m, fyne.KeyEscape)
	if win.Canvas().Overlays().Top() != nil || did != "delete" {
		t.Fatal("Escape did something else than close")
	}
}
