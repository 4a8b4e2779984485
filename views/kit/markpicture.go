package kit

import (
	"image"
	"image/color"
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	"golang.org/x/image/draw"
)

// MarkPicture is a picture with points on it that can be dragged: the corners
// of something that is seen at a slant, joined by a line, and single points. A
// magnifier shows what lies under the point that is moved.
type MarkPicture struct {
	widget.BaseWidget
	name   string
	pic    image.Image
	points []Point
	ring   int // so many of the points are the corners
	height float32
	chosen int
	drag   bool
	moved  bool // since it was taken hold of
	focus  bool
	raster *canvas.Raster
	// Changed is told when the points were moved.
	Changed func()
	// Settle, if set, gives the place that a point takes when it is let go.
	Settle func(i int, p Point) Point

	scaled    *image.RGBA // the picture at the size it is shown
	scaledFor image.Point
}

// Point is a place on a picture, as shares of its width and height.
type Point struct{ X, Y float64 }

// NewMarkPicture shows a picture so high, with points of which the first ring
// are corners.
func NewMarkPicture(name string, pic image.Image, points []Point, ring int, height float32) *MarkPicture {
	m := &MarkPicture{name: name, pic: pic, points: append([]Point(nil), points...), ring: ring, height: height}
	m.raster = canvas.NewRaster(m.paint)
	m.ExtendBaseWidget(m)
	return m
}

// Points are where the points are now.
func (m *MarkPicture) Points() []Point { return append([]Point(nil), m.points...) }

// ProbeName is the name that scripts find it by.
func (m *MarkPicture) ProbeName() string { return m.name }

// ProbeSpots are the points.
func (m *MarkPicture) ProbeSpots() []Spot {
	at, w, h := m.frame()
	out := make([]Spot, len(m.points))
	for i, p := range m.points {
		out[i] = Spot{Name: m.name + ":" + strconv.Itoa(i), X: at.X + float32(p.X)*w - 5, Y: at.Y + float32(p.Y)*h - 5, W: 10, H: 10}
	}
	return out
}

// frame is where the picture lies in the widget: as large as it fits.
func (m *MarkPicture) frame() (at fyne.Position, w, h float32) {
	s := m.Size()
	b := m.pic.Bounds()
	k := min(s.Width/float32(b.Dx()), s.Height/float32(b.Dy()))
	w, h = float32(b.Dx())*k, float32(b.Dy())*k
	return fyne.NewPos((s.Width-w)/2, (s.Height-h)/2), w, h
}

// MinSize keeps the height that was asked for.
func (m *MarkPicture) MinSize() fyne.Size { return fyne.NewSize(120, U(m.height)) }

// HeightFor keeps the height that was asked for.
func (m *MarkPicture) HeightFor(float32) float32 { return U(m.height) }

// CreateRenderer is the toolkit's.
func (m *MarkPicture) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(m.raster)
}

// reach is how near to a point the pointer takes hold of it.
const markReach = 22

// at gives the point near a place in the widget, or -1.
func (m *MarkPicture) near(p fyne.Position) int {
	at, w, h := m.frame()
	best, found := float64(markReach), -1
	for i, q := range m.points {
		d := math.Hypot(float64(at.X+float32(q.X)*w-p.X), float64(at.Y+float32(q.Y)*h-p.Y))
		if d < best {
			best, found = d, i
		}
	}
	return found
}

// move puts the chosen point to a place in the widget.
func (m *MarkPicture) move(p fyne.Position) {
	at, w, h := m.frame()
	m.put(Point{float64((p.X - at.X) / w), float64((p.Y - at.Y) / h)})
}

func (m *MarkPicture) put(p Point) {
	m.points[m.chosen] = Point{min(1, max(0, p.X)), min(1, max(0, p.Y))}
	m.raster.Refresh()
	if m.Changed != nil {
		m.Changed()
	}
}

// MouseDown takes hold of a point.
func (m *MarkPicture) MouseDown(e *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(m); c != nil {
		c.Focus(m)
	}
	if i := m.near(e.Position); i >= 0 {
		m.chosen, m.drag = i, true
		m.raster.Refresh()
	}
}

