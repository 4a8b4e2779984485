package kit

import (
	"fyne.io/fyne/v2"
)

// Tall is an object whose height depends on the width it is given, such as
// wrapped text. The toolkit's own layouts cannot ask for that; ours do.
type Tall interface {
	HeightFor(width float32) float32
}

// tallLayout is a layout that can say its height for a width.
type tallLayout interface {
	HeightFor(objs []fyne.CanvasObject, width float32) float32
}

// HeightFor gives the height an object needs at a width.
func HeightFor(o fyne.CanvasObject, width float32) float32 {
	switch v := o.(type) {
	case Tall:
		return v.HeightFor(width)
	case *fyne.Container:
		if l, ok := v.Layout.(tallLayout); ok {
			return l.HeightFor(v.Objects, width)
		}
	}
	return o.MinSize().Height
}

// column lays objects one under the other, each as wide as the column.
type column struct{ gap, width float32 }

// NewColumn stacks objects with a gap between them. The objects keep their
// order; hidden ones take no room.
func NewColumn(gap float32, objs ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &column{gap: gap}, Objects: objs}
}

func (c *column) HeightFor(objs []fyne.CanvasObject, width float32) float32 {
	var h float32
	n := 0
	for _, o := range objs {
		if !o.Visible() {
			continue
		}
		if n > 0 {
			h += c.gap
		}
		h += HeightFor(o, width)
		n++
	}
	return h
}

func (c *column) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	c.width = size.Width
	var y float32
	for _, o := range objs {
		if !o.Visible() {
			continue
		}
		h := HeightFor(o, size.Width)
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		y += h + c.gap
	}
}

func (c *column) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var w float32
	for _, o := range objs {
		if o.Visible() {
			w = max(w, o.MinSize().Width)
		}
	}
	return fyne.NewSize(w, c.HeightFor(objs, max(w, c.width)))
}

// row lays objects side by side, centred upright. Springs share what is left
// over; when there is too little, objects that can shrink give way.
type row struct{ gap float32 }

// NewRow puts objects side by side with a gap between them.
func NewRow(gap float32, objs ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &row{gap: gap}, Objects: objs}
}

// Yielding is an object that may be given less width than its minimum, because
// it shortens itself.
type Yielding interface {
	LeastWidth() float32
}

func (r *row) widths(objs []fyne.CanvasObject, avail float32) []float32 {
	ws := make([]float32, len(objs))
	var sum, springs, yield float32
	n := 0
	for i, o := range objs {
		if !o.Visible() {
			continue
		}
		n++
		if _, ok := o.(*Spring); ok {
			springs++
			continue
		}
		ws[i] = o.MinSize().Width
		sum += ws[i]
		if y, ok := o.(Yielding); ok {
			yield += max(0, ws[i]-y.LeastWidth())
		}
	}
	if n > 1 {
		sum += r.gap * float32(n-1)
	}
	left := avail - sum
	for i, o := range objs {
		if !o.Visible() {
			continue
		}
		if _, ok := o.(*Spring); ok && left > 0 {
			ws[i] = left / springs
		}
		if y, ok := o.(Yielding); ok && left < 0 && yield > 0 {
			give := max(0, ws[i]-y.LeastWidth())
			ws[i] -= give * min(1, -left/yield)
		}
	}
	return ws
}

func (r *row) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	ws := r.widths(objs, size.Width)
	var x float32
	for i, o := range objs {
		if !o.Visible() {
			continue
		}
		h := min(HeightFor(o, ws[i]), size.Height)
		if _, ok := o.(*Spring); ok {
			h = size.Height
		}
		o.Move(fyne.NewPos(x, (size.Height-h)/2))
		o.Resize(fyne.NewSize(ws[i], h))
		x += ws[i] + r.gap
	}
}

func (r *row) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	n := 0
	for _, o := range objs {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		s.Width += m.Width
		s.Height = max(s.Height, m.Height)
		n++
	}
	if n > 1 {
		s.Width += r.gap * float32(n-1)
	}
	return s
}

