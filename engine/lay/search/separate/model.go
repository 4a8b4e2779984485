package separate

import (
	"math"
	"slices"
	"sync"

	"slipseat/engine/lay"
)

// form is a shape in one of its turns, with its box starting at (0, 0).
type form struct {
	kind   int
	turn   lay.Turn
	poly   ipoly
	parts  []ipoly
	corner ipt // where the shape's own origin lies
	w, h   float64
	area   float64
	hull   float64 // area of the convex hull
}

// link is the table of an ordered pair of forms: offset d of the pair is
// offset sign·d + (ox, oy) of the table.
type link struct {
	t            *table
	sign, ox, oy float64
}

// model is everything about a problem that does not change while it is
// solved. It is shared by all lanes.
type model struct {
	p      lay.Problem
	forms  []form  // the kinds' forms, then those of the flaws
	turns  [][]int // forms of each kind
	links  [][]link
	gap    float64
	area   float64 // of the pieces that may move
	pieces []piece // those that may move, then fixed pieces and flaws
	free   int     // how many may move
	used   []bool  // kinds of which some may move
	bins   []bin   // stretches of goods, one after the other on the x axis

	grains    [][]*grain // what the pattern asks of each form in each of the problem's bins
	patterned bool
	groups    int // groups of pieces that show the same part of the pattern

	fixedForms []int32
	flawForms  [][]flaw // of each of the problem's bins

	halt func() bool // tells that the search is to stop; nil for never
}

// piece is one copy of a kind, or an obstacle. Obstacles have a place.
type piece struct {
	kind, copy int
	form       int32
	bin        int
	x, y       float64 // in the bin
}

// bin is one stretch of goods on the axis.
type bin struct {
	x0, length, width float64
	index, sheet      int
}

func newModel(p lay.Problem, workers int) *model { return newModelUntil(p, workers, nil) }

// newModelUntil is newModel, given up when halt says so: nil then.
func newModelUntil(p lay.Problem, workers int, halt func() bool) *model {
	m := newShapes(p)
	m.halt = halt
	var want []int
	for f := range m.forms {
		if k := m.forms[f].kind; k < 0 || m.used[k] && slices.Contains(m.turns[k], f) || slices.Contains(m.fixedForms, int32(f)) {
			want = append(want, f)
		}
	}
	if m.makeLinks(want, workers); m.halted() {
		return nil
	}
	m.setSheets(m.sheetsNeeded())
	return m
}

// halted tells whether the search is to stop.
func (m *model) halted() bool { return m.halt != nil && m.halt() }

// newShapes is a model without tables.
func newShapes(p lay.Problem) *model {
	m := &model{p: p, gap: math.Ceil(float64(p.Gap)*perMM - 1e-6)}
	for k, kind := range p.Kinds {
		m.addKind(k, kind)
	}
	m.used = make([]bool, len(p.Kinds))
	held := map[[2]int]bool{}
	for _, f := range p.Fixed {
		held[[2]int{f.Kind, f.Copy}] = true
	}
	for k, kind := range p.Kinds {
		for c := range kind.Count {
			if !held[[2]int{k, c}] {
				m.pieces = append(m.pieces, piece{kind: k, copy: c})
				m.area += m.forms[m.turns[k][0]].area
				m.used[k] = true
			}
		}
	}
	m.free = len(m.pieces)
	m.addFixedForms()
	m.addGrains()
	return m
}

// addKind makes the forms of a kind: one for each turn, and those of turns
// that only fixed pieces have.
func (m *model) addKind(k int, kind lay.Kind) {
	base := gridPolygon(kind.Shape)
	parts := convexParts(base)
	var of []int
	for t := lay.Turn(0); t < 4; t++ {
		if !kind.Turns.Has(t) {
			continue
		}
		of = append(of, len(m.forms))
		m.forms = append(m.forms, makeForm(k, t, base, parts))
	}
	// Turns in which the shape fits no stretch of goods are not tried.
	if fit := slices.DeleteFunc(slices.Clone(of), func(f int) bool { return !m.fitsSome(f) }); len(fit) > 0 {
		of = fit
	}
	m.turns = append(m.turns, of)
}

