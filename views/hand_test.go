package views

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// bench is the Roll stage of the demo with a hand on its board.
type bench struct {
	*room
	board dragged
	off   fyne.Delta // from the window to the board
}

func newBench(t *testing.T) *bench {
	t.Helper()
	b := &bench{room: newRoom(t, kit.LightMode, 1440, 900)}
	b.s.OpenDemo()
	b.s.SetStage(session.Roll)
	b.board = boardOf(t, b.stages[session.Roll].Middle())
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.board.(fyne.CanvasObject))
	inset, _ := b.win.Canvas().InteractiveArea()
	b.off = fyne.NewDelta(at.X+inset.X, at.Y+inset.Y)
	return b
}

// middle is the middle of a named place of the board, on it.
func (b *bench) middle(t *testing.T, name string) fyne.Position {
	t.Helper()
	s := b.spot(name)
	if s.Name == "" {
		t.Fatalf("%s is not in sight", name)
	}
	return fyne.NewPos(s.X+s.W/2-b.off.DX, s.Y+s.H/2-b.off.DY)
}

// pull drags from a place by so many units, without letting go.
func (b *bench) pull(from fyne.Position, dx, dy float32) {
	b.board.MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: from}})
	const n = 6
	for i := float32(1); i <= n; i++ {
		b.board.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: from.AddXY(dx*i/n, dy*i/n)}})
	}
}

func (b *bench) let(at fyne.Position) {
	b.board.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: at}})
	b.board.DragEnd()
}

func (b *bench) click(at fyne.Position) {
	b.board.MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: at}})
	b.board.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: at}})
}

func (b *bench) key(k fyne.KeyName) { b.board.TypedKey(&fyne.KeyEvent{Name: k}) }

// told is where a piece is: "x0 y0 x1 y1 turn sheet state" in millimetres.
func (b *bench) told(t *testing.T, name string) string {
	t.Helper()
	s := b.spot("piece:" + name)
	if s.Name == "" {
		t.Fatalf("no piece %s", name)
	}
	return s.Value
}

func (b *bench) box(t *testing.T, name string) (x0, y0, x1, y1 float64) {
	t.Helper()
	if _, err := fmt.Sscan(b.told(t, name), &x0, &y0, &x1, &y1); err != nil {
		t.Fatal(err)
	}
	return
}

func (b *bench) valid(t *testing.T) {
	t.Helper()
	g := b.s.Plan().Find(string(b.s.Goods(false)))
	if g == nil || g.Lay == nil {
		t.Fatalf("there is no lay: %v", b.s.Plan().Faults)
	}
	if bad := lay.Check(g.Problem, *g.Lay); len(bad) > 0 {
		t.Fatalf("the judge: %v", bad)
	}
}

// A piece dragged onto others takes their place, snapped to the pattern; one
// undo takes that back.
func TestDragAPiece(t *testing.T) {
	b := newBench(t)
	before := b.told(t, "A1")
	from := b.middle(t, "piece:A1")
	b.pull(from, 130, 6)
	if words := b.spot("lay:roll").Value; !strings.Contains(words, "make way") {
		t.Errorf("on another piece the line says %q", words)
	}
	b.let(from.AddXY(130, 6))
	b.valid(t)
	now := b.told(t, "A1")
	if now == before || !strings.HasSuffix(now, "locked") || len(b.s.Job().Locked) != 1 {
		t.Fatalf("A1 was %s, is %s; locked %v", before, now, b.s.Job().Locked)
	}
	if l, ok := b.s.CanUndo(); !ok || l.Code != "hold-move" {
		t.Fatalf("what can be undone is %v", l)
	}
	b.s.Undo()
	if got := b.told(t, "A1"); got != before {
		t.Errorf("undone, A1 is %s, was %s", got, before)
	}
}

