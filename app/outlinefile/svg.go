package outlinefile

import (
	"math"
	"strings"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// readSVG reads a document into the collector.
func readSVG(data []byte, o Options, c *collector, d *Drawing) *unit.Fault {
	t, f := parseTree(data)
	if f != nil {
		return f
	}
	r := &svgReader{t: t, c: c}
	m, f := r.outermost(o, d)
	if f != nil {
		return f
	}
	r.kids(t.root, m, 0)
	return r.fault
}

// svgReader walks a tree.
type svgReader struct {
	t      *tree
	c      *collector
	count  int
	using  []*node // elements being re-used, against circles
	view   geom.Pt // size of the viewport that percentages refer to
	hidden bool    // by visibility
	fault  *unit.Fault
}

// outermost maps the user units of the outermost element to millimetres, y up
// (SVG 2 section 8.2: the initial viewport, and the equivalent transform of
// its viewBox).
func (r *svgReader) outermost(o Options, d *Drawing) (matrix, *unit.Fault) {
	root := r.t.root
	box, hasBox := numbersOf(root.attr["viewBox"], 4)
	if hasBox && !(box[2] > 0 && box[3] > 0) {
		hasBox = false
	}
	w, wSaid, okW := rootLength(root.attr["width"])
	h, hSaid, okH := rootLength(root.attr["height"])
	// Width and height are in CSS pixels. Where one is missing, the other and
	// the viewBox give it.
	switch {
	case okW && okH:
	case okW && hasBox:
		h = w * box[3] / box[2]
	case okH && hasBox:
		w = h * box[2] / box[3]
	case hasBox:
		w, h = box[2], box[3]
	default:
		w, h = max(w, 300), max(h, 150) // CSS 2.1 section 10.3.2: the size of what has none
	}
	if !(w > 0 && h > 0 && w < maxNumber && h < maxNumber) {
		return matrix{}, huge()
	}
	view, fit := geom.P(w, h), unity
	if hasBox {
		fit = viewBoxFit(box, w, h, root.attr["preserveAspectRatio"])
		view = geom.P(box[2], box[3])
	}
	r.view = view
	d.Said = wSaid || hSaid
	d.Unit = Pixel
	px := Pixel.MM()
	switch u := o.Unit; u {
	case AsFile, Pixel:
		if d.Said && u == AsFile {
			d.Unit = Millimetre
		}
	case Point:
		px, d.Unit = Point.MM(), u
	default:
		// Units of the drawing's own coordinates.
		d.Unit = u
		s := math.Sqrt(math.Abs(fit.a*fit.d - fit.b*fit.c))
		if s == 0 {
			s = 1
		}
		px = u.MM() / s
	}
	return scaled(px, -px).mul(fit), nil
}

// viewBoxFit is the map of a viewBox into a viewport of w by h (SVG 1.1
// section 7.7 and 7.8, SVG 2 section 8.6 and 8.7).
func viewBoxFit(box []float64, w, h float64, aspect string) matrix {
	sx, sy := w/box[2], h/box[3]
	align, slice := "xMidYMid", false
	if f := strings.Fields(aspect); len(f) > 0 {
		if f[0] == "defer" {
			f = f[1:]
		}
		if len(f) > 0 {
			align = f[0]
		}
		slice = len(f) > 1 && f[1] == "slice"
	}
	if align == "none" {
		return scaled(sx, sy).mul(translated(-box[0], -box[1]))
	}
	s := min(sx, sy)
	if slice {
		s = max(sx, sy)
	}
	share := func(part, axis string) float64 {
		switch {
		case strings.Contains(part, axis+"Min"):
			return 0
		case strings.Contains(part, axis+"Max"):
			return 1
		}
		return 0.5
	}
	dx := (w - box[2]*s) * share(align, "x")
	dy := (h - box[3]*s) * share(align, "Y")
	return translated(dx, dy).mul(scaled(s, s)).mul(translated(-box[0], -box[1]))
}

func (r *svgReader) kids(n *node, m matrix, depth int) {
	for _, k := range n.kids {
		r.element(k, m, depth+1)
	}
}

// element draws one element and what it holds.
func (r *svgReader) element(n *node, m matrix, depth int) {
	if r.fault != nil {
		return
	}
	if r.count++; r.count > maxElements {
		r.fault = tooMany(maxElements)
		return
	}
	if depth > maxDepth {
		r.fault = &unit.Fault{Code: CodeTooDeep, Args: []unit.Arg{unit.A("limit", maxDepth), unit.A("line", 1)}}
		return
	}
	switch n.name {
	case "text":
		r.c.leave("text")
		return
	case "image", "foreignObject":
		r.c.leave("picture")
		return
	case "defs", "clipPath", "mask", "marker", "pattern", "symbol", "metadata", "style", "script", "title", "desc", "linearGradient", "radialGradient", "filter":
		return // SVG 2 section 5.3 and 5.5: not drawn where they stand
	}
	if !r.t.shown(n) {
		r.c.leave("hidden")
		return
	}
	own, ok := transformOf(n.prop("transform"))
	if !ok {
		r.fault = &unit.Fault{Code: CodeNumber, Args: []unit.Arg{unit.A("text", named(n.prop("transform")))}}
		return
	}
	m = m.mul(own)
	was := r.hidden
	switch n.prop("visibility") {
	case "hidden", "collapse":
		r.hidden = true
	case "visible":
		r.hidden = false
	}
	defer func() { r.hidden = was }()
	switch n.name {
	case "g", "a":
		r.kids(n, m, depth)
	case "switch":
		for _, k := range n.kids { // SVG 1.1 section 5.8.2: the first that applies
			if k.attr["systemLanguage"] == "" && k.attr["requiredExtensions"] == "" && k.name != "foreignObject" {
				r.element(k, m, depth+1)
				return
			}
		}
	case "svg":
		r.viewport(n, m, depth, r.len(n, "x", 'x', 0), r.len(n, "y", 'y', 0), r.len(n, "width", 'x', r.view.X), r.len(n, "height", 'y', r.view.Y))
	case "use":
		r.use(n, m, depth)
	default:
		r.shape(n, m)
	}
}

// viewport draws a nested svg or a symbol.
func (r *svgReader) viewport(n *node, m matrix, depth int, x, y, w, h float64) {
	if !(w > 0 && h > 0) {
		return
	}
	was := r.view
	r.view = geom.P(w, h)
	m = m.mul(translated(x, y))
	if box, ok := numbersOf(n.attr["viewBox"], 4); ok && box[2] > 0 && box[3] > 0 {
		m = m.mul(viewBoxFit(box, w, h, n.attr["preserveAspectRatio"]))
		r.view = geom.P(box[2], box[3])
	}
	r.kids(n, m, depth)
	r.view = was
}

// use draws another element again (SVG 1.1 section 5.6).
func (r *svgReader) use(n *node, m matrix, depth int) {
	ref := r.t.byID[strings.TrimPrefix(strings.TrimSpace(n.attr["href"]), "#")]
	if ref == nil || !strings.HasPrefix(strings.TrimSpace(n.attr["href"]), "#") {
		r.c.leave("other")
		return
	}
	for _, u := range r.using {
		if u == ref {
			r.c.leave("other") // it holds itself
			return
		}
	}
	r.using = append(r.using, ref)
	defer func() { r.using = r.using[:len(r.using)-1] }()
	m = m.mul(translated(r.len(n, "x", 'x', 0), r.len(n, "y", 'y', 0)))
	if ref.name == "symbol" || ref.name == "svg" {
		if !r.t.shown(ref) {
			return
		}
		w, h := r.view.X, r.view.Y
		if ref.name == "svg" {
			w, h = r.len(ref, "width", 'x', w), r.len(ref, "height", 'y', h)
		}
		r.viewport(ref, m, depth+1, 0, 0, r.len(n, "width", 'x', w), r.len(n, "height", 'y', h))
		return
	}
	r.element(ref, m, depth+1)
}

// shape draws one of the basic shapes or a path.
func (r *svgReader) shape(n *node, m matrix) {
	var runs []run
	x := func(name string) float64 { return r.len(n, name, 'x', 0) }
	y := func(name string) float64 { return r.len(n, name, 'y', 0) }
	switch n.name {
	case "path":
		runs = pathRuns(n.prop("d"))
	case "rect":
		runs = r.rect(n)
	case "circle":
		if q := r.len(n, "r", 'o', 0); q > 0 {
			runs = oval(x("cx"), y("cy"), q, q)
		}
	case "ellipse":
		rx, ry := r.len(n, "rx", 'x', -1), r.len(n, "ry", 'y', -1)
		if rx < 0 { // auto
			rx = ry
		}
		if ry < 0 {
			ry = rx
		}
		if rx > 0 && ry > 0 {
			runs = oval(x("cx"), y("cy"), rx, ry)
		}
	case "line":
		runs = []run{{pieces: []piece{line(geom.P(x("x1"), y("y1")), geom.P(x("x2"), y("y2")))}}}
	case "polyline", "polygon":
		runs = polyRuns(n.attr["points"], n.name == "polygon")
	default:
		return
	}
	if r.hidden {
		r.c.leave("hidden")
		return
	}
	for _, run := range runs {
		run.name = n.id()
		if r.fault == nil {
			r.c.add(m, run)
		}
	}
}

func oval(cx, cy, rx, ry float64) []run {
	return []run{{closed: true, pieces: []piece{ellipse(geom.P(cx, cy), geom.P(rx, 0), geom.P(0, ry), 0, 2*math.Pi)}}}
}

// rect is a rectangle with its corners rounded (SVG 1.1 section 9.2).
func (r *svgReader) rect(n *node) []run {
	x, y := r.len(n, "x", 'x', 0), r.len(n, "y", 'y', 0)
	w, h := r.len(n, "width", 'x', 0), r.len(n, "height", 'y', 0)
	if !(w > 0 && h > 0) {
		return nil
	}
	rx, ry := r.len(n, "rx", 'x', -1), r.len(n, "ry", 'y', -1)
	if rx < 0 {
		rx = ry
	}
	if ry < 0 {
		ry = rx
	}
	rx, ry = min(max(rx, 0), w/2), min(max(ry, 0), h/2)
	p := geom.P
	if rx == 0 || ry == 0 {
		return []run{{closed: true, pieces: []piece{line(p(x, y), p(x+w, y)), line(p(x+w, y), p(x+w, y+h)),
			line(p(x+w, y+h), p(x, y+h)), line(p(x, y+h), p(x, y))}}}
	}
	corner := func(cx, cy, from float64) piece {
		return ellipse(p(cx, cy), p(rx, 0), p(0, ry), from*math.Pi/2, math.Pi/2)
	}
	return []run{{closed: true, pieces: []piece{
		line(p(x+rx, y), p(x+w-rx, y)), corner(x+w-rx, y+ry, 3),
		line(p(x+w, y+ry), p(x+w, y+h-ry)), corner(x+w-rx, y+h-ry, 0),
		line(p(x+w-rx, y+h), p(x+rx, y+h)), corner(x+rx, y+h-ry, 1),
		line(p(x, y+h-ry), p(x, y+ry)), corner(x+rx, y+ry, 2),
	}}}
}

// polyRuns reads a list of points; with an odd number of figures the last one
// is left out (SVG 1.1 section 9.6 and 9.7).
func polyRuns(s string, closed bool) []run {
	var pts []geom.Pt
	sc := scanner{s: s}
	for {
		x, ok := sc.number()
		if !ok {
			break
		}
		y, ok := sc.number()
		if !ok {
			break
		}
		pts = append(pts, geom.P(x, y))
	}
	out := run{closed: closed}
	for i := 1; i < len(pts); i++ {
		out.pieces = append(out.pieces, line(pts[i-1], pts[i]))
	}
	if closed && len(pts) > 1 {
		out.pieces = append(out.pieces, line(pts[len(pts)-1], pts[0]))
	}
	if sc.huge {
		out.fault = huge()
	} else if sc.skip(); sc.i < len(sc.s) {
		out.fault = sc.bad()
	}
	return []run{out}
}