// MouseUp lets go.
func (m *MarkPicture) MouseUp(*desktop.MouseEvent) { m.letGo() }

// Dragged moves the point that is held.
func (m *MarkPicture) Dragged(e *fyne.DragEvent) {
	if m.drag {
		m.moved = true
		m.move(e.Position)
	}
}

// DragEnd lets go.
func (m *MarkPicture) DragEnd() { m.letGo() }

func (m *MarkPicture) letGo() {
	if m.drag && m.moved && m.Settle != nil {
		m.put(m.Settle(m.chosen, m.points[m.chosen]))
	}
	m.drag, m.moved = false, false
	m.raster.Refresh()
}

// FocusGained shows which point the keys move.
func (m *MarkPicture) FocusGained() { m.focus = true; m.raster.Refresh() }

// FocusLost hides it.
func (m *MarkPicture) FocusLost() { m.focus = false; m.raster.Refresh() }

// TypedRune takes the number of a point.
func (m *MarkPicture) TypedRune(r rune) {
	if i := int(r - '1'); i >= 0 && i < len(m.points) {
		m.chosen = i
		m.raster.Refresh()
	}
}

// TypedKey moves the chosen point by a pixel of the picture, or chooses the
// next with space.
func (m *MarkPicture) TypedKey(e *fyne.KeyEvent) {
	b := m.pic.Bounds()
	p := m.points[m.chosen]
	dx, dy := 1/float64(b.Dx()), 1/float64(b.Dy())
	switch e.Name {
	case fyne.KeyLeft:
		p.X -= dx
	case fyne.KeyRight:
		p.X += dx
	case fyne.KeyUp:
		p.Y -= dy
	case fyne.KeyDown:
		p.Y += dy
	case fyne.KeySpace:
		m.chosen = (m.chosen + 1) % len(m.points)
		m.raster.Refresh()
		return
	default:
		return
	}
	m.put(p)
}

// paint draws the picture, the line round the corners, the points and, while
// one is moved, the magnifier.
func (m *MarkPicture) paint(w, h int) image.Image {
	out := image.NewRGBA(image.Rect(0, 0, max(1, w), max(1, h)))
	s := m.Size()
	if s.Width <= 0 || w <= 0 {
		return out
	}
	px := float64(w) / float64(s.Width)
	at, fw, fh := m.frame()
	box := image.Rect(int(float64(at.X)*px), int(float64(at.Y)*px), int(float64(at.X+fw)*px), int(float64(at.Y+fh)*px))
	if m.scaled == nil || m.scaledFor != box.Size() {
		m.scaledFor = box.Size()
		m.scaled = image.NewRGBA(image.Rectangle{Max: box.Size()})
		draw.ApproxBiLinear.Scale(m.scaled, m.scaled.Bounds(), m.pic, m.pic.Bounds(), draw.Src, nil)
	}
	draw.Draw(out, box, m.scaled, image.Point{}, draw.Src)
	to := func(p Point) (x, y float64) {
		return float64(box.Min.X) + p.X*float64(box.Dx()), float64(box.Min.Y) + p.Y*float64(box.Dy())
	}
	line, paper := rgbaOf(Colour(Action)), rgbaOf(Colour(Raised))
	for i := range m.ring {
		x0, y0 := to(m.points[i])
		x1, y1 := to(m.points[(i+1)%m.ring])
		stroke(out, x0, y0, x1, y1, 2.2*px, paper)
		stroke(out, x0, y0, x1, y1, 1.2*px, line)
	}
	for i, p := range m.points {
		x, y := to(p)
		r := 6 * px
		fill := paper
		if i == m.chosen && (m.focus || m.drag) {
			fill, r = line, 8*px
		}
		disc(out, x, y, r+1.5*px, paper)
		disc(out, x, y, r, line)
		disc(out, x, y, r-2*px, fill)
		if i >= m.ring { // a single point: a cross inside
			stroke(out, x-r*0.6, y, x+r*0.6, y, 1.4*px, line)
			stroke(out, x, y-r*0.6, x, y+r*0.6, 1.4*px, line)
		}
	}
	if m.drag {
		m.magnify(out, px, box)
	}
	return out
}

