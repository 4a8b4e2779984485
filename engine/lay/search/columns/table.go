package columns

import "math"

// table is everything about one setting of the phases.
type table struct {
	m     *Model
	ph    phase
	spots []spot
	far   [][]int64 // least step along from a spot to a later one, 0 for any
	most  []int64   // the largest of these of a spot
	pots  []potential
	// sound tells that pushed-together lays are all there is to look at.
	sound bool
}

// tables makes the tables of all settings. Settings across share everything
// but the places along.
func (m *Model) tables() ([]*table, bool) {
	var out []*table
	whole := true
	seps := map[[3]int]sep{}
	for _, y := range m.acrossPhases() {
		spots := m.spotsAt(phase{across: y})
		if len(spots) > maxSpots {
			return nil, false
		}
		if !m.roomForAll(spots) {
			continue
		}
		proto := &table{m: m, spots: spots, sound: true}
		proto.measure(seps)
		proto.pots = m.potentials(spots, proto.far)
		for _, x := range m.alongPhases(spots) {
			t := *proto
			t.ph = phase{along: x, across: y}
			t.spots = append([]spot(nil), spots...)
			for i := range t.spots {
				if m.boundAlong {
					t.spots[i].base += x * perMM
				}
			}
			out = append(out, &t)
			if len(out) > maxPhases {
				return out[:maxPhases], false
			}
		}
		whole = whole && proto.sound
	}
	return out, whole
}

// roomForAll tells whether every kind has a spot on the open goods.
func (m *Model) roomForAll(spots []spot) bool {
	last := len(m.p.Bins) - 1
	for k, n := range m.count {
		room := n == 0
		for _, s := range spots {
			for b := range m.p.Bins {
				// A kind may have all its room on a piece at hand.
				room = room || m.kinds[s.kind].of == k && s.in[b] && (b == last || n > 0)
			}
		}
		if !room {
			return false
		}
	}
	return true
}

type sep struct {
	far   int64
	sound bool
}

func (t *table) measure(known map[[3]int]sep) {
	m := t.m
	n := len(t.spots)
	t.far, t.most = make([][]int64, n), make([]int64, n)
	flat := make([]int64, n*n)
	for i := range t.spots {
		t.far[i] = flat[i*n : (i+1)*n]
		a := &t.spots[i]
		for j := range t.spots {
			b := &t.spots[j]
			key := [3]int{a.kind, b.kind, int(b.column - a.column)}
			s, ok := known[key]
			if !ok {
				s.sound = true
				if lo, hi, in := forbidden(m.clashes[a.kind][b.kind], m.p.Gap.MM(), b.y-a.y); in {
					s.far = max(0, int64(math.Floor(hi*perMM)))
					s.sound = lo*perMM <= nodeSlack && hi*perMM >= -nodeSlack
				}
				known[key] = s
			}
			t.far[i][j] = s.far
			t.sound = t.sound && s.sound
			t.most[i] = max(t.most[i], s.far)
		}
	}
}

// first is the first place of a spot in a bin that is no nearer to the cut end
// than at.
func (t *table) first(s *spot, bin int, at int64) int64 {
	at = max(at, s.half)
	v := t.m.lattice.Along.MM() * perMM
	for {
		x := at
		if t.m.boundAlong {
			i := math.Ceil((float64(at-nodeSlack) - s.base) / v)
			x = int64(math.Round(s.base + float64(i*v)))
		}
		clear := true
		for _, g := range s.taken[bin] {
			if x > g.lo+nodeSlack && x < g.hi-nodeSlack {
				at, clear = g.hi, false
			}
		}
		if clear {
			return x
		}
		at = max(at, x)
	}
}
