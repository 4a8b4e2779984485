package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Row is one line of the right column: what it is, the field, and below them a
// hint, or what is wrong.
type Row struct {
	widget.BaseWidget
	box                  *fyne.Container
	label, hint, problem *Text
	tip                  string
}

var (
	_ Tall   = (*Row)(nil)
	_ Holder = (*Row)(nil)
)

// HeightFor implements Tall.
func (r *Row) HeightFor(width float32) float32 { return HeightFor(r.box, width) }

// Held implements Holder.
func (r *Row) Held() []fyne.CanvasObject { return []fyne.CanvasObject{r.box} }

// CreateRenderer implements fyne.Widget.
func (r *Row) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }

// fieldWidth is the width of the fields in the right column.
const fieldWidth = 112

// rowLayout puts label and field side by side and the hint below.
type rowLayout struct{ field float32 }

func (l *rowLayout) split(width float32) (label, field float32) {
	field = min(U(l.field), width*0.62)
	return width - field - Gap12, field
}

func (l *rowLayout) HeightFor(o []fyne.CanvasObject, width float32) float32 {
	lw, _ := l.split(width)
	h := max(HeightFor(o[0], lw), FieldHeight())
	for _, below := range o[2:] {
		if below.Visible() {
			h += HeightFor(below, width) + Gap4
		}
	}
	return h
}

func (l *rowLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	lw, fw := l.split(s.Width)
	lh := HeightFor(o[0], lw)
	h := max(lh, FieldHeight())
	o[0].Move(fyne.NewPos(0, (h-lh)/2))
	o[0].Resize(fyne.NewSize(lw, lh))
	o[1].Move(fyne.NewPos(s.Width-fw, (h-FieldHeight())/2))
	o[1].Resize(fyne.NewSize(fw, FieldHeight()))
	y := h + Gap4
	for _, below := range o[2:] {
		if below.Visible() {
			bh := HeightFor(below, s.Width)
			below.Move(fyne.NewPos(0, y))
			below.Resize(fyne.NewSize(s.Width, bh))
			y += bh + Gap4
		}
	}
}

func (l *rowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(U(160), l.HeightFor(o, U(288)))
}

// NewRowFor puts a label and a field or a choice in one row. The hint may be
// empty. What is wrong takes the hint's place while something is.
func NewRowFor(label, hint string, field fyne.CanvasObject) *Row {
	return newRowFor(label, hint, field, fieldWidth)
}

// NewWideRow is a row whose field takes more of the width, for words.
func NewWideRow(label, hint string, field fyne.CanvasObject) *Row {
	return newRowFor(label, hint, field, 178)
}

func newRowFor(label, hint string, field fyne.CanvasObject, width float32) *Row {
	r := &Row{label: NewPara(label, Body, Ink), hint: NewPara(hint, Small, Ink2), problem: NewPara("", Small, Wrong)}
	r.box = &fyne.Container{Layout: &rowLayout{field: width}, Objects: []fyne.CanvasObject{r.label, field, r.hint, r.problem}}
	r.ExtendBaseWidget(r)
	r.problem.Hide()
	if hint == "" {
		r.hint.Hide()
	}
	if f, ok := field.(*Field); ok {
		f.OnProblem = r.showProblem
	}
	return r
}

// SetLabel changes the label.
func (r *Row) SetLabel(s string) { r.label.SetText(s) }

// SetHint changes the hint.
func (r *Row) SetHint(s string) {
	if s == r.hint.Text() {
		return
	}
	r.hint.SetText(s)
	setVisible(r.hint, s != "" && r.problem.Text() == "")
	relayout(r)
}

func (r *Row) showProblem(p string) {
	r.problem.SetText(p)
	setVisible(r.problem, p != "")
	setVisible(r.hint, p == "" && r.hint.Text() != "")
	relayout(r)
}

// relayout lays the scroll around an object out again, since the object's
// height has changed.
func relayout(o fyne.CanvasObject) {
	c := fyne.CurrentApp().Driver().CanvasForObject(o)
	if c == nil {
		return
	}
	root := c.Overlays().Top()
	if root == nil {
		root = c.Content()
	}
	if s := scrollAround(root, o, nil); s != nil {
		s.Refresh()
	}
}

func scrollAround(at, o fyne.CanvasObject, in *Scroll) *Scroll {
	if at == o {
		return in
	}
	if s, ok := at.(interface{ scroll() *Scroll }); ok {
		in = s.scroll()
	}
	for _, k := range Kids(at) {
		if k != nil {
			if s := scrollAround(k, o, in); s != nil {
				return s
			}
		}
	}
	return nil
}

// Section is a head with the rows below it.
func Section(head string, rows ...fyne.CanvasObject) *fyne.Container {
	objs := []fyne.CanvasObject{NewText(head, Head, Ink2)}
	return NewColumn(Gap12, append(objs, rows...)...)
}

// Sections puts sections under one another with a rule between them.
func Sections(parts ...fyne.CanvasObject) *fyne.Container {
	var objs []fyne.CanvasObject
	for i, p := range parts {
		if i > 0 {
			objs = append(objs, NewRule())
		}
		objs = append(objs, p)
	}
	return NewColumn(Gap12, objs...)
}

// FieldRow is a row with a field of its own.
func FieldRow(label, hint string, f *Field) *Row { return NewRowFor(label, hint, f) }

// NewBox makes a caution or a good box: a title, if any, and words that wrap.
func NewBox(title, words string, good bool) *Panel {
	fill, line, ink := Caution, CautionLine, CautionInk
	if good {
		fill, line, ink = Good, GoodLine, GoodInk
	}
	var objs []fyne.CanvasObject
	if title != "" {
		objs = append(objs, NewPara(title, Strong, ink))
	}
	if words != "" {
		objs = append(objs, NewPara(words, Body, ink))
	}
	return NewPanel(fill, line, 8, Inset(NewColumn(Gap2, objs...), 9, 11))
}

// SetTip sets the explanation shown while the pointer rests on the label.
func (r *Row) SetTip(tip string) { r.tip = tip }

// MouseIn implements desktop.Hoverable.
func (r *Row) MouseIn(*desktop.MouseEvent) { showTip(r, r.tip) }

// MouseMoved implements desktop.Hoverable.
func (r *Row) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (r *Row) MouseOut() { hideTip(r) }

// besideLayout gives the first object the width that the second leaves.
type besideLayout struct{}

// NewBeside puts a button beside a field that takes the rest of the width.
func NewBeside(field, button fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: besideLayout{}, Objects: []fyne.CanvasObject{field, button}}
}

func (besideLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	b := o[1].MinSize()
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(fyne.NewSize(max(0, s.Width-b.Width-Gap8), s.Height))
	o[1].Move(fyne.NewPos(s.Width-b.Width, 0))
	o[1].Resize(fyne.NewSize(b.Width, s.Height))
}

func (besideLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(a.Width+b.Width+Gap8, max(a.Height, b.Height))
}

// bounded lets a scroll take the height its content needs, up to a limit.
type bounded struct{ most float32 }

// NewBounded holds a scroll to a largest height.
func NewBounded(most float32, s *Scroll) *fyne.Container {
	return &fyne.Container{Layout: bounded{most}, Objects: []fyne.CanvasObject{s}}
}

func (b bounded) HeightFor(o []fyne.CanvasObject, width float32) float32 {
	return min(o[0].(*Scroll).Need(width), U(b.most))
}

func (b bounded) Layout(o []fyne.CanvasObject, s fyne.Size) { o[0].Resize(s) }

func (b bounded) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(U(200), b.HeightFor(o, U(400)))
}
