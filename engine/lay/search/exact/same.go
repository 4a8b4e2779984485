package exact

// OneWay is how far n equal pieces of l by w, all lying one way, reach on goods
// of a width: rows of as many as fit side by side. All lengths are grown by the
// gap. No lay is shorter, for any line across meets at most a row's number of
// pieces, so that the row's number of pieces later another length has begun.
func OneWay(n int, l, w, width int64) int64 {
	k := width / w
	if n == 0 || k == 0 {
		return 0
	}
	return (int64(n) + k - 1) / k * l
}

// same holds as many equal pieces as it can in a rectangle, each lying one way
// or the other: it is parted by straight cuts, or by five blocks round a
// middle one, and the parts are filled the same way (Morabito and Morales, "A
// simple and effective recursive procedure for the manufacturer's pallet
// loading problem", Journal of the Operational Research Society 49, 1998).
type same struct {
	clock *clock
	l, w  int64
	sums  []int64 // of lengths and widths: the sizes that count
	known map[[2]int64]filled
}

type filled struct {
	n              int64
	x1, x2, y1, y2 int64 // where it is parted; x1 or y1 alone for a straight cut
	turned         bool  // a plain block, lying the other way
}

func newSame(c *clock, l, w, most int64) *same {
	s := &same{clock: c, l: l, w: w, known: map[[2]int64]filled{}}
	can := make([]bool, most+1)
	can[0] = true
	for i := int64(0); i <= most; i++ {
		can[i] = can[i] || i >= l && can[i-l] || i >= w && can[i-w]
		if can[i] {
			s.sums = append(s.sums, i)
		}
	}
	return s
}

// down is the largest sum of sizes up to v.
func (s *same) down(v int64) int64 {
	lo, hi := 0, len(s.sums)
	for hi-lo > 1 {
		if m := (lo + hi) / 2; s.sums[m] <= v {
			lo = m
		} else {
			hi = m
		}
	}
	return s.sums[lo]
}

// most is how many pieces a rectangle a along by b across holds, as far as this
// kind of parting goes.
func (s *same) most(a, b int64) filled {
	a, b = s.down(a), s.down(b)
	if min(a, b) < min(s.l, s.w) || max(a, b) < max(s.l, s.w) {
		return filled{}
	}
	key := [2]int64{a, b}
	if f, ok := s.known[key]; ok {
		return f
	}
	best := filled{n: (a / s.l) * (b / s.w)}
	if n := (a / s.w) * (b / s.l); n > best.n {
		best = filled{n: n, turned: true}
	}
	limit := a * b / (s.l * s.w)
	take := func(n int64, f filled) {
		if n > best.n {
			f.n = n
			best = f
		}
	}
	// Straight cuts first: where they do, the pieces are easier to cut.
	for _, x := range s.sums {
		if x == 0 || 2*x > a || best.n >= limit {
			continue
		}
		take(s.most(x, b).n+s.most(a-x, b).n, filled{x1: x})
	}
	for _, y := range s.sums {
		if y == 0 || 2*y > b || best.n >= limit {
			continue
		}
		take(s.most(a, y).n+s.most(a, b-y).n, filled{y1: y})
	}
	for i, x1 := range s.sums {
		if x1 == 0 || x1 >= a {
			continue
		}
		for _, x2 := range s.sums[i+1:] {
			if x2 >= a || best.n >= limit {
				break
			}
			for j, y1 := range s.sums {
				if y1 == 0 || y1 >= b {
					continue
				}
				for _, y2 := range s.sums[j+1:] {
					if y2 >= b || best.n >= limit {
						break
					}
					if !s.clock.tick(1) {
						return best // not kept: another time may find more
					}
					n := int64(0)
					for _, r := range five(a, b, x1, x2, y1, y2) {
						n += s.most(r[2], r[3]).n
					}
					take(n, filled{x1: x1, x2: x2, y1: y1, y2: y2})
				}
			}
		}
	}
	s.known[key] = best
	return best
}

// five are the blocks of a rectangle: where they begin, and how long and wide
// they are.
func five(a, b, x1, x2, y1, y2 int64) [5][4]int64 {
	return [5][4]int64{
		{0, 0, x2, y1},
		{x2, 0, a - x2, y2},
		{x1, y1, x2 - x1, y2 - y1},
		{0, y1, x1, b - y1},
		{x1, y2, a - x1, b - y2},
	}
}

// at is a piece laid by same.
type at struct {
	x, y   int64
	turned bool
}

// place gives the places of the pieces in a rectangle.
func (s *same) place(out []at, x, y, a, b int64) []at {
	f := s.most(a, b)
	switch {
	case f.n == 0:
	case f.x2 > 0:
		a, b = s.down(a), s.down(b)
		for _, r := range five(a, b, f.x1, f.x2, f.y1, f.y2) {
			out = s.place(out, x+r[0], y+r[1], r[2], r[3])
		}
	case f.x1 > 0:
		a = s.down(a)
		out = s.place(out, x, y, f.x1, b)
		out = s.place(out, x+f.x1, y, a-f.x1, b)
	case f.y1 > 0:
		b = s.down(b)
		out = s.place(out, x, y, a, f.y1)
		out = s.place(out, x, y+f.y1, a, b-f.y1)
	default:
		l, w := s.l, s.w
		if f.turned {
			l, w = w, l
		}
		for i := int64(0); i < a/l; i++ {
			for j := int64(0); j < b/w; j++ {
				out = append(out, at{x + i*l, y + j*w, f.turned})
			}
		}
	}
	return out
}
