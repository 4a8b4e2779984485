package plan

import (
	"cmp"
	"math"
	"slices"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Proposal is a set of glue-ups that saves sheets of one foam. It is never
// imposed: the user takes it over or leaves it.
type Proposal struct {
	Foam          string
	GlueUps       []GlueUp
	Before, After int        // sheets; Before is 0 when not all blanks can be cut in one piece
	Saving        unit.Money // sheets saved, less the adhesive for the joints; never below 0 with Before
	Joints        unit.Area

	// Problem and Lay show that it can be cut so: the lay of the job with the
	// glue-ups taken over.
	Problem lay.Problem
	Lay     lay.Lay
}

// Some lays as many pieces as find a place and names those that are missing.
type Some func(lay.Problem) (lay.Lay, []lay.Place)

// Proposals looks for glue-ups in every foam that may be glued, the dearest
// saving first.
func (p *Plan) Proposals(some Some) []Proposal {
	var out []Proposal
	for i := range p.Goods {
		if g := &p.Goods[i]; g.Sheet != nil && g.Sheet.Glue.Allow {
			if q, ok := p.propose(g, some); ok {
				out = append(out, q)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Proposal) int { return cmp.Compare(b.Saving, a.Saving) })
	return out
}

// propose looks for the fewest sheets that glue-ups make do with, and among as
// few for the fewest parts. Pieces that are held in place are not glued anew.
func (p *Plan) propose(g *GoodsPlan, some Some) (Proposal, bool) {
	if len(g.Problem.Fixed) > 0 || len(g.Kinds) == 0 || len(g.Sheet.Check()) > 0 {
		return Proposal{}, false
	}
	length, width := g.Sheet.Marked(p.In.Step).Usable()
	before := math.MaxInt
	if g.Lay != nil {
		before = g.Lay.Sheets
	} else if !p.tooLarge(g, length, width) {
		return Proposal{}, false // not laid yet, or without a place for another reason
	}
	s := &gluer{p: p, g: g, some: some, gap: float64(g.Problem.Gap), step: p.In.Step.MM()}
	s.least = g.Sheet.Glue.MinWidth.MM()
	s.keep = g.Sheet.Glue.KeepOff.MM()
	if s.keep <= 0 {
		s.keep = cloth.UsualKeepOff.MM()
	}
	most := before - 1
	if before == math.MaxInt {
		most = s.areaBound() + 3
	}
	for n := s.areaBound(); n <= most; n++ {
		q, ok := s.within(n)
		if !ok {
			continue
		}
		q.After = n
		if before != math.MaxInt {
			q.Before = before
			q.Saving = g.Sheet.Price*unit.Money(before-n) - p.glueCost(q.Joints)
			if q.Saving < 0 {
				continue
			}
		}
		return q, true
	}
	return Proposal{}, false
}

// glueCost is what the adhesive for joints costs, as a part of a can.
func (p *Plan) glueCost(joints unit.Area) unit.Money {
	if a := p.In.Adhesive; a != nil && a.Coverage > 0 {
		return unit.Money(math.Ceil(float64(joints/a.Coverage) * float64(a.Each)))
	}
	return 0
}

// tooLarge tells whether some blank fits no sheet and no offcut whole.
func (p *Plan) tooLarge(g *GoodsPlan, length, width unit.Length) bool {
	for i := range g.Problem.Kinds {
		if w, d := g.box(i); max(w, d) > max(length, width).MM()+thin || min(w, d) > min(length, width).MM()+thin {
			return true
		}
	}
	return false
}

// box is the size of a kind's shape as it lies at turn 0.
func (g *GoodsPlan) box(kind int) (w, d float64) {
	b := g.Problem.Kinds[kind].Shape.Bounds()
	return b.W(), b.H()
}

// gluer looks for glue-ups in one foam.
type gluer struct {
	p     *Plan
	g     *GoodsPlan
	some  Some
	gap   float64
	step  float64
	least float64 // no part narrower; 0 for the usual figure
	tried int     // places so far
	keep  float64 // joints keep off the front edge and the centre line
}

// areaBound is the fewest sheets that the area of all pieces needs, offcuts
// taken off.
func (s *gluer) areaBound() int {
	area := 0.0
	for _, k := range s.g.Problem.Kinds {
		area += k.Shape.Area() * float64(k.Count)
	}
	for _, b := range s.g.Problem.Bins[:len(s.g.Problem.Bins)-1] {
		area -= b.Length.MM() * b.Width.MM()
	}
	last := s.g.Problem.Bins[len(s.g.Problem.Bins)-1]
	return max(1, int(math.Ceil(area/(last.Length.MM()*last.Width.MM())-1e-9)))
}

// within looks for glue-ups with which n sheets do: some blanks are set aside,
// the others laid whole, and what is set aside or finds no place is cut into
// the rests.
func (s *gluer) within(n int) (Proposal, bool) {
	base := s.g.Problem
	base.Bins = slices.Clone(base.Bins)
	base.Bins[len(base.Bins)-1].Sheets = n
	base.Step = 0
	var best Proposal
	found := false
	s.tried = 0
	for _, aside := range s.asides() {
		if s.tried > allTries {
			break
		}
		q := base
		q.Kinds = slices.Clone(base.Kinds)
		for _, k := range aside {
			q.Kinds[k].Count--
		}
		fits := true
		for i, k := range q.Kinds {
			if k.Count > 0 && !s.fits(i, q.Bins) {
				fits = false
			}
		}
		if !fits {
			continue
		}
		l, missing := s.some(q)
		var todo []lay.Place
		count := map[int]int{} // equal kinds set aside are the last copies
		for _, k := range aside {
			todo = append(todo, lay.Place{Kind: k, Copy: q.Kinds[k].Count + count[k]})
			count[k]++
		}
		todo = append(todo, missing...)
		if len(todo) == 0 || len(todo) > maxGlued || found && len(todo) > len(best.GlueUps) {
			continue
		}
		if prop, ok := s.split(base, l, todo); ok && (!found || parts(prop) < parts(best)) {
			best, found = prop, true
			if len(prop.GlueUps) == 1 && len(prop.GlueUps[0].At) == 1 {
				break // no fewer are possible
			}
		}
	}
	return best, found
}

// maxGlued is how many blanks of one foam are glued at most; more joints than
// that are more work than a sheet is worth.
const maxGlued = 6

func parts(q Proposal) int {
	n := 0
	for _, g := range q.GlueUps {
		n += 1 + len(g.At)
	}
	return n
}

func (s *gluer) fits(kind int, bins []lay.Bin) bool {
	w, d := s.g.box(kind)
	for _, b := range bins {
		l, x := b.Length.MM()+thin, b.Width.MM()+thin
		if w <= l && d <= x || d <= l && w <= x {
			return true
		}
	}
	return false
}

// asides lists which kinds are set aside, one copy for each time they stand in
// a list: those that fit nothing in any case, with none, one or two others.
func (s *gluer) asides() [][]int {
	var must, may []int
	for i, k := range s.g.Problem.Kinds {
		switch {
		case k.Count <= 0:
		case !s.fits(i, s.g.Problem.Bins):
			for range k.Count {
				must = append(must, i)
			}
		case s.g.Kinds[i].Glued == 0:
			may = append(may, i)
		}
	}
	out := [][]int{must}
	with := func(more ...int) { out = append(out, append(slices.Clone(must), more...)) }
	for _, i := range may {
		with(i)
	}
	for n, i := range may {
		for _, k := range may[n:] {
			if k != i || s.g.Problem.Kinds[i].Count > 1 {
				with(i, k)
			}
		}
	}
	for n, i := range may {
		for m, k := range may[n:] {
			for _, o := range may[n+m:] {
				count := map[int]int{}
				ok := true
				for _, x := range [...]int{i, k, o} {
					count[x]++
					ok = ok && count[x] <= s.g.Problem.Kinds[x].Count
				}
				if ok && len(out) < maxAsides {
					with(i, k, o)
				}
			}
		}
	}
	return out[:min(len(out), maxAsides)]
}

// maxAsides bounds how many ways of setting blanks aside are tried.
const maxAsides = 90

// cutPart is a part of a blank in its place.
type cutPart struct {
	length float64 // in the direction that the joints divide
	room   int
	box    geom.Rect
	turned bool // a quarter turn
}

// cutBlank is a blank divided, its parts in the order in which they are glued.
type cutBlank struct {
	at          lay.Place
	frontToBack bool
	parts       []cutPart
}

// split cuts the blanks that found no place into the rests of a lay, the
// largest first.
func (s *gluer) split(base lay.Problem, l lay.Lay, todo []lay.Place) (Proposal, bool) {
	slices.SortStableFunc(todo, func(a, b lay.Place) int {
		return cmp.Compare(s.area(b.Kind), s.area(a.Kind))
	})
	for _, at := range todo {
		if s.g.Kinds[at.Kind].Glued > 0 {
			return Proposal{}, false // a part is not divided again
		}
	}
	rooms := s.rooms(base, l)
	tries := 0
	cuts, ok := s.divide(rooms, todo, &tries)
	s.tried += tries
	if !ok {
		return Proposal{}, false
	}
	return s.proposal(base, l, cuts)
}

func (s *gluer) area(kind int) float64 { w, d := s.g.box(kind); return w * d }

func (s *gluer) rooms(p lay.Problem, l lay.Lay) []*room {
	var out []*room
	for b, bin := range p.Bins {
		for sheet := range max(1, bin.Sheets) {
			r := newRoom(b, sheet, bin.Length.MM(), bin.Width.MM())
			for _, at := range l.Places {
				if at.Bin == b && at.Sheet == sheet {
					r = r.put(p.Placed(at).Bounds(), s.gap)
				}
			}
			out = append(out, r)
		}
	}
	return out
}

// maxTries bounds the search for one set of blanks, allTries that for all of
// them.
const (
	maxTries = 5_000
	allTries = 60_000
)

// divide finds places for the parts of all blanks, one blank after the other,
// going back where the next finds none.
func (s *gluer) divide(rooms []*room, todo []lay.Place, tries *int) ([]cutBlank, bool) {
	if len(todo) == 0 {
		return nil, true
	}
	w, d := s.g.box(todo[0].Kind)
	for most := 1; most <= 3; most++ {
		for dir := range 2 {
			b := cutBlank{at: todo[0], frontToBack: dir == 0}
			length, cross := w, d
			if !b.frontToBack {
				length, cross = d, w
			}
			least := s.leastPart(length)
			var rec func(rooms []*room, left float64, parts []cutPart) ([]cutBlank, bool)
			place := func(rooms []*room, x float64, parts []cutPart, next func([]*room, []cutPart) ([]cutBlank, bool)) ([]cutBlank, bool) {
				pw, pd := x, cross
				if !b.frontToBack {
					pw, pd = cross, x
				}
				for _, sp := range spots(rooms, pw, pd, 4) {
					if *tries++; *tries > maxTries {
						return nil, false
					}
					bw, bd := pw, pd
					if sp.turned {
						bw, bd = pd, pw
					}
					box := geom.Rect{Min: sp.at, Max: sp.at.Add(geom.P(bw, bd))}
					now := slices.Clone(rooms)
					now[sp.room] = now[sp.room].put(box, s.gap)
					if out, ok := next(now, append(parts[:len(parts):len(parts)], cutPart{x, sp.room, box, sp.turned})); ok {
						return out, true
					}
				}
				return nil, false
			}
			rec = func(rooms []*room, left float64, done []cutPart) ([]cutBlank, bool) {
				if len(done) == most-1 {
					return place(rooms, left, done, func(now []*room, parts []cutPart) ([]cutBlank, bool) {
						ordered, ok := s.ordered(parts, b.frontToBack, length)
						if !ok {
							return nil, false
						}
						rest, ok := s.divide(now, todo[1:], tries)
						if !ok {
							return nil, false
						}
						one := b
						one.parts = ordered
						return append([]cutBlank{one}, rest...), true
					})
				}
				after := float64(most-1-len(done)) * least
				for _, x := range s.lengths(rooms, cross, left, length, least, left-after, b.frontToBack) {
					if out, ok := place(rooms, x, done, func(now []*room, parts []cutPart) ([]cutBlank, bool) {
						return rec(now, left-x, parts)
					}); ok {
						return out, true
					}
				}
				return nil, false
			}
			if most == 1 && dir == 1 {
				continue // in one piece there is no direction
			}
			if out, ok := rec(rooms, length, nil); ok {
				return out, true
			}
		}
	}
	return nil, false
}

func (s *gluer) leastPart(length float64) float64 {
	if s.least > 0 {
		return s.least
	}
	return min(cloth.UsualGlueLeast.MM(), length/3)
}

// lengths lists how long a part may be made: as long as each free rectangle
// allows, or just so long that the rest fits one; on whole marking steps, the
// longest first. Near the middle of a seat it gives way to the centre line.
func (s *gluer) lengths(rooms []*room, cross, left, length, least, most float64, frontToBack bool) []float64 {
	var out []float64
	add := func(x float64) {
		if s.step > 0 {
			x = math.Floor(x/s.step+1e-6) * s.step
		}
		if x >= least-thin && x <= most+thin && !slices.ContainsFunc(out, func(o float64) bool { return math.Abs(o-x) < thin }) {
			out = append(out, x)
		}
	}
	offer := func(x float64) {
		x = min(x, most)
		add(x)
		if !frontToBack {
			add(min(x, left-s.keep))
			return
		}
		for _, mid := range [...]float64{length / 2, left - length/2} {
			if math.Abs(x-mid) < s.keep {
				add(mid - s.keep)
				add(math.Ceil((mid+s.keep)/max(s.step, thin)-1e-6) * max(s.step, thin))
			}
		}
	}
	for _, r := range rooms {
		for _, f := range r.free {
			for _, side := range [...][2]float64{{f.W(), f.H()}, {f.H(), f.W()}} {
				if cross <= side[0]+thin {
					offer(side[1])
					if rest := left - side[1]; rest > 0 {
						offer(math.Ceil(rest/max(s.step, thin)-1e-6) * max(s.step, thin))
					}
				}
			}
		}
	}
	slices.SortFunc(out, func(a, b float64) int { return cmp.Compare(b, a) })
	out = out[:min(len(out), 8)]
	// Then what leaves room beside a part for the side of another blank, or
	// for a part of its own size.
	first := len(out)
	for _, r := range rooms {
		for _, f := range r.free {
			for _, side := range [...]float64{f.W(), f.H()} {
				offer(side / 2)
				offer(side / 3)
				for i := range s.g.Problem.Kinds {
					w, d := s.g.box(i)
					for _, v := range [...]float64{w, d} {
						offer(side - v - s.gap)
						offer(left - side + v + s.gap)
					}
				}
			}
		}
	}
	slices.SortFunc(out[first:], func(a, b float64) int { return cmp.Compare(b, a) })
	return out[:min(len(out), 20)]
}

// ordered puts parts in an order in which the joints keep off the centre line
// (those from front to back) or the front edge (those from side to side).
func (s *gluer) ordered(parts []cutPart, frontToBack bool, length float64) ([]cutPart, bool) {
	if len(parts) == 1 {
		return parts, true
	}
	var try func(done, rest []cutPart, at float64) ([]cutPart, bool)
	try = func(done, rest []cutPart, at float64) ([]cutPart, bool) {
		if len(rest) == 0 {
			return done, true
		}
		for i, c := range rest {
			next := at + c.length
			if len(rest) > 1 {
				if frontToBack && math.Abs(next-length/2) < s.keep-thin || !frontToBack && next < s.keep-thin {
					continue
				}
			}
			others := append(slices.Clone(rest[:i]), rest[i+1:]...)
			if out, ok := try(append(done[:len(done):len(done)], c), others, next); ok {
				return out, true
			}
		}
		return nil, false
	}
	return try(nil, parts, 0)
}

// proposal writes what was found as glue-ups, and makes the lay that shows it.
// It fails where the true shapes of the parts do not obey after all.
func (s *gluer) proposal(base lay.Problem, l lay.Lay, cuts []cutBlank) (Proposal, bool) {
	q := Proposal{Foam: s.g.ID}
	for _, c := range cuts {
		if len(c.parts) == 1 {
			continue
		}
		k := s.g.Kinds[c.at.Kind]
		g := GlueUp{Seat: s.p.Seats[k.Seat].ID, Layer: k.Blank.Layer, Piece: s.g.Number(c.at), FrontToBack: c.frontToBack}
		at := 0.0
		for _, part := range c.parts[:len(c.parts)-1] {
			at += part.length
			g.At = append(g.At, unit.Length(at))
		}
		q.GlueUps = append(q.GlueUps, g)
	}
	if len(q.GlueUps) == 0 {
		return q, false // a better lay of whole blanks, which is for the search to find
	}
	in := s.p.In
	in.GlueUps = append(slices.Clone(in.GlueUps), q.GlueUps...)
	after := &Plan{In: in, Seats: s.p.Seats}
	g, _ := after.sheet(s.g.Sheet, nil, func(lay.ProblemID) (lay.Lay, bool) { return lay.Lay{}, false })
	if len(g.Faults) > 0 {
		return q, false
	}
	q.Problem, q.Joints = g.Problem, after.jointsOf(g)
	used := map[lay.Place]bool{}
	put := func(was lay.Place, glued int, bin, sheet int, turn lay.Turn, corner *geom.Pt, at geom.Pt) bool {
		k := s.g.Kinds[was.Kind]
		number := s.g.Number(was)
		for i, o := range g.Kinds {
			group := slices.Index(o.Numbers, number)
			if o.Seat != k.Seat || o.Blank.Layer != k.Blank.Layer || o.Glued != glued || group < 0 {
				continue
			}
			for c := range max(1, o.Blank.Count) {
				id := lay.Place{Kind: i, Copy: group*max(1, o.Blank.Count) + c}
				if used[id] {
					continue
				}
				used[id] = true
				p := lay.Place{Kind: id.Kind, Copy: id.Copy, Bin: bin, Sheet: sheet, Turn: turn, At: at}
				if corner != nil {
					box := g.Problem.Kinds[i].Shape.Turned(int(turn)).Bounds()
					p.At = corner.Sub(box.Min)
				}
				q.Lay.Places = append(q.Lay.Places, p)
				return true
			}
		}
		return false
	}
	for _, at := range l.Places {
		if !put(at, s.g.Kinds[at.Kind].Glued, at.Bin, at.Sheet, at.Turn, nil, at.At) {
			return q, false
		}
	}
	rooms := s.rooms(base, l)
	for _, c := range cuts {
		for i, part := range c.parts {
			glued, turn := i+1, lay.Turn(0)
			if len(c.parts) == 1 {
				glued = 0
			}
			if part.turned {
				turn = 1
			}
			r := rooms[part.room]
			if !put(c.at, glued, r.bin, r.sheet, turn, &part.box.Min, geom.Pt{}) {
				return q, false
			}
		}
	}
	q.Lay.Length, q.Lay.Sheets = lay.Extent(q.Problem, q.Lay.Places)
	lay.Bounded(q.Problem, &q.Lay)
	return q, len(lay.Check(q.Problem, q.Lay)) == 0
}

// jointsOf is the area of the glued joints of one foam.
func (p *Plan) jointsOf(g GoodsPlan) unit.Area {
	var sum unit.Area
	for i, k := range g.Kinds {
		if g.Sheet == nil || k.Glued == 0 || k.Spoiled > 0 {
			continue
		}
		for _, l := range k.Blank.Lines {
			if l.Kind == buildup.LineJoint {
				sum += unit.Area(l.Path[0].Pt.Dist(l.Path[1].Pt)*g.Sheet.Thickness.MM()*float64(g.Problem.Kinds[i].Count)) / 2
			}
		}
	}
	return sum
}
