package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Named is an object that scripts can find by name.
type Named interface {
	ProbeName() string
}

// Holder is a widget that holds further objects inside, at positions relative
// to its own.
type Holder interface {
	Held() []fyne.CanvasObject
}

// Spot is a named object and where it is, in window units from the top left.
type Spot struct {
	Name       string
	X, Y, W, H float32
	Value      string // of a field or a figure
	Problem    string // what is wrong with it
}

// Valued is a named object that shows a value.
type Valued interface {
	ProbeValue() (value, problem string)
}

// Spotted is a widget with named places of its own, relative to it.
type Spotted interface {
	ProbeSpots() []Spot
}

// Spots lists the named objects in sight below a root: visible, and with
// their middle not scrolled away. The order is the order of the tree.
func Spots(root fyne.CanvasObject, at fyne.Position) []Spot {
	var out []Spot
	size := root.Size()
	walk(root, at, clip{at.X, at.Y, at.X + size.Width, at.Y + size.Height}, &out)
	return out
}

type clip struct{ x0, y0, x1, y1 float32 }

func (c clip) with(x, y float32, s fyne.Size) clip {
	return clip{max(c.x0, x), max(c.y0, y), min(c.x1, x+s.Width), min(c.y1, y+s.Height)}
}

func walk(o fyne.CanvasObject, at fyne.Position, c clip, out *[]Spot) {
	if o == nil || !o.Visible() {
		return
	}
	size := o.Size()
	if n, ok := o.(Named); ok && n.ProbeName() != "" {
		mx, my := at.X+size.Width/2, at.Y+size.Height/2
		if mx >= c.x0 && mx <= c.x1 && my >= c.y0 && my <= c.y1 {
			s := Spot{Name: n.ProbeName(), X: at.X, Y: at.Y, W: size.Width, H: size.Height}
			if v, ok := o.(Valued); ok {
				s.Value, s.Problem = v.ProbeValue()
			}
			*out = append(*out, s)
		}
	}
	if sp, ok := o.(Spotted); ok {
		for _, s := range sp.ProbeSpots() {
			s.X, s.Y = s.X+at.X, s.Y+at.Y
			*out = append(*out, s)
		}
	}
	if _, ok := o.(*container.Scroll); ok {
		c = c.with(at.X, at.Y, size)
	}
	for _, k := range Kids(o) {
		if k != nil {
			walk(k, at.Add(k.Position()), c, out)
		}
	}
}

// Kids gives the objects inside an object, at positions relative to it.
func Kids(o fyne.CanvasObject) []fyne.CanvasObject {
	switch v := o.(type) {
	case *fyne.Container:
		return v.Objects
	case *container.Scroll:
		return []fyne.CanvasObject{v.Content}
	case *widget.PopUp:
		return []fyne.CanvasObject{v.Content}
	case Holder:
		return v.Held()
	}
	return nil
}