// A place where a piece cannot lie is refused, in words, and nothing changes.
func TestAPieceCannotLieOffTheRoll(t *testing.T) {
	b := newBench(t)
	before := b.told(t, "B1")
	from := b.middle(t, "piece:B1")
	b.pull(from, 0, 60)
	if words := b.spot("lay:roll").Value; !strings.Contains(words, "B1 cannot lie here") {
		t.Errorf("over the edge the line says %q", words)
	}
	b.let(from.AddXY(0, 60))
	if got := b.told(t, "B1"); got != before || len(b.s.Job().Locked) != 0 {
		t.Errorf("B1 is %s, was %s", got, before)
	}
	if n := b.s.Notice(); n == nil || n.Code != "piece-stays" {
		t.Errorf("told %+v", n)
	}
}

func TestEscapeStopsTheDragOfAPiece(t *testing.T) {
	b := newBench(t)
	before := b.told(t, "A2")
	from := b.middle(t, "piece:A2")
	b.pull(from, 90, 0)
	b.key(fyne.KeyEscape)
	b.let(from.AddXY(90, 0))
	if got := b.told(t, "A2"); got != before || len(b.s.Job().Locked) != 0 {
		t.Errorf("A2 is %s, was %s", got, before)
	}
	if _, ok := b.s.CanUndo(); ok {
		t.Error("a drag that was given up can be undone")
	}
}

// All hand work on pieces goes by keyboard.
func TestPiecesByKeyboard(t *testing.T) {
	b := newBench(t)
	b.win.Canvas().Focus(b.board)
	tab := b.board.(fyne.Tabbable)
	for range 30 {
		if b.spot("field:piece-along").Name != "" {
			break
		}
		if !tab.AcceptsTab() {
			t.Fatal("Tab leaves the board before it came to a piece")
		}
		b.key(fyne.KeyTab)
	}
	name := ""
	for _, s := range b.spots() {
		if strings.HasPrefix(s.Name, "piece:") {
			name = strings.TrimPrefix(s.Name, "piece:")
			break // the first in the order of the lay, as Tab goes
		}
	}
	b.key(fyne.KeyReturn)
	if got := b.told(t, name); !strings.HasSuffix(got, "locked") {
		t.Fatalf("Return did not lock %s: %s", name, got)
	}
	x0, y0, _, _ := b.box(t, name)
	b.key(fyne.KeyUp) // free across: a marking step
	b.valid(t)
	x1, y1, _, _ := b.box(t, name)
	if x1 != x0 || y1 <= y0 || y1 > y0+2*25.4/16 {
		t.Errorf("an arrow key moved %s from %v, %v to %v, %v", name, x0, y0, x1, y1)
	}
	b.key(fyne.KeyRight) // bound along: a repeat
	b.valid(t)
	if x2, _, _, _ := b.box(t, name); x2 < x1+9*25.4-0.2 || x2 > x1+9*25.4+0.2 {
		t.Errorf("an arrow key moved %s from %v to %v along, want one repeat of 9 in", name, x1, x2)
	}
	b.key(fyne.KeySpace)
	if got := b.told(t, name); !strings.HasSuffix(got, "planned") || len(b.s.Job().Locked) != 0 {
		t.Errorf("Space did not release %s: %s", name, got)
	}
	// This cloth lies one way: T says so and turns nothing.
	b.board.TypedRune('t')
	if n := b.s.Notice(); n == nil || n.Code != "one-turn" {
		t.Errorf("told %+v", n)
	}
	c := b.s.Job().Cloths[0].ID
	b.s.Do(edit.Set{Object: c, Field: edit.ClothDirection, Text: "set-direction"})
	b.s.Do(edit.Set{Object: c, Field: edit.ClothNoUpDown, Text: "true"})
	b.board.TypedRune('t')
	b.valid(t)
	if got := b.told(t, name); !strings.Contains(got, " 2 0 ") {
		t.Errorf("T did not turn %s: %s", name, got)
	}
}

