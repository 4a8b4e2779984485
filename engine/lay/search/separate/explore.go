package separate

import (
	"cmp"
	"math"
	"slices"
)

// shorten takes d off the last stretch at cut, measured from its start: pieces
// beyond it move along. The stretch is left out when it becomes too short for
// any piece and is not needed. It tells false when it cannot be shorter.
func (l *lane) shorten(d, cut float64) bool {
	s := l.s
	m := l.m
	last := len(s.bins) - 1
	b := s.last()
	d = math.Ceil(max(1, d))
	least, dispensable := s.floor()
	length := max(least, b.length-d)
	if length >= b.length {
		return false
	}
	shortest := math.Inf(1)
	for i := range s.free {
		for _, f := range m.turns[m.pieces[i].kind] {
			shortest = min(shortest, m.forms[f].w)
		}
		if int(s.bin[i]) == last && s.x[i]-b.x0+m.forms[s.form[i]].w/2 > cut {
			s.x[i] -= b.length - length
		}
	}
	if dispensable && length < shortest {
		length = 0
	}
	for i := range s.free {
		if int(s.bin[i]) == last && m.forms[s.form[i]].w > length {
			l.scatter(i, length)
		}
	}
	if length == 0 && b.sheet > 0 {
		s.bins = s.bins[:last]
		length = s.last().length
	}
	s.setLength(length)
	return true
}

// scatter puts piece i at a random place where it fits, the last stretch
// having the given length.
func (l *lane) scatter(i int, length float64) {
	s := l.s
	type fit struct {
		form int
		bin  int32
	}
	var fits []fit
	for _, f := range l.m.turns[l.m.pieces[i].kind] {
		fm := &l.m.forms[f]
		for b := range s.bins {
			long := s.bins[b].length
			if b == len(s.bins)-1 {
				long = length
			}
			if fm.w <= long && fm.h <= s.bins[b].width {
				fits = append(fits, fit{f, int32(b)})
			}
		}
	}
	if len(fits) == 0 {
		return
	}
	to := fits[l.below(len(fits))]
	b, fm := &s.bins[to.bin], &l.m.forms[to.form]
	long := b.length
	if int(to.bin) == len(s.bins)-1 {
		long = length
	}
	s.form[i], s.bin[i] = int32(to.form), to.bin
	s.x[i] = b.x0 + math.Floor(l.unit()*(long-fm.w))
	s.y[i] = math.Floor(l.unit() * (b.width - fm.h))
}

// explore shrinks the goods by a thousandth at each success; after a failure
// it disturbs one of the failed arrangements, mostly a good one.
func (l *lane) explore() {
	s := l.s
	if !l.shrink(exploreStep, false) {
		l.rest()
		return
	}
	for !l.over() {
		if l.separate(exploreSweeps, exploreStrikes) {
			l.success()
			if !l.shrink(exploreStep, false) {
				l.rest()
				return
			}
			continue
		}
		if l.over() {
			return
		}
		if l.overtaken() {
			if !l.shrink(exploreStep, false) {
				l.rest()
				return
			}
			continue
		}
		l.keep()
		r := math.Abs(l.normal()) * 0.25
		s.load(l.pool[min(len(l.pool)-1, int(r*float64(len(l.pool))))])
		if l.m.groups > 0 && l.below(2) == 0 {
			l.newShifts()
			s.setLength(s.last().length)
		} else {
			l.swapTwo()
		}
		s.resetWeights()
	}
}

// rest waits for the end of the phase: nothing can be shorter.
func (l *lane) rest() {
	l.idle = true
	for !l.over() {
		l.s.evals = max(l.s.evals, l.limit)
		l.pause()
	}
}

// shrink sets the shortest arrangement known, made shorter by a share of all
// the goods in use, at the end or at a random place.
func (l *lane) shrink(share float64, anywhere bool) bool {
	s := l.s
	s.load(l.leader())
	s.resetWeights()
	l.pool = l.pool[:0]
	all := 0.0
	for _, b := range s.bins {
		all += b.length
	}
	cut := s.last().length
	if anywhere {
		cut *= l.unit()
	}
	return l.shorten(all*share, cut)
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
	for !l.over() {
		if !l.shrink(compressFrom+float64((compressTo-compressFrom)*l.team.share), true) {
			l.rest()
			return
		}
		if l.separate(compressSweeps, compressStrikes) {
			l.success()
		}
	}
}
