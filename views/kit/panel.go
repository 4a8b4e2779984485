package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Spring takes the room that is left over in a row.
type Spring struct{ widget.BaseWidget }

// NewSpring makes a spring.
func NewSpring() *Spring {
	s := &Spring{}
	s.ExtendBaseWidget(s)
	return s
}

// MinSize is nothing.
func (s *Spring) MinSize() fyne.Size { return fyne.Size{} }

// CreateRenderer implements fyne.Widget.
func (s *Spring) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}

// Fill is a plain area or a rule in a role's colour.
type Fill struct {
	widget.BaseWidget
	role Role
	min  fyne.Size
}

// NewFill paints an area.
func NewFill(role Role) *Fill {
	f := &Fill{role: role}
	f.ExtendBaseWidget(f)
	return f
}

// NewRule draws a line one unit thick, lying or standing as its room says.
func NewRule() *Fill {
	f := NewFill(Line)
	f.min = fyne.NewSize(1, 1)
	return f
}

// MinSize is one unit for a rule, nothing for an area.
func (f *Fill) MinSize() fyne.Size { return f.min }

// CreateRenderer implements fyne.Widget.
func (f *Fill) CreateRenderer() fyne.WidgetRenderer {
	r := &fillRenderer{f: f, rect: canvas.NewRectangle(Colour(f.role))}
	return r
}

type fillRenderer struct {
	f    *Fill
	rect *canvas.Rectangle
}

func (r *fillRenderer) Layout(s fyne.Size) { r.rect.Resize(s) }
func (r *fillRenderer) MinSize() fyne.Size { return r.f.min }
func (r *fillRenderer) Refresh() {
	r.rect.FillColor = Colour(r.f.role)
	r.rect.Refresh()
}
func (r *fillRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.rect} }
func (r *fillRenderer) Destroy()                     {}

// Panel is a box with a fill, a border and rounded corners around its content.
type Panel struct {
	widget.BaseWidget
	fill, line Role
	radius     float32
	thick      float32
	content    fyne.CanvasObject
	name       string
}

var (
	_ Tall   = (*Panel)(nil)
	_ Holder = (*Panel)(nil)
)

// NewPanel makes a box. The content fills it; use Inset for a margin.
func NewPanel(fill, line Role, radius float32, content fyne.CanvasObject) *Panel {
	p := newPanel(fill, line, radius, content)
	p.ExtendBaseWidget(p)
	return p
}

func newPanel(fill, line Role, radius float32, content fyne.CanvasObject) *Panel {
	return &Panel{fill: fill, line: line, radius: radius, thick: 1, content: content}
}

// Named gives the panel a name for scripts and returns it.
func (p *Panel) Named(name string) *Panel { p.name = name; return p }

// ProbeName implements Named.
func (p *Panel) ProbeName() string { return p.name }

// SetRoles changes the colours.
func (p *Panel) SetRoles(fill, line Role) {
	if p.fill != fill || p.line != line {
		p.fill, p.line = fill, line
		p.Refresh()
	}
}

// HeightFor implements Tall.
func (p *Panel) HeightFor(width float32) float32 {
	if p.content == nil {
		return 0
	}
	return HeightFor(p.content, width)
}

// Held implements Holder.
func (p *Panel) Held() []fyne.CanvasObject {
	if p.content == nil {
		return nil
	}
	return []fyne.CanvasObject{p.content}
}

// CreateRenderer implements fyne.Widget.
func (p *Panel) CreateRenderer() fyne.WidgetRenderer {
	r := &panelRenderer{p: p, rect: canvas.NewRectangle(color.Transparent)}
	r.objs = []fyne.CanvasObject{r.rect}
	if p.content != nil {
		r.objs = append(r.objs, p.content)
	}
	r.paint()
	return r
}

type panelRenderer struct {
	p    *Panel
	rect *canvas.Rectangle
	objs []fyne.CanvasObject
}

func (r *panelRenderer) paint() {
	r.rect.FillColor, r.rect.StrokeColor = Colour(r.p.fill), Colour(r.p.line)
	r.rect.StrokeWidth, r.rect.CornerRadius = r.p.thick, r.p.radius
	if r.p.line == Clear {
		r.rect.StrokeWidth = 0
	}
}

func (r *panelRenderer) Layout(s fyne.Size) {
	r.rect.Resize(s)
	if r.p.content != nil {
		r.p.content.Move(fyne.NewPos(0, 0))
		r.p.content.Resize(s)
	}
}

func (r *panelRenderer) MinSize() fyne.Size {
	if r.p.content == nil {
		return fyne.Size{}
	}
	return r.p.content.MinSize()
}

func (r *panelRenderer) Refresh() {
	r.paint()
	r.rect.Refresh()
	if r.p.content != nil {
		r.p.content.Refresh()
	}
}

func (r *panelRenderer) Objects() []fyne.CanvasObject { return r.objs }
func (r *panelRenderer) Destroy()                     {}
