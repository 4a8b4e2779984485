package views

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// tap presses a named widget that is in sight.
func (r *room) tap(t *testing.T, name string) {
	t.Helper()
	s := r.spot(name)
	if s.Name == "" {
		t.Fatalf("%s is not in sight", name)
	}
	test.TapCanvas(r.win.Canvas(), fyne.NewPos(s.X+s.W/2, s.Y+s.H/2))
}

// field finds a named field of the stage's form.
func (r *room) field(t *testing.T, name string) *kit.Field {
	t.Helper()
	f := r.stages[r.s.Stage()].Form().Field("field:" + name)
	if f == nil {
		t.Fatalf("no field %s", name)
	}
	return f
}

// retype replaces what a field holds, as a user does.
func (r *room) retype(t *testing.T, name, text string) {
	t.Helper()
	f := r.field(t, name)
	r.win.Canvas().Focus(f)
	f.TypedShortcut(&fyne.ShortcutSelectAll{})
	for _, c := range text {
		f.TypedRune(c)
	}
	f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
}

func (r *room) reads(t *testing.T, name, want string) {
	t.Helper()
	if got := r.field(t, name).Text(); got != want {
		t.Errorf("%s reads %q, want %q", name, got, want)
	}
}

func TestNewJobToCutSheet(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.tap(t, "button:new-job")
	if !r.s.IsOpen() {
		t.Fatal("no job was opened")
	}
	for _, c := range [][2]string{{"outline.front_width", "18 1/2"}, {"outline.back_width", "40.64 cm"}, {"outline.depth", "17-1/4"}, {"outline.front_bow", "¾"}, {"count", "6"}} {
		r.retype(t, c[0], c[1])
		r.reads(t, c[0], c[1])
	}
	if _, d := r.s.Plan().Seats[0].Outline.Size(); d < 17.2499*unit.In || d > 17.2501*unit.In {
		t.Errorf("the board is %v mm deep, want 17¼ in", d)
	}
	for _, st := range session.Stages() {
		r.tap(t, "stage:"+st.Code())
		if r.s.Stage() != st {
			t.Fatalf("the tab of %s shows %s", st.Code(), r.s.Stage().Code())
		}
	}
	r.s.SetStage(session.Outline)
	r.tap(t, "button:undo")
	r.reads(t, "count", "1")
	r.tap(t, "button:redo")
	r.reads(t, "count", "6")
}

func TestWrongMeasureIsToldBesideItsField(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	f := r.field(t, "outline.front_bow")
	r.retype(t, "outline.front_bow", "15")
	if f.Problem() == "" {
		t.Fatal("nothing is said of a bow of 15 in")
	}
	// The last good drawing stays, and the other fields go on working.
	r.retype(t, "count", "7")
	r.reads(t, "count", "7")
	if f.Problem() == "" || f.Text() != "15" {
		t.Fatalf("the field reads %q and says %q", f.Text(), f.Problem())
	}
	r.retype(t, "outline.front_bow", "17z")
	if f.Problem() == "" || f.Text() != "17z" || r.s.Job().Seats[0].Outline.FrontBow != "15 in" {
		t.Fatalf("what is not understood: reads %q, says %q, job has %q", f.Text(), f.Problem(), r.s.Job().Seats[0].Outline.FrontBow)
	}
	r.retype(t, "outline.front_bow", "3/4")
	if f.Problem() != "" {
		t.Fatalf("put right, and still: %s", f.Problem())
	}
}

// A drag is one entry of the history; Escape leaves no trace.
func TestDragOnTheBoard(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	seat := r.s.Job().Seats[0].ID
	width := func() string { s, _ := r.s.Shown().Get(seat, "outline.front_width"); return s }
	grip := r.spot("handle:front_width:right")
	if grip.Name == "" {
		t.Fatal("no handle in sight")
	}
	b := boardOf(t, r.stages[0].Middle())
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.(fyne.CanvasObject))
	inset, _ := r.win.Canvas().InteractiveArea()
	from := fyne.NewPos(grip.X+grip.W/2, grip.Y+grip.H/2).Subtract(at.Add(inset))
	drag := func(by float32) {
		b.MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: from}})
		for i := float32(1); i <= 4; i++ {
			b.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: from.AddXY(by*i/4, 0)}})
		}
	}
	before := width()
	drag(40)
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.DragEnd()
	if width() != before {
		t.Fatalf("after Escape the width is %s, it was %s", width(), before)
	}
	if _, ok := r.s.CanUndo(); ok {
		t.Fatal("a cancelled drag can be undone")
	}
	drag(40)
	b.DragEnd()
	after := width()
	if after == before {
		t.Fatal("the drag changed nothing")
	}
	r.reads(t, "outline.front_width", strings.TrimSuffix(after, " in"))
	r.s.Undo()
	if _, ok := r.s.CanUndo(); ok || width() != before {
		t.Fatalf("one undo should take the drag back: %s", width())
	}
}

// dragged is what a board takes from the pointer and the keyboard.
type dragged interface {
	fyne.Draggable
	fyne.Focusable
	desktop.Mouseable
}

