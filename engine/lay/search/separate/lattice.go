package separate

import (
	"math"

	"slipseat/engine/lay"
)

// grain is what the pattern asks of a form in a bin: where its motif point may
// lie. Lengths are grid units, not always whole.
type grain struct {
	mx, my   float64 // motif point from the corner of the form's box
	along    bool    // bound along the goods
	across   bool    // bound across
	v, h     float64 // distance of motifs along and of columns across
	drop     float64 // share of v by which the next column starts later
	phx, phy float64
	alikeX   int // group whose shift along counts, -1 for none
	alikeY   int
}

// addGrains works out the rules of every form in every bin. Groups are counted
// in the order of the kinds.
func (m *model) addGrains() {
	m.grains = make([][]*grain, len(m.forms))
	group := map[int]int{}
	for f := range m.forms {
		m.grains[f] = make([]*grain, len(m.p.Bins))
		if m.forms[f].kind < 0 {
			continue
		}
		k := m.p.Kinds[m.forms[f].kind]
		for b := range m.p.Bins {
			l := m.p.Bins[b].Lattice
			g := &grain{along: l.Along > 0 && k.Along != lay.Free, across: l.Across > 0 && k.Across != lay.Free, alikeX: -1, alikeY: -1}
			if !g.along && !g.across {
				continue
			}
			q := k.Motif.Turned(int(m.forms[f].turn))
			g.mx, g.my = float64(q.X*perMM)+float64(m.forms[f].corner.x), float64(q.Y*perMM)+float64(m.forms[f].corner.y)
			g.v, g.h, g.drop = float64(l.Along)*perMM, float64(l.Across)*perMM, l.Drop
			g.phx, g.phy = l.Phase.X*perMM, l.Phase.Y*perMM
			if g.along && k.Along == lay.Alike {
				g.alikeX = groupOf(group, k.Group)
			}
			if g.across && k.Across == lay.Alike {
				g.alikeY = groupOf(group, k.Group)
			}
			m.grains[f][b] = g
			m.patterned = true
		}
	}
	m.groups = len(group)
}

func groupOf(seen map[int]int, id int) int {
	g, ok := seen[id]
	if !ok {
		g = len(seen)
		seen[id] = g
	}
	return g
}

// column is the column that a motif point at height v over the phase belongs
// to: the nearest one. ok is false where two are as near as the grid can tell.
func (g *grain) column(s *state, v float64) (j float64, ok bool) {
	if g.h == 0 {
		return 0, true
	}
	if g.across {
		return math.Round((v - g.shiftY(s)) / g.h), true
	}
	j = math.Round(v / g.h)
	return j, !g.along || math.Abs(math.Abs(v/g.h-j)-0.5)*g.h > 4
}

func (g *grain) shiftX(s *state) float64 {
	if g.alikeX < 0 {
		return 0
	}
	return s.shiftX[g.alikeX]
}

func (g *grain) shiftY(s *state) float64 {
	if g.alikeY < 0 {
		return 0
	}
	return s.shiftY[g.alikeY]
}

// placeX and placeY give the place in its bin of a form whose motif point lies
// on motif i of column j.
func (g *grain) placeX(s *state, i, j float64) float64 {
	return whole(g.phx + g.shiftX(s) + float64((i+float64(j*g.drop))*g.v) - g.mx)
}

func (g *grain) placeY(s *state, j float64) float64 {
	return whole(g.phy + g.shiftY(s) + float64(j*g.h) - g.my)
}

// motif is the number of the motif of column j nearest to place x.
func (g *grain) motif(s *state, x, j float64) float64 {
	return math.Round((x+g.mx-g.phx-g.shiftX(s))/g.v - float64(j*g.drop))
}

