package separate

import "slices"

// capped keeps weights from overflowing.
const capped = 1e6

// reweigh makes pairs that overlap heavier and lets the others decay.
func (s *state) reweigh() {
	worst := 0.0
	for _, k := range s.heavy {
		worst = max(worst, s.loss[k])
	}
	if worst == 0 {
		return
	}
	rest := s.heavy[:0]
	for _, k := range s.heavy {
		v, w := s.loss[k], s.weight[k]
		if v > 0 {
			w = min(capped, w*(lighter+float64((heavier-lighter)*v/worst)))
		} else if w = w * decay; w <= 1 {
			w = 1
			s.known[k] = false
		}
		i, j := int(k)/s.n, int(k)%s.n
		s.weight[k], s.weight[j*s.n+i] = w, w
		if s.known[k] {
			rest = append(rest, k)
		}
	}
	s.heavy = rest
}

// snapshot is the places of all pieces and the loss there.
type snapshot struct {
	bins   []bin
	bin    []int32
	form   []int32
	x, y   []float64
	total  float64
	shiftX []float64
	shiftY []float64
}

func (s *state) save(k *snapshot) {
	k.total = s.total
	k.bins, k.bin = append(k.bins[:0], s.bins...), append(k.bin[:0], s.bin...)
	k.form = append(k.form[:0], s.form...)
	k.x, k.y = append(k.x[:0], s.x...), append(k.y[:0], s.y...)
	k.shiftX, k.shiftY = append(k.shiftX[:0], s.shiftX...), append(k.shiftY[:0], s.shiftY...)
}

func (k *snapshot) clone() snapshot {
	c := *k
	c.bins, c.bin, c.form = slices.Clone(k.bins), slices.Clone(k.bin), slices.Clone(k.form)
	c.x, c.y = slices.Clone(k.x), slices.Clone(k.y)
	c.shiftX, c.shiftY = slices.Clone(k.shiftX), slices.Clone(k.shiftY)
	return c
}

func (s *state) load(k *snapshot) {
	copy(s.form, k.form)
	copy(s.x, k.x)
	copy(s.y, k.y)
	copy(s.shiftX, k.shiftX)
	copy(s.shiftY, k.shiftY)
	copy(s.bin, k.bin)
	s.bins = append(s.bins[:0], k.bins...)
	s.setLength(s.last().length)
	s.sum()
}

// sweep moves every colliding piece once, in random order.
func (m *mover) sweep(order []int) {
	s := m.s
	order = order[:0]
	for i := range s.free {
		if s.hits[i] > 0 {
			order = append(order, i)
		}
	}
	for k := len(order) - 1; k > 0; k-- {
		j := m.below(k + 1)
		order[k], order[j] = order[j], order[k]
	}
	for _, i := range order {
		if s.hits[i] > 0 {
			m.move(i)
			if m.halt != nil && m.halt() {
				return
			}
		}
	}
}

// separate removes all overlap or gives up; on failure the state holds the
// arrangement with the least loss.
func (l *lane) separate(patience, strikes int) bool {
	s := l.s
	order := make([]int, 0, s.n)
	var best snapshot
	s.sum()
	if s.total == 0 {
		return true
	}
	s.save(&best)
	struck := 0
	for struck < strikes {
		idle := 0
		began := best.total
		for idle < patience {
			spent := s.evals
			if l.sweep(order); s.evals == spent {
				// Nothing could be tried: that costs too, so that a lane which
				// finds only such arrangements comes to the end of its budget.
				s.evals += int64(s.free + 1)
			}
			if s.sum() == 0 {
				return true
			}
			s.reweigh()
			if s.total < best.total {
				if s.total < 0.98*best.total {
					idle = 0
				}
				s.save(&best)
			} else {
				idle++
			}
			if l.pause() {
				break
			}
		}
		if l.over() {
			break
		}
		if best.total > 0.98*began {
			struck++
		} else {
			struck = 0
		}
		s.load(&best)
	}
	s.load(&best)
	return false
}
