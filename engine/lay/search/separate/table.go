package separate

import "math"

// cellsPerSide is the number of cells along each side of a table. More cells
// mean fewer planes to test near the edge and more memory to walk through.
const cellsPerSide = 32

// cornersPerSide is the number of corners of cells along a side.
const cornersPerSide = cellsPerSide + 1

const (
	cellOut = 0 // no offset in the cell collides
	cellIn  = 1 // every offset collides: the loss is interpolated
	cellLow = 2 // first code that means "edge cell": number code - cellLow
)

// table answers, for one ordered pair of turned shapes a and b, how much they
// overlap when b's corner lies at offset d from a's. The forbidden offsets are
// the union of the no-fit regions of their convex parts. The table's box is
// divided into cells: most are wholly clear or wholly forbidden, and the
// others list the few planes that matter there.
type table struct {
	ox, oy float64 // low corner of the box, whole
	kx, ky float64 // cells per grid unit
	cells  *[cellsPerSide * cellsPerSide]uint16
	inner  *[cornersPerSide * cornersPerSide]float32 // loss at the corners of cells
	edges  []edgeCell
	lists  []uint16 // parts in the cell, then for each: how many planes, and which
	sev    severity
	planes []plane
	parts  []span  // planes of each part
	w, h   float64 // size of the box, whole
}

type span struct{ from, to int }

// edgeCell is a cell that the border of the forbidden region runs through.
type edgeCell struct {
	list  uint32
	width float32 // overlap area per depth around here
}

// clear tells exactly whether two shapes at this offset do not overlap.
func (t *table) clear(dx, dy int64) bool {
	for _, s := range t.parts {
		out := false
		for i := s.from; i < s.to && !out; i++ {
			out = t.planes[i].clearOf(dx, dy)
		}
		if !out {
			return false
		}
	}
	return true
}

// loss is the loss of a pair of weight 1 at an offset of whole grid units. It
// is above 0 exactly when the shapes overlap.
func (t *table) loss(dx, dy float64) float64 {
	ux, uy := (dx-t.ox)*t.kx, (dy-t.oy)*t.ky
	if !(ux > 0 && uy > 0 && ux < cellsPerSide && uy < cellsPerSide) {
		return 0
	}
	code := t.cells[int(uy)*cellsPerSide+int(ux)]
	if code == cellOut {
		return 0
	}
	return t.within(code, ux, uy, dx, dy)
}

// within is the loss in a cell that is not wholly clear; (ux, uy) is the
// offset counted in cells.
func (t *table) within(code uint16, ux, uy, dx, dy float64) float64 {
	if code != cellIn {
		e := &t.edges[code-cellLow]
		d := t.edgeDepth(e.list, dx, dy)
		if d == 0 {
			return 0
		}
		return t.sev.of(d*float64(e.width), d)
	}
	ix, iy := int(ux), int(uy)
	n := iy*cornersPerSide + ix
	fx, fy := ux-float64(ix), uy-float64(iy)
	a, b := float64(t.inner[n]), float64(t.inner[n+1])
	c, d := float64(t.inner[n+cornersPerSide]), float64(t.inner[n+cornersPerSide+1])
	low := a + float64(fx*(b-a))
	return low + float64(fy*(c+float64(fx*(d-c))-low))
}

// edgeDepth is the depth of an offset in an edge cell, 0 when it is clear: the
// largest depth over the parts that the cell lists.
func (t *table) edgeDepth(list uint32, dx, dy float64) float64 {
	l := t.lists[list:]
	depth := 0.0
	at := 1
	for range l[0] {
		n := int(l[at])
		idx := l[at+1 : at+1+n]
		at += 1 + n
		m := math.Inf(-1)
		for _, i := range idx {
			if s := t.planes[i].side(dx, dy); s > m {
				if m = s; s >= 0 {
					break
				}
			}
		}
		if -m > depth {
			depth = -m
		}
	}
	return depth
}
