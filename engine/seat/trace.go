package seat

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Traced is a board traced point by point, seen from the top, in a frame of its
// own: x to the right, y towards the back. The points run counter-clockwise.
// Notches may be drawn as points, or be cut afterwards as Notches; only the
// latter are filled for foam and covers. Nobody changes one that was handed
// out.
type Traced struct {
	Points  []TracedPoint
	Notches []Cut
}

// TracedPoint is a corner and the edge that leaves it.
type TracedPoint struct {
	At geom.Pt
	// Bow is how far the middle of the edge to the next point stands off the
	// straight line between them, positive outwards; 0 for a straight edge.
	Bow unit.Length
	// Radius rounds this corner; 0 for a sharp one.
	Radius unit.Length
	// Role of the edge; only where HasRole, else its direction tells.
	Role    Role
	HasRole bool
}

// Codes of the faults of traced shapes. Args of CodeHalves hold "right" and
// "left", the numbers of points; of CodeAxis "crossings".
const (
	CodeHalves  = "trace.halves-differ"
	CodeAxis    = "trace.axis"
	CodeNoPoint = "trace.no-point"
	CodeNoNotch = "trace.no-notch"
	CodeScale   = "trace.scale"
)

// Edge is the edge that leaves point i.
func (t Traced) Edge(i int) geom.Segment {
	p, q := t.Points[i], t.Points[(i+1)%len(t.Points)]
	return geom.ArcThrough(p.At, q.At, p.Bow.MM())
}

// sharp is the path through the points, corners not rounded.
func (t Traced) sharp() geom.Path {
	segs := make([]geom.Segment, len(t.Points))
	for i := range t.Points {
		segs[i] = t.Edge(i)
	}
	return geom.PathOf(segs)
}

// Bounds is the box round the sharp shape.
func (t Traced) Bounds() geom.Rect { return t.sharp().Bounds() }

// Path is the traced shape with its corners rounded, in its own frame, notches
// filled.
func (t Traced) Path() (geom.Path, *unit.Fault) {
	sharp := t.sharp()
	if f := sharp.Validate(); f != nil {
		return nil, f
	}
	for _, p := range t.Points {
		for _, f := range extra("radius", p.Radius) {
			return nil, &f
		}
	}
	p, f := sharp.Fillets(func(i int) float64 { return t.Points[i].Radius.MM() })
	if f != nil {
		return nil, f
	}
	return p, p.Validate()
}

// FromTraced makes an outline of a traced shape; it is moved into the seat's
// frame by Outline.Moved. Faults that have a place have it in the traced
// shape's own frame.
func FromTraced(t Traced) (Outline, *unit.Fault) {
	p, f := t.Path()
	if f != nil {
		return Outline{}, f
	}
	sharp, roles := t.sharp(), make([]Role, len(p))
	for i := range p {
		s := p.Segment(i)
		roles[i] = RoleOf(s.Normal(0.5))
		// A rounding lies off the sharp edges; what lies on one belongs to it.
		if k, at := sharp.Nearest(s.At(0.5)); t.Points[k].HasRole && at.Dist(s.At(0.5)) < onEdge {
			roles[i] = t.Points[k].Role
		}
	}
	b := p.Bounds()
	o, f := FromPath(p, roles, t.Notches...)
	o.Moved = geom.P(-(b.Min.X+b.Max.X)/2, -b.Min.Y)
	return o, f
}

// onEdge is how near in millimetres a segment's middle must lie to an edge to
// be a part of it.
const onEdge = 1e-3

// TraceOf takes a path apart into points to go on from: an arc that rounds a
// corner becomes the corner with its radius, wherever that gives the same
// shape again, every other vertex a point.
func TraceOf(p geom.Path) Traced {
	plain := Traced{}
	for i, v := range p {
		plain.Points = append(plain.Points, TracedPoint{At: v.Pt, Bow: unit.Length(p.Segment(i).Sagitta())})
	}
	if t, ok := unrounded(p); ok {
		return t
	}
	return plain
}

