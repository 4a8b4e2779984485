package lay

import "slices"

// A dual-feasible function u grades chords by their length so that chords that
// fit side by side across the goods never have a grade above 1 together. Then
// the grades of all pieces, summed up along the goods, never exceed the length
// of the lay (Fekete and Schepers, "New classes of fast lower bounds for bin
// packing problems", Mathematical Programming 91, 2001; Martello, Monaci and
// Vigo, "An exact approach to the strip-packing problem", INFORMS Journal on
// Computing 15, 2003).
//
// Here u is a list of stretches of even growth, in units of 50 nm. It never
// falls.
type dual []stretch

type stretch struct {
	from     float64 // chords of this length and more, up to the next stretch
	v, slope float64
}

// identity grades a chord by its share of the width: the area bound.
func identity(w int64) dual { return dual{{0, 0, 1 / float64(w)}} }

// share is u_k: a chord longer than j parts of k+1 is worth j/k.
func share(w int64, k int64) dual {
	u := dual{{0, 0, 0}}
	for j := int64(1); j <= k; j++ {
		u = append(u, stretch{float64(j*w/(k+1) + 1), float64(j) / float64(k), 0})
	}
	return u
}

// without is U_e: chords shorter than e count nothing, those that leave less
// than e the whole width.
func without(w, e int64) dual {
	return dual{{0, 0, 0}, {float64(e), float64(e) / float64(w), 1 / float64(w)}, {float64(w-e) + 1, 1, 0}}
}

// counted is phi_e: as many pieces of size e as a chord displaces.
func counted(w, e int64) dual {
	most := w / e
	u := dual{{0, 0, 0}, {float64(e), 1 / float64(most), 0}}
	// Above a half: 1 - floor((w-c)/e)/most steps up whenever w-c falls below a
	// multiple of e.
	for n := (w - w/2 - 1) / e; n >= 0; n-- {
		from := max(w/2+1, w-(n+1)*e+1)
		v := 1 - float64(n)/float64(most)
		if last := u[len(u)-1]; float64(from) == last.from {
			u[len(u)-1].v = v
		} else {
			u = append(u, stretch{float64(from), v, 0})
		}
	}
	return u
}

// at is the grade of one chord.
func (u dual) at(c float64) float64 {
	i, _ := slices.BinarySearchFunc(u, c, func(s stretch, c float64) int {
		if s.from <= c {
			return -1
		}
		return 1
	})
	if i == 0 {
		return 0
	}
	s := u[i-1]
	return s.v + s.slope*(c-s.from)
}

// grade is the integral of u along a profile, in millimetres.
func (u dual) grade(p profile) float64 {
	sum := 0.0
	for _, r := range p {
		a, b := r.a, r.b
		if a > b {
			a, b = b, a
		}
		if b-a < flat {
			// Whole units, rounded down: a chord counts as the units it covers.
			sum += r.dx * u.at(floorUnits(a))
			continue
		}
		sum += r.dx * u.over(a, b) / (b - a)
	}
	return sum
}

// over is the integral of u from chord a to chord b.
func (u dual) over(a, b float64) float64 {
	sum := 0.0
	for i, s := range u {
		lo, hi := max(a, s.from), b
		if i+1 < len(u) {
			hi = min(hi, u[i+1].from)
		}
		if lo < hi {
			sum += (hi - lo) * (s.v + s.slope*((lo+hi)/2-s.from))
		}
	}
	return sum
}