// A flaw drawn on the roll is avoided at once; it is moved, resized by a corner
// and by figures, and deleted.
func TestMarkAFlaw(t *testing.T) {
	b := newBench(t)
	b.tap(t, "button:roll-mark")
	at := b.middle(t, "piece:A3")
	b.pull(at, 40, 30)
	b.let(at.AddXY(40, 30))
	b.valid(t)
	flaws := func() []job.Flaw { return b.s.Job().Cloths[0].Flaws }
	if len(flaws()) != 1 {
		t.Fatal("no flaw was marked")
	}
	id := "flaw:" + string(flaws()[0].ID)
	first := flaws()[0]
	if b.spot("field:from").Name == "" || b.spot("handle:corner:ne").Name == "" {
		t.Fatal("the flaw is not chosen, or its figures are not in sight")
	}
	b.key(fyne.KeyRight)
	if f := flaws()[0]; f.From.Or(0) <= first.From.Or(0) || math.Abs((f.To.Or(0)-f.From.Or(0)-first.To.Or(0)+first.From.Or(0)).MM()) > 1e-6 {
		t.Errorf("an arrow key moved the flaw from %+v to %+v", first, f)
	}
	corner := b.middle(t, "handle:corner:ne")
	b.pull(corner, 30, -20)
	b.let(corner.AddXY(30, -20))
	b.valid(t)
	if f := flaws()[0]; f.To.Or(0) <= first.To.Or(0) || f.Far.Or(0) <= first.Far.Or(0) {
		t.Errorf("dragging the corner gives %+v", f)
	}
	to := unit.Text(flaws()[0].To.Or(0)+unit.In, unit.Inches)
	b.retype(t, "to", to)
	b.valid(t)
	if f := flaws()[0]; string(f.To) != to+" in" {
		t.Errorf("typed %s, got %s", to, f.To)
	}
	before := flaws()[0]
	on := b.middle(t, id)
	b.pull(on, -30, 0)
	b.let(on.AddXY(-30, 0))
	b.valid(t)
	if f := flaws()[0]; f.From.Or(0) >= before.From.Or(0) {
		t.Errorf("dragging the flaw gives %+v, was %+v", f, before)
	}
	b.key(fyne.KeyDelete)
	if len(flaws()) != 0 {
		t.Error("Delete left the flaw")
	}
	b.s.Undo()
	if len(flaws()) != 1 {
		t.Error("undo did not bring it back")
	}
	// Escape leaves the marking without one.
	b.tap(t, "button:roll-mark")
	b.key(fyne.KeyEscape)
	ground := b.middle(t, "piece:A1")
	b.pull(ground, 0, 0)
	b.let(ground)
	if len(flaws()) != 1 {
		t.Error("a flaw was marked after Escape")
	}
}

// The chosen piece's place can be typed; what cannot be is said at the field.
func TestTypeAPiecesPlace(t *testing.T) {
	b := newBench(t)
	b.click(b.middle(t, "piece:B2"))
	b.retype(t, "piece-across", "3 1/2")
	b.valid(t)
	if _, y, _, _ := b.box(t, "B2"); y < 3*25.4-0.1 || y > 3*25.4+0.1 { // half an inch of selvedge off
		t.Errorf("B2 lies %v mm from the selvedge, want 3 in", y)
	}
	b.retype(t, "piece-along", "7")
	if p := b.field(t, "piece-along").Problem(); !strings.Contains(p, "motif") {
		t.Errorf("off the pattern the field says %q", p)
	}
	b.retype(t, "piece-across", "wide")
	if b.field(t, "piece-across").Problem() == "" {
		t.Error("nothing is said of what is no length")
	}
}

// A cut piece cannot be dragged; a spoiled one is laid again and stays to see.
func TestCutAndSpoiledPieces(t *testing.T) {
	b := newBench(t)
	mark := func(name, state string) {
		t.Helper()
		b.click(b.middle(t, name))
		at := b.middle(t, name)
		b.board.MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonSecondary, PointEvent: fyne.PointEvent{Position: at}})
		b.board.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonSecondary, PointEvent: fyne.PointEvent{Position: at}})
		b.tap(t, "menu:hand.state-"+state)
	}
	mark("piece:A1", "cut")
	before := b.told(t, "A1")
	if !strings.HasSuffix(before, "cut") {
		t.Fatalf("A1 is %s", before)
	}
	from := b.middle(t, "piece:A1")
	b.pull(from, 80, 0)
	b.let(from.AddXY(80, 0))
	b.key(fyne.KeyRight)
	if got := b.told(t, "A1"); got != before {
		t.Fatalf("the cut piece is %s, was %s", got, before)
	}
	mark("piece:A1", "spoiled")
	b.valid(t)
	gone := b.spot("spoiled:A1")
	if gone.Name == "" || strings.TrimSuffix(gone.Value, "spoiled") != strings.TrimSuffix(before, "cut") {
		t.Fatalf("the spoiled piece is %+v, was cut at %s", gone, before)
	}
	if again := b.told(t, "A1"); !strings.HasSuffix(again, "planned") {
		t.Errorf("A1 is laid again as %s", again)
	}
	b.click(b.middle(t, "spoiled:A1"))
	if b.spot("piece-again").Name == "" && b.field(t, "piece-along") == nil {
		t.Error("nothing is said of the spoiled piece")
	}
}