func (r *row) HeightFor(objs []fyne.CanvasObject, width float32) float32 {
	var h float32
	for i, w := range r.widths(objs, width) {
		if objs[i].Visible() {
			h = max(h, HeightFor(objs[i], w))
		}
	}
	return h
}

// inset keeps a margin around one object.
type inset struct{ top, right, bottom, left float32 }

// Inset puts a margin around an object: one figure for all sides, two for
// top and bottom and the sides, or four clockwise from the top.
func Inset(o fyne.CanvasObject, m ...float32) *fyne.Container {
	in := &inset{}
	switch len(m) {
	case 1:
		*in = inset{m[0], m[0], m[0], m[0]}
	case 2:
		*in = inset{m[0], m[1], m[0], m[1]}
	case 4:
		*in = inset{m[0], m[1], m[2], m[3]}
	}
	return &fyne.Container{Layout: in, Objects: []fyne.CanvasObject{o}}
}

func (in *inset) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objs {
		o.Move(fyne.NewPos(in.left, in.top))
		o.Resize(fyne.NewSize(max(0, size.Width-in.left-in.right), max(0, size.Height-in.top-in.bottom)))
	}
}

func (in *inset) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for _, o := range objs {
		s = s.Max(o.MinSize())
	}
	return fyne.NewSize(s.Width+in.left+in.right, s.Height+in.top+in.bottom)
}

func (in *inset) HeightFor(objs []fyne.CanvasObject, width float32) float32 {
	var h float32
	for _, o := range objs {
		h = max(h, HeightFor(o, width-in.left-in.right))
	}
	return h + in.top + in.bottom
}

// fixed gives its objects a width of their own, scaled with the text.
type fixed struct{ w, h float32 }

// FixedWidth holds an object to a width that grows with the text size.
func FixedWidth(w float32, o fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &fixed{w: w}, Objects: []fyne.CanvasObject{o}}
}

// FixedHeight holds an object to a height that grows with the text size.
func FixedHeight(h float32, o fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &fixed{h: h}, Objects: []fyne.CanvasObject{o}}
}

func (f *fixed) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objs {
		o.Move(fyne.NewPos(0, 0))
		o.Resize(size)
	}
}

func (f *fixed) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for _, o := range objs {
		s = s.Max(o.MinSize())
	}
	if f.w > 0 {
		s.Width = U(f.w)
	}
	if f.h > 0 {
		s.Height = U(f.h)
	}
	return s
}

func (f *fixed) HeightFor(objs []fyne.CanvasObject, width float32) float32 {
	if f.h > 0 {
		return U(f.h)
	}
	var h float32
	for _, o := range objs {
		h = max(h, HeightFor(o, width))
	}
	return h
}

// flow lays objects side by side and starts a new line when one is full.
type flow struct{ gap, width float32 }

// NewFlow puts objects side by side, in as many lines as are needed.
func NewFlow(gap float32, objs ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &flow{gap: gap}, Objects: objs}
}

func (f *flow) place(objs []fyne.CanvasObject, width float32, put func(o fyne.CanvasObject, x, y, w, h float32)) float32 {
	var x, y, line float32
	for _, o := range objs {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		w := min(m.Width, width)
		if x > 0 && x+w > width {
			x, y, line = 0, y+line+f.gap, 0
		}
		put(o, x, y, w, m.Height)
		x += w + f.gap
		line = max(line, m.Height)
	}
	return y + line
}

func (f *flow) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	f.width = size.Width
	f.place(objs, size.Width, func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
	})
}

func (f *flow) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var w float32
	for _, o := range objs {
		if o.Visible() {
			w = max(w, o.MinSize().Width)
		}
	}
	return fyne.NewSize(w, f.HeightFor(objs, max(w, f.width)))
}

func (f *flow) HeightFor(objs []fyne.CanvasObject, width float32) float32 {
	return f.place(objs, width, func(fyne.CanvasObject, float32, float32, float32, float32) {})
}

// Relayout lays a container's objects out again without having them painted
// anew, which refreshing the container would do.
func Relayout(c *fyne.Container) {
	if c.Layout != nil {
		c.Layout.Layout(c.Objects, c.Size())
	}
}