// unrounded gives a path's corners with their radii.
func unrounded(p geom.Path) (Traced, bool) {
	n := len(p)
	is := p.CornerArcs()
	var at []geom.Pt         // corners, each the start of an edge
	var edges []geom.Segment // and the edge that leaves it, as it was
	var radii []float64
	any := false
	for i := range p {
		s := p.Segment(i)
		switch {
		case is[i]:
			a, b := p.Segment((i+n-1)%n), p.Segment((i+1)%n)
			corner, ok := geom.Extended(a, b, s.At(0.5))
			if !ok || is[(i+1)%n] || is[(i+n-1)%n] {
				return Traced{}, false
			}
			at, radii, edges = append(at, corner), append(radii, s.Radius()), append(edges, b)
			any = true
		case is[(i+n-1)%n]: // stands with its corner
		default:
			at, radii, edges = append(at, p[i].Pt), append(radii, 0), append(edges, s)
		}
	}
	if !any || len(at) < 2 {
		return Traced{}, false
	}
	var t Traced
	for i, a := range at {
		b := at[(i+1)%len(at)]
		q := TracedPoint{At: a, Radius: unit.Length(radii[i])}
		if e := edges[i]; !e.Straight() {
			// The same circle over the longer chord; more than half a circle
			// is never extended.
			r, half := e.Radius(), a.Dist(b)/2
			if half > r || math.Abs(e.Sweep()) > math.Pi {
				return Traced{}, false
			}
			q.Bow = unit.Length(math.Copysign(half*half/(r+math.Sqrt((r-half)*(r+half))), e.Bulge))
		}
		t.Points = append(t.Points, q)
	}
	back, f := t.Path()
	if f != nil {
		return Traced{}, false
	}
	for _, q := range back.Flatten(0.1) {
		if p.Distance(q) > sameShape {
			return Traced{}, false
		}
	}
	for _, q := range p.Flatten(0.1) {
		if back.Distance(q) > sameShape {
			return Traced{}, false
		}
	}
	return t, true
}

// sameShape is how far in millimetres two paths may lie apart and be the same
// shape to a knife.
const sameShape = 0.01

// Trace turns an outline of any kind into a traced shape in its own frame,
// notches kept as notches.
func (o Outline) Trace() Traced {
	var t Traced
	if len(o.Corners) == 4 && len(o.main) == 4 {
		// A measured outline: its four corners are known.
		t = o.cornered()
	}
	if len(t.Points) == 0 {
		t = TraceOf(o.Filled)
	}
	for _, n := range o.Notches {
		t.Notches = append(t.Notches, Cut{n.Right, n.Width, n.Depth})
	}
	return t
}

// cornered gives the four corners with radii and the bows of the edges between
// them; nothing where that is not the same shape.
func (o Outline) cornered() Traced {
	var t Traced
	for i, c := range o.main {
		next := o.main[(i+1)%4]
		_, r := c.centre()
		q := TracedPoint{At: c.at, Radius: unit.Length(r)}
		// The edge between two corners: the segment nearest to the middle
		// between them, its circle taken over the whole chord.
		k, _ := o.Filled.Nearest(c.at.Mid(next.at))
		if e := o.Filled.Segment(k); !e.Straight() {
			r, half := e.Radius(), c.at.Dist(next.at)/2
			if half > r {
				return Traced{}
			}
			q.Bow = unit.Length(math.Copysign(half*half/(r+math.Sqrt((r-half)*(r+half))), e.Bulge))
		}
		t.Points = append(t.Points, q)
	}
	p, f := t.Path()
	if f != nil {
		return Traced{}
	}
	for _, q := range p.Flatten(0.1) {
		if o.Filled.Distance(q) > sameShape {
			return Traced{}
		}
	}
	return t
}
