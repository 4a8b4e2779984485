package exact

import "math"

// program is a small linear program: the greatest gain·x with rows·x <= limits
// and x >= 0. It is kept as a dictionary, every basic variable and the gain
// written in those that are not, so that rows can be added to a solved program
// (Chvatal, "Linear Programming", 1983, chapters 2 and 10).
type program struct {
	n     int
	gain  []float64   // of the variables that are not basic
	rows  [][]float64 // basic = limit - row · not basic
	limit []float64
	basic []int // by row: variable, from n on the slack of a row
	other []int // by column
	where []int // by variable: row, or -1-column
}

func newProgram(n int) *program {
	p := &program{n: n, gain: make([]float64, n)}
	for i := range n {
		p.other = append(p.other, i)
		p.where = append(p.where, -1-i)
	}
	return p
}

// add adds row·x <= limit.
func (p *program) add(row []float64, limit float64) {
	out := make([]float64, p.n)
	for v, a := range row {
		if a == 0 {
			continue
		}
		if w := p.where[v]; w < 0 {
			out[-1-w] += a
		} else {
			limit -= float64(a * p.limit[w])
			for j, b := range p.rows[w] {
				out[j] -= float64(a * b)
			}
		}
	}
	p.basic = append(p.basic, p.n+len(p.rows))
	p.where = append(p.where, len(p.rows))
	p.rows, p.limit = append(p.rows, out), append(p.limit, limit)
}

func (p *program) pivot(r, c int) {
	row := p.rows[r]
	inv := 1 / row[c]
	for j := range row {
		row[j] *= inv
	}
	row[c] = inv
	p.limit[r] *= inv
	for i, other := range p.rows {
		if i == r || other[c] == 0 {
			continue
		}
		f := other[c]
		for j := range other {
			other[j] -= float64(f * row[j])
		}
		other[c] = -float64(f * inv)
		p.limit[i] -= float64(f * p.limit[r])
	}
	if f := p.gain[c]; f != 0 {
		for j := range p.gain {
			p.gain[j] -= float64(f * row[j])
		}
		p.gain[c] = -float64(f * inv)
	}
	p.basic[r], p.other[c] = p.other[c], p.basic[r]
	p.where[p.basic[r]], p.where[p.other[c]] = r, -1-c
}

const (
	pivotNoise = 1e-9
	mostPivots = 4000
	// patience is how many pivots are made by the steepest column before the
	// first column that gains is taken, which never goes round in circles.
	patience = 500
)

// solve makes the limits right if rows were added, then the gain greatest. It
// is false when it gives up.
func (p *program) solve() bool {
	for n := 0; n < mostPivots; n++ {
		if r, c, done := p.mend(); r >= 0 {
			if c < 0 {
				return false
			}
			p.pivot(r, c)
			continue
		} else if !done {
			return false
		}
		c := -1
		for j, g := range p.gain {
			if g > pivotNoise && (c < 0 || n < patience && g > p.gain[c] || n >= patience && p.other[j] < p.other[c]) {
				c = j
			}
		}
		if c < 0 {
			return true
		}
		r := -1
		for i, row := range p.rows {
			if row[c] <= pivotNoise {
				continue
			}
			if r < 0 {
				r = i
				continue
			}
			a, b := p.limit[i]/row[c], p.limit[r]/p.rows[r][c]
			if a < b || a == b && p.basic[i] < p.basic[r] {
				r = i
			}
		}
		if r < 0 {
			return false
		}
		p.pivot(r, c)
	}
	return false
}

// mend finds the pivot that repairs the most broken limit, while the gains are
// all spent.
func (p *program) mend() (r, c int, done bool) {
	r = -1
	for i, b := range p.limit {
		if b < -pivotNoise && (r < 0 || b < p.limit[r]) {
			r = i
		}
	}
	if r < 0 {
		return -1, -1, true
	}
	c = -1
	best := math.Inf(1)
	for j, a := range p.rows[r] {
		if a < -pivotNoise {
			if q := p.gain[j] / a; q < best {
				best, c = q, j
			}
		}
	}
	return r, c, false
}

// values are the unknowns.
func (p *program) values() []float64 {
	x := make([]float64, p.n)
	for v := range x {
		if w := p.where[v]; w >= 0 {
			x[v] = p.limit[w]
		}
	}
	return x
}