// Sizes of the magnifier, and how much it magnifies the picture's own pixels.
const (
	lensSide = 132
	lensZoom = 4
)

// magnify shows the surroundings of the held point in the corner that is
// farthest from it.
func (m *MarkPicture) magnify(out *image.RGBA, px float64, box image.Rectangle) {
	p := m.points[m.chosen]
	side := int(lensSide * px)
	lens := image.Rect(0, 0, side, side).Add(box.Min).Add(image.Pt(8, 8))
	if p.X < 0.5 {
		lens = lens.Add(image.Pt(box.Dx()-side-16, 0))
	}
	b := m.pic.Bounds()
	half := float64(side) / px / lensZoom / 2
	cx, cy := float64(b.Min.X)+p.X*float64(b.Dx()), float64(b.Min.Y)+p.Y*float64(b.Dy())
	src := image.Rect(int(cx-half), int(cy-half), int(cx+half), int(cy+half))
	draw.Draw(out, lens, image.NewUniform(rgbaOf(Colour(Table))), image.Point{}, draw.Src)
	draw.NearestNeighbor.Scale(out, lens, m.pic, src, draw.Src, nil)
	line := rgbaOf(Colour(Action))
	mx, my := float64(lens.Min.X)+float64(side)/2, float64(lens.Min.Y)+float64(side)/2
	stroke(out, mx-14*px, my, mx+14*px, my, px, line)
	stroke(out, mx, my-14*px, mx, my+14*px, px, line)
	for _, e := range [4][4]float64{{0, 0, 1, 0}, {1, 0, 1, 1}, {1, 1, 0, 1}, {0, 1, 0, 0}} {
		d := float64(side)
		x, y := float64(lens.Min.X), float64(lens.Min.Y)
		stroke(out, x+e[0]*d, y+e[1]*d, x+e[2]*d, y+e[3]*d, 1.5*px, line)
	}
}

func rgbaOf(c color.Color) color.RGBA { return color.RGBAModel.Convert(c).(color.RGBA) }

// stroke draws a straight line with soft edges.
func stroke(dst *image.RGBA, x0, y0, x1, y1, width float64, c color.RGBA) {
	r := width/2 + 1
	for y := int(math.Min(y0, y1) - r); y <= int(math.Max(y0, y1)+r); y++ {
		for x := int(math.Min(x0, x1) - r); x <= int(math.Max(x0, x1)+r); x++ {
			dx, dy := x1-x0, y1-y0
			t := 0.0
			if l := dx*dx + dy*dy; l > 0 {
				t = min(1, max(0, ((float64(x)+0.5-x0)*dx+(float64(y)+0.5-y0)*dy)/l))
			}
			d := math.Hypot(float64(x)+0.5-x0-t*dx, float64(y)+0.5-y0-t*dy)
			cover(dst, x, y, c, width/2+0.5-d)
		}
	}
}

// disc draws a circle with a soft edge.
func disc(dst *image.RGBA, cx, cy, r float64, c color.RGBA) {
	for y := int(cy - r - 1); y <= int(cy+r+1); y++ {
		for x := int(cx - r - 1); x <= int(cx+r+1); x++ {
			cover(dst, x, y, c, r+0.5-math.Hypot(float64(x)+0.5-cx, float64(y)+0.5-cy))
		}
	}
}

func cover(dst *image.RGBA, x, y int, c color.RGBA, share float64) {
	if share <= 0 || !image.Pt(x, y).In(dst.Rect) {
		return
	}
	share = min(1, share)
	was := dst.RGBAAt(x, y)
	mix := func(a, b uint8) uint8 { return uint8(float64(a) + (float64(b)-float64(a))*share + 0.5) }
	dst.SetRGBA(x, y, color.RGBA{R: mix(was.R, c.R), G: mix(was.G, c.G), B: mix(was.B, c.B), A: max(was.A, uint8(255*share))})
}
