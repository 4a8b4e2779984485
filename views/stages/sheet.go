package stages

import (
	"fyne.io/fyne/v2"

	"slipseat/engine/unit"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// drawn is the middle of a stage that works on a board: the drawing, tools over
// its top edge, and the buttons of the view over its bottom edge.
type drawn struct {
	desk  *Desk
	board *board.Board
	tools *fyne.Container // row at the top
	grid  *kit.Button
	view  *fyne.Container
	note  *kit.Text // beside the buttons of the view
	all   *fyne.Container
}

func newDrawn(d *Desk, name string, tools ...fyne.CanvasObject) *drawn {
	s := &drawn{desk: d, board: board.New("board:" + name)}
	s.board.After = d.After
	s.tools = kit.NewFlow(kit.Gap6, tools...)
	s.grid = kit.NewButton("button:view-grid", "grid", " ", func() { s.board.SetGrid(!s.board.Grid()) })
	s.view = kit.NewRow(kit.Gap6,
		kit.NewButton("button:view-out", "minus", "", func() { s.board.Zoom(1 / board.ZoomStep) }).Tip(d.say("view.out")),
		kit.NewButton("button:view-fit", "", d.say("view.fit"), s.board.Fit).Tip(d.say("view.fit.tip")),
		kit.NewButton("button:view-in", "plus", "", func() { s.board.Zoom(board.ZoomStep) }).Tip(d.say("view.in")),
		s.grid,
	)
	s.board.OnView = s.viewed
	s.note = kit.NewPara("", kit.Small, kit.Ink2)
	s.all = &fyne.Container{Layout: drawnLayout{}, Objects: []fyne.CanvasObject{s.board, s.tools, s.view, s.note}}
	return s
}

// viewed names the step of the grid that is shown.
func (s *drawn) viewed() {
	step := s.board.GridStep()
	words := s.desk.say("view.grid")
	if step > 0 {
		words = s.desk.say("view.grid-step", unit.A("step", unit.Length(step)))
	}
	s.grid.SetWords(words)
	if s.grid.Visible() != s.board.HasGrid() {
		setVisible(s.grid, s.board.HasGrid())
	}
	kit.Relayout(s.view)
	kit.Relayout(s.all)
}

// gridSteps are the steps a grid may have in the job's units.
func gridSteps(u unit.Units) []float64 {
	if u.Size.Metric() {
		return steps(unit.CM/2, unit.CM, 5*unit.CM, 10*unit.CM, 50*unit.CM, 100*unit.CM)
	}
	return steps(unit.In/4, unit.In, 6*unit.In, 12*unit.In, 36*unit.In)
}

func steps(ls ...unit.Length) []float64 {
	out := make([]float64, len(ls))
	for i, l := range ls {
		out[i] = l.MM()
	}
	return out
}

func setVisible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// drawnLayout lays the board over the whole room and the rows over its edges.
type drawnLayout struct{}

const drawnEdge = 13

func (drawnLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(s)
	w := max(0, s.Width-2*drawnEdge)
	h := kit.HeightFor(o[1], w)
	o[1].Move(fyne.NewPos(drawnEdge, drawnEdge))
	o[1].Resize(fyne.NewSize(w, h))
	m := o[2].MinSize()
	o[2].Move(fyne.NewPos(drawnEdge, s.Height-m.Height-drawnEdge))
	o[2].Resize(m)
	x := drawnEdge + m.Width + kit.Gap16
	nw := max(10, s.Width-x-drawnEdge)
	nh := kit.HeightFor(o[3], nw)
	o[3].Move(fyne.NewPos(x, s.Height-drawnEdge-m.Height/2-nh/2))
	o[3].Resize(fyne.NewSize(nw, nh))
}

func (drawnLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(120, 120) }
