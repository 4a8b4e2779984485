package separate

import (
	"cmp"
	"math"
	"slices"
)

// Steps by which the goods are shortened, as shares of their length.
const (
	exploreStep  = 0.001
	compressFrom = 0.0005
	compressTo   = 0.00001
)

// shorten takes d off the last stretch at cut, measured from its start: pieces
// beyond it move along.
func (l *lane) shorten(d, cut float64) {
	s := l.s
	b := s.last()
	d = math.Ceil(d)
	for i := range s.free {
		if int(s.bin[i]) == len(s.bins)-1 && s.x[i]-b.x0+l.m.forms[s.form[i]].w/2 > cut {
			s.x[i] -= d
		}
	}
	s.setLength(max(0, b.length-d))
}

// explore shrinks the goods by a thousandth at each success; after a failure
// it disturbs one of the failed arrangements, mostly a good one.
func (l *lane) explore() {
	s := l.s
	l.shrink()
	for !l.over() {
		if l.separate(200, 3) {
			l.success()
			l.shrink()
			continue
		}
		if l.over() {
			return
		}
		if l.overtaken() {
			l.shrink()
			continue
		}
		l.keep()
		r := math.Abs(l.normal()) * 0.25
		s.load(l.pool[min(len(l.pool)-1, int(r*float64(len(l.pool))))])
		l.swapTwo()
		s.resetWeights()
	}
}

// shrink sets the shortest arrangement known, made a little shorter.
func (l *lane) shrink() {
	l.s.load(l.leader())
	l.s.resetWeights()
	l.pool = l.pool[:0]
	l.shorten(l.s.last().length*exploreStep, l.s.last().length)
}

// keep puts the present arrangement into the pool, in order of loss.
func (l *lane) keep() {
	k := &snapshot{}
	l.s.save(k)
	at, _ := slices.BinarySearchFunc(l.pool, k, func(a, b *snapshot) int { return cmp.Compare(a.total, b.total) })
	l.pool = slices.Insert(l.pool, at, k)
}

func (l *lane) normal() float64 {
	return math.Sqrt(-2*math.Log(1-l.unit())) * math.Cos(2*math.Pi*l.unit())
}

// swapTwo exchanges two large pieces of different kinds and carries the small
// ones inside each along.
func (l *lane) swapTwo() {
	s := l.s
	big := l.large()
	i := big[l.below(len(big))]
	var others []int
	for _, j := range big {
		if l.m.pieces[j].kind != l.m.pieces[i].kind {
			others = append(others, j)
		}
	}
	if len(others) == 0 {
		return
	}
	j := others[l.below(len(others))]
	fi, fj := &l.m.forms[s.form[i]], &l.m.forms[s.form[j]]
	cix, ciy := s.x[i]+fi.w/2, s.y[i]+fi.h/2
	cjx, cjy := s.x[j]+fj.w/2, s.y[j]+fj.h/2
	for k := range s.free {
		if k == i || k == j {
			continue
		}
		f := &l.m.forms[s.form[k]]
		if f.hull > min(fi.hull, fj.hull)*0.5 {
			continue
		}
		cx, cy := s.x[k]+f.w/2, s.y[k]+f.h/2
		switch {
		case s.x[i] < cx && cx < s.x[i]+fi.w && s.y[i] < cy && cy < s.y[i]+fi.h:
			s.bin[k] = s.bin[j]
			s.x[k] += math.Floor(cjx - cix)
			s.y[k] += math.Floor(cjy - ciy)
		case s.x[j] < cx && cx < s.x[j]+fj.w && s.y[j] < cy && cy < s.y[j]+fj.h:
			s.bin[k] = s.bin[i]
			s.x[k] += math.Floor(cix - cjx)
			s.y[k] += math.Floor(ciy - cjy)
		}
	}
	s.bin[i], s.bin[j] = s.bin[j], s.bin[i]
	s.x[i], s.y[i] = math.Floor(cjx-fi.w/2), math.Floor(cjy-fi.h/2)
	s.x[j], s.y[j] = math.Floor(cix-fj.w/2), math.Floor(ciy-fj.h/2)
	s.setLength(s.last().length)
}

// large gives the pieces whose hulls make up the upper three quarters of the
// cumulated area.
func (l *lane) large() []int {
	idx := make([]int, l.s.free)
	sum := 0.0
	for i := range idx {
		idx[i] = i
		sum += l.m.forms[l.s.form[i]].hull
	}
	slices.SortStableFunc(idx, func(a, b int) int {
		ha, hb := l.m.forms[l.s.form[a]].hull, l.m.forms[l.s.form[b]].hull
		switch {
		case ha > hb:
			return -1
		case ha < hb:
			return 1
		}
		return 0
	})
	part := 0.0
	for k, i := range idx {
		if part += l.m.forms[l.s.form[i]].hull; part >= 0.75*sum {
			return idx[:k+1]
		}
	}
	return idx
}

// compress shortens the best arrangement at random cuts, by less and less.
func (l *lane) compress() {
	s := l.s
	for !l.over() {
		s.load(l.leader())
		s.resetWeights()
		step := compressFrom + (compressTo-compressFrom)*l.team.share
		l.shorten(s.last().length*step, l.unit()*s.last().length)
		if l.separate(100, 5) {
			l.success()
		}
	}
}