// snap moves a place of form f in bin b to the nearest one that the pattern
// allows and that lies on the goods; it tells false when there is none near.
func (s *state) snap(f, b int32, x, y float64) (float64, float64, bool) {
	bn := &s.bins[b]
	g := s.m.grains[f][bn.index]
	if g == nil {
		return x, y, true
	}
	fm := &s.m.forms[f]
	right, top := bn.length-fm.w, bn.width-fm.h
	j, ok := g.column(s, y+g.my-g.phy)
	if !ok {
		return 0, 0, false
	}
	if g.across {
		if y = g.placeY(s, j); y < 0 {
			j++
		} else if y > top {
			j--
		}
		if y = g.placeY(s, j); y < 0 || y > top {
			return 0, 0, false
		}
	}
	if g.along {
		i := g.motif(s, x-bn.x0, j)
		if x = g.placeX(s, i, j); x < 0 {
			i++
		} else if x > right {
			i--
		}
		if x = g.placeX(s, i, j); x < 0 || x > right {
			return 0, 0, false
		}
		x += bn.x0
	}
	return x, y, true
}

func whole(v float64) float64 { return math.Floor(v + 0.5) }

// onPattern tells whether piece i lies where the pattern allows.
func (s *state) onPattern(i int) bool {
	x, y, ok := s.snap(s.form[i], s.bin[i], s.x[i], s.y[i])
	return ok && x == s.x[i] && y == s.y[i]
}

// readShifts takes the groups' phases from where the pieces lie, the first
// piece of each group deciding.
func (s *state) readShifts() {
	for k := range s.shiftX {
		s.shiftX[k], s.shiftY[k] = math.NaN(), math.NaN()
	}
	// Fixed pieces first: they cannot follow.
	for k := range s.n {
		i := (k + s.free) % s.n
		if s.m.pieces[i].kind < 0 || int(s.bin[i]) >= len(s.bins) {
			continue
		}
		s.readShift(i)
	}
	for k := range s.shiftX {
		if math.IsNaN(s.shiftX[k]) {
			s.shiftX[k] = 0
		}
		if math.IsNaN(s.shiftY[k]) {
			s.shiftY[k] = 0
		}
	}
}

// readShift takes the phases of the group of piece i unless they are known.
func (s *state) readShift(i int) {
	b := &s.bins[s.bin[i]]
	g := s.m.grains[s.form[i]][b.index]
	if g == nil {
		return
	}
	u, v := s.x[i]-b.x0+g.mx-g.phx, s.y[i]+g.my-g.phy
	if g.alikeY >= 0 && math.IsNaN(s.shiftY[g.alikeY]) {
		s.shiftY[g.alikeY] = v - float64(math.Round(v/g.h)*g.h)
	}
	if g.alikeX >= 0 && math.IsNaN(s.shiftX[g.alikeX]) {
		j, _ := g.column(s, v)
		u -= float64(j * g.drop * g.v)
		s.shiftX[g.alikeX] = u - float64(math.Floor(u/g.v)*g.v)
	}
}

// newShifts gives every group new phases: mostly such that one of its forms
// touches the cut end or an edge of the goods, else any. A group with a fixed
// piece keeps its phases.
func (l *mover) newShifts() {
	s := l.s
	for k := range s.shiftX {
		if s.m.pinned(k) {
			continue
		}
		var f int
		for {
			if f = l.below(len(s.m.forms)); s.m.forms[f].kind >= 0 {
				break
			}
		}
		for b := range s.m.p.Bins {
			g := s.m.grains[f][b]
			if g == nil {
				continue
			}
			any := l.below(4) == 0
			if g.alikeX == k {
				s.shiftX[k] = g.mx - g.phx
				if any {
					s.shiftX[k] = l.unit() * g.v
				}
				s.shiftX[k] -= float64(math.Floor(s.shiftX[k]/g.v) * g.v)
			}
			if g.alikeY == k {
				v := g.my - g.phy
				if l.below(2) == 0 {
					v += onGrid(s.m.p.Bins[b].Width) - s.m.forms[f].h
				}
				if any {
					v = l.unit() * g.h
				}
				s.shiftY[k] = v - float64(math.Round(v/g.h)*g.h)
			}
		}
	}
}

// pinned tells whether a fixed piece belongs to the group.
func (m *model) pinned(k int) bool {
	for i, f := range m.p.Fixed {
		if g := m.grains[m.fixedForms[i]][f.Bin]; g != nil && (g.alikeX == k || g.alikeY == k) {
			return true
		}
	}
	return false
}