func boardOf(t *testing.T, o fyne.CanvasObject) dragged {
	t.Helper()
	if b, ok := o.(dragged); ok {
		if n, ok := o.(kit.Named); ok && strings.HasPrefix(n.ProbeName(), "board:") {
			return b
		}
	}
	for _, k := range kit.Kids(o) {
		if b := boardOfOrNil(k); b != nil {
			return b
		}
	}
	t.Fatal("no board")
	return nil
}

func boardOfOrNil(o fyne.CanvasObject) dragged {
	if b, ok := o.(dragged); ok {
		if n, ok := o.(kit.Named); ok && strings.HasPrefix(n.ProbeName(), "board:") {
			return b
		}
	}
	for _, k := range kit.Kids(o) {
		if b := boardOfOrNil(k); b != nil {
			return b
		}
	}
	return nil
}

// Switching units shows what was typed in the other units; what was typed in
// others on purpose stays as typed, and switching back shows all as it was.
func TestUnitsSwitch(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	r.retype(t, "outline.back_width", "40.64 cm")
	r.tap(t, "units:cm")
	r.reads(t, "outline.front_width", "46.99")
	r.reads(t, "outline.back_width", "40.64")
	r.tap(t, "units:in")
	r.reads(t, "outline.front_width", "18 1/2")
	r.reads(t, "outline.back_width", "40.64 cm")
}

func TestSeatsCanBeAddedAndDeleted(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	n := len(r.s.Job().Seats)
	r.tap(t, "button:add-seat")
	j := r.s.Job()
	if len(j.Seats) != n+1 || r.s.Seat() != j.Seats[n].ID {
		t.Fatalf("%d seats, chosen %s", len(j.Seats), r.s.Seat())
	}
	r.tap(t, "seat:A")
	if r.s.Seat() != j.Seats[0].ID {
		t.Fatal("the card of A does not choose A")
	}
	r.do(edit.DeleteSeat{Seat: j.Seats[0].ID})
	if len(r.s.Job().Seats) != n || r.s.Seat() == j.Seats[0].ID {
		t.Fatalf("after deleting A: %d seats, chosen %s", len(r.s.Job().Seats), r.s.Seat())
	}
}

func TestExportAsksBeforeItReplaces(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	r.s.StopSearch()
	r.runner.Background = true
	dir := filepath.Join(t.TempDir(), "out")
	r.folder = dir
	r.export()
	r.tap(t, "export-kind:png")
	r.tap(t, "button:export-go")
	if _, err := os.Stat(filepath.Join(dir, "cut-sheet-cloth-1.png")); err != nil {
		t.Fatal(err)
	}
	mark := filepath.Join(dir, "cut-sheet-cloth-1.png")
	if err := os.WriteFile(mark, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	r.export()
	r.tap(t, "export-kind:png")
	r.tap(t, "button:export-go")
	if b, _ := os.ReadFile(mark); string(b) != "mine" {
		t.Fatal("a file that was there was replaced without a question")
	}
	if r.spot("button:export-go").Name == "" {
		t.Fatal("the question is gone")
	}
	r.tap(t, "button:export-go")
	if b, _ := os.ReadFile(mark); string(b) == "mine" {
		t.Fatal("the file was not replaced when it was said again")
	}
}

func TestSaveToAFileAndOpenIt(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	dir := t.TempDir()
	r.folder = dir
	r.saveFile()
	r.tap(t, "button:save-go")
	path := filepath.Join(dir, "Reading room"+Ending)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := job.Decode(data); err != nil {
		t.Fatal(err)
	}
	old := r.s.Job().ID
	r.OpenPath(path)
	if r.s.Job().ID == old || r.s.Job().Name != "Reading room" {
		t.Fatal("an opened file must not take the place of the job that is there")
	}
	r.OpenPath(filepath.Join(dir, "missing"+Ending))
	if r.s.Notice() == nil {
		t.Fatal("nothing is said of a file that is not there")
	}
}

func TestDeleteAJobAndTakeItBack(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	r.runner.Advance(time.Second)
	r.tap(t, "button:jobs")
	if len(r.s.Jobs()) != 1 || r.spot("job:0").Name == "" {
		t.Fatal("the job is not on the page")
	}
	r.s.Delete(r.s.Jobs()[0].ID)
	if len(r.s.Jobs()) != 0 || r.toast.Showing() == "" {
		t.Fatalf("%d jobs left, message %q", len(r.s.Jobs()), r.toast.Showing())
	}
	r.tap(t, "button:notice")
	if len(r.s.Jobs()) != 1 {
		t.Fatal("the job did not come back")
	}
}

func TestProbeTellsWhatChanged(t *testing.T) {
	var out strings.Builder
	r := newRoom(t, kit.LightMode, 1440, 900)
	p := NewProbe(&out)
	r.o.Probe = p
	r.report(p)
	r.s.OpenDemo()
	r.runner.Advance(time.Second)
	for _, want := range []string{`{"ready":true}`, `{"page":"start"}`, `{"page":"job"}`, `{"stage":"outline"}`, `{"saved":true}`, `"field:outline.front_width":"18 1/2"`, `"name":"handle:front_width:right"`, `"total:cloth":"`} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the probe does not say %s", want)
		}
	}
	n := out.Len()
	r.report(p)
	if out.Len() != n {
		t.Errorf("nothing changed, and the probe says %s", out.String()[n:])
	}
}