// fitsSome tells whether a form's box fits some bin.
func (m *model) fitsSome(f int) bool {
	for _, b := range m.p.Bins {
		if m.forms[f].h <= onGrid(b.Width) && (b.Length == 0 || m.forms[f].w <= onGrid(b.Length)) {
			return true
		}
	}
	return false
}

func makeForm(k int, t lay.Turn, base ipoly, parts []ipoly) form {
	poly, corner := base.turned(uint8(t))
	f := form{kind: k, turn: t, poly: poly, corner: corner, area: float64(base.area2()) / 2, hull: float64(base.hull().area2()) / 2}
	_, hi := poly.box()
	f.w, f.h = float64(hi.x), float64(hi.y)
	for _, q := range parts {
		r := make(ipoly, len(q))
		for i, v := range q {
			r[i] = v.turned(uint8(t)).add(corner)
		}
		f.parts = append(f.parts, r)
	}
	return f
}

// makeLinks builds the tables of the wanted forms, so many at a time. The
// ordered pair (b, a) at offset −d is the pair (a, b) at d; both pieces given
// half a turn are the same pair again, at the offset between the opposite
// corners of their boxes. So one table stands for up to four ordered pairs.
func (m *model) makeLinks(want []int, workers int) {
	m.links = make([][]link, len(m.forms))
	for i := range m.links {
		m.links[i] = make([]link, len(m.forms))
	}
	wanted := make([]bool, len(m.forms))
	for _, f := range want {
		wanted[f] = true
	}
	stands := func(i, j int) (pair [2]int, l link) {
		a, b := &m.forms[i], &m.forms[j]
		u, v := m.halfTurned(i), m.halfTurned(j)
		dx, dy := a.w-b.w, a.h-b.h
		pair, l = [2]int{i, j}, link{sign: 1}
		try := func(p, q int, sign, ox, oy float64) {
			if p >= 0 && q >= 0 && wanted[p] && wanted[q] && (p < pair[0] || p == pair[0] && q < pair[1]) {
				pair, l = [2]int{p, q}, link{sign: sign, ox: ox, oy: oy}
			}
		}
		try(j, i, -1, 0, 0)
		try(u, v, -1, dx, dy)
		try(v, u, 1, -dx, -dy)
		return pair, l
	}
	var todo [][2]int
	for _, i := range want {
		for _, j := range want {
			if pair, _ := stands(i, j); pair == [2]int{i, j} && (m.moves(i) || m.moves(j)) {
				todo = append(todo, pair)
			}
		}
	}
	var wg sync.WaitGroup
	workers = max(1, min(workers, len(todo)))
	for w := range workers {
		wg.Go(func() {
			for k := w; k < len(todo) && !m.halted(); k += workers {
				i, j := todo[k][0], todo[k][1]
				a, b := &m.forms[i], &m.forms[j]
				m.links[i][j] = link{sign: 1, t: newTable(a, b, m.gap, pairSeverity(a, b))}
			}
		})
	}
	wg.Wait()
	for _, i := range want {
		for _, j := range want {
			pair, l := stands(i, j)
			l.t = m.links[pair[0]][pair[1]].t
			m.links[i][j] = l
		}
	}
}

// moves tells whether a form is that of a piece that may move.
func (m *model) moves(f int) bool {
	k := m.forms[f].kind
	return k >= 0 && m.used[k] && slices.Contains(m.turns[k], f)
}

// halfTurned is the form of the same kind half a turn on, -1 for none.
func (m *model) halfTurned(i int) int {
	if m.forms[i].kind < 0 {
		return -1
	}
	for _, j := range m.turns[m.forms[i].kind] {
		if m.forms[j].turn == (m.forms[i].turn+2)&3 {
			return j
		}
	}
	return -1
}