// The lay before a change is shown greyed, says so, and can be kept.
func TestTheLayBeforeCanBeKept(t *testing.T) {
	b := newBench(t)
	before := b.told(t, "B1")
	seat := b.s.Job().Seats[0].ID
	b.s.Do(edit.Set{Object: seat, Field: edit.SeatCount, Text: "8"})
	b.tap(t, "button:roll-before")
	if words := b.spot("lay:roll").Value; !strings.Contains(words, "Out of date") {
		t.Errorf("the line says %q", words)
	}
	b.tap(t, "button:roll-keep")
	b.valid(t)
	if l, _ := b.s.CanUndo(); l.Code != "keep-lay" {
		t.Errorf("what can be undone is %v", l)
	}
	if got := strings.Replace(b.told(t, "B1"), "locked", "planned", 1); got != before {
		t.Errorf("B1 is %s, was %s", got, before)
	}
	if words := b.spot("lay:roll").Value; strings.Contains(words, "Out of date") {
		t.Errorf("after keeping the line says %q", words)
	}
}

// Foam is worked on by hand like cloth, from sheet to sheet too.
func TestFoamByHand(t *testing.T) {
	b := newBench(t)
	b.s.SetStage(session.Foam)
	b.board = boardOf(t, b.stages[session.Foam].Middle())
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.board.(fyne.CanvasObject))
	inset, _ := b.win.Canvas().InteractiveArea()
	b.off = fyne.NewDelta(at.X+inset.X, at.Y+inset.Y)
	var first, last kit.Spot
	for _, s := range b.spots() {
		if strings.HasPrefix(s.Name, "piece:A") {
			if first.Name == "" {
				first = s
			}
			last = s
		}
	}
	sheet := func(v string) string { return strings.Fields(v)[5] }
	if sheet(first.Value) == sheet(last.Value) {
		t.Skip("the demo's foam lies on one sheet")
	}
	from := b.middle(t, first.Name)
	to := b.middle(t, last.Name)
	b.pull(from, to.X-from.X, to.Y-from.Y)
	b.let(to)
	now := b.spot(first.Name)
	if sheet(now.Value) != sheet(last.Value) || !strings.HasSuffix(now.Value, "locked") {
		t.Errorf("%s is %s, want it on sheet %s", first.Name, now.Value, sheet(last.Value))
	}
	g := b.s.Plan().Find(string(b.s.Goods(true)))
	if g.Lay == nil || len(lay.Check(g.Problem, *g.Lay)) > 0 {
		t.Error("the foam has no valid lay")
	}
}

// All of a cloth is marked as cut with one press, and one undo takes it back.
func TestMarkAllAsCut(t *testing.T) {
	b := newBench(t)
	e := b.stages[session.Roll].Form()
	e.Find("button:mark-cut").(fyne.Tappable).Tapped(&fyne.PointEvent{})
	want := b.s.Plan().Find(string(b.s.Goods(false))).Pieces
	if l := b.s.Job().Locked; len(l) != want || l[0].State != job.Cut {
		t.Fatalf("%d pieces are held: %+v", len(l), l)
	}
	if !strings.HasSuffix(b.told(t, "A1"), "cut") || e.Find("all-cut") == nil {
		t.Errorf("A1 is %s", b.told(t, "A1"))
	}
	b.s.Undo()
	if len(b.s.Job().Locked) != 0 || e.Find("button:mark-cut") == nil {
		t.Error("undo did not take it back")
	}
}
