package search

import (
	"context"
	"slices"
	"sync"

	"slipseat/engine/lay"
	"slipseat/engine/lay/search/bars"
	"slipseat/engine/lay/search/columns"
	"slipseat/engine/lay/search/exact"
	"slipseat/engine/lay/search/separate"
	"slipseat/engine/lay/search/skyline"
	"slipseat/engine/unit"
)

// Options says how long and from where a search runs.
type Options struct {
	Seed uint64
	// Evaluations is how many places of pieces are tried before the search
	// ends by itself; 0 for no end but a proof or the context. Two cores try
	// some ten million a second.
	Evaluations int64
	// Workers is how many goroutines may run; 0 reads as 1. It changes only
	// the time taken.
	Workers int
	// Report, when set, is given every better lay as it is found, from one
	// goroutine at a time, never after Improve has returned.
	Report func(lay.Lay)
}

const (
	// lanes is the fixed number of lines of search, whatever the workers.
	lanes = 2
	// roundBudget is how many evaluations a lane makes between two barriers:
	// some tens of milliseconds.
	roundBudget = 200_000
	// boxShare is how many evaluations shaped pieces are laid by their boxes,
	// a fraction of a second, before the polygons take over from there.
	boxShare = 2_000_000
)

// Improve looks for lays better than start, as long as the options and the
// context allow, and gives the best: shortest first, and of equally short ones
// the one that is easier to cut. When start is no valid lay of the problem it
// begins with First's. The answer always passes lay.Check unless there is no
// lay at all, when start comes back.
//
// The same problem, start, seed and number of evaluations give the same lay at
// any number of workers; cancelling gives the best of the last complete round.
func Improve(ctx context.Context, p lay.Problem, start lay.Lay, opt Options) lay.Lay {
	s, ok := newSearch(p, start, opt)
	if !ok {
		return start
	}
	defer s.proof.Close()
	if !s.done(ctx) {
		s.columns(ctx)
	}
	total := s.opt.Evaluations
	if !s.done(ctx) {
		s.bars(ctx, total/barShare)
	}
	if s.shaped() && !p.RowsOnly {
		s.opt.Evaluations = boxShare
		if total > 0 {
			s.opt.Evaluations = min(boxShare, total/4)
		}
	}
	for !s.done(ctx) {
		if !s.round(ctx) {
			break
		}
	}
	if s.opt.Evaluations = total; s.shaped() && !p.RowsOnly && !s.done(ctx) {
		s.separate(ctx)
	}
	s.best.Seed, s.best.Evaluations = opt.Seed, s.used
	return s.best
}

// search is the state between two barriers.
type search struct {
	p     lay.Problem
	in    *skyline.Instance
	opt   Options
	best  lay.Lay
	score skyline.Score
	lanes []skyline.Lane
	proof *exact.Lane // one of the lanes
	used  int64
}

func newSearch(p lay.Problem, start lay.Lay, opt Options) (*search, bool) {
	if len(p.Validate()) > 0 {
		return nil, false
	}
	s := &search{p: p, in: skyline.New(p), opt: opt, best: start}
	s.proof = exact.NewLane(s.in)
	if len(start.Places) == 0 && s.in.N > 0 || len(lay.Check(p, start)) > 0 {
		first, faults := First(p)
		if len(faults) > 0 {
			return nil, false
		}
		s.best = first
	}
	lay.Bounded(p, &s.best)
	s.best.Claim(p, exact.Bound(p, s.in), 0)
	s.score = scoreOf(p, s.best)
	return s, true
}

// scoreOf is a lay's score by its true outlines.
func scoreOf(p lay.Problem, l lay.Lay) skyline.Score {
	s := skyline.Score{Length: skyline.Units(l.Length)}
	if p.Bins[len(p.Bins)-1].Sheets == 0 {
		s.Sheets = l.Sheets
	}
	return s
}

func (s *search) done(ctx context.Context) bool {
	return s.best.Proved || s.in.N == 0 || ctx.Err() != nil || s.opt.Evaluations > 0 && s.used >= s.opt.Evaluations
}

// shaped tells whether there are pieces that are no boxes.
func (s *search) shaped() bool {
	for _, k := range s.p.Kinds {
		if k.Count > 0 && !k.Square {
			return true
		}
	}
	return false
}

// separate hands over to the polygon search until the budget is used up, the
// context ends or a lay is proved.
func (s *search) separate(ctx context.Context) {
	inner, stop := context.WithCancel(ctx)
	defer stop()
	opt := separate.Options{Seed: s.opt.Seed, Workers: max(1, s.opt.Workers)}
	if s.opt.Evaluations > 0 {
		opt.Evaluations = s.opt.Evaluations - s.used
	}
	before := s.used
	opt.Report = func(l lay.Lay) {
		s.used = before + l.Evaluations
		if s.take(l) && s.best.Proved {
			stop()
		}
	}
	l := separate.Improve(inner, s.p, s.best, opt)
	s.used = max(s.used, before+opt.Evaluations)
	if ctx.Err() != nil || s.best.Proved {
		s.used = before + l.Evaluations
	}
	s.take(l)
}

// columnShare is the part of the budget that goes to the search over columns
// of motifs; without a budget it has columnBudget.
const (
	columnShare  = 2
	columnBudget = 20_000_000
)

// columns looks for the shortest lay, and for its proof, on goods whose
// pattern says where a piece lies across.
func (s *search) columns(ctx context.Context) {
	m := columns.New(s.p)
	if m == nil {
		return
	}
	budget := int64(columnBudget)
	if s.opt.Evaluations > 0 {
		budget = s.opt.Evaluations / columnShare
	}
	if m.Whole() {
		s.runColumns(ctx, m, budget, false)
	} else {
		s.runColumns(ctx, m, budget/2, false)
	}
	if s.done(ctx) || m.Whole() && !s.p.RowsOnly {
		return
	}
	// A proof without the flaws, and without rows, is one with them, too.
	p := s.p
	p.RowsOnly = false
	p.Bins = slices.Clone(p.Bins)
	if !m.Whole() {
		for i := range p.Bins {
			p.Bins[i].Flaws = nil
		}
	}
	if m := columns.New(p); m.Whole() {
		s.runColumns(ctx, m, budget/2, true)
	}
}

func (s *search) runColumns(ctx context.Context, m *columns.Model, budget int64, proof bool) {
	out := m.Run(s.best.Length, columns.Options{Seed: s.opt.Seed, Evaluations: budget, Stop: func() bool { return ctx.Err() != nil }, Take: s.take, Proof: proof})
	s.used += out.Used
	s.best.Claim(s.p, out.Bound, 0)
}

// barShare is the part of the budget that goes to the places along the goods
// alone; without a budget they have barBudget.
const (
	barShare  = 4
	barBudget = 4_000_000
)

// bars proves what follows from the places along the goods alone, and looks
// for lays of squared pieces that way.
func (s *search) bars(ctx context.Context, budget int64) {
	if s.in.Plain && s.in.Squared() {
		return // done better elsewhere
	}
	m := bars.New(s.p)
	if m == nil {
		return
	}
	if s.opt.Evaluations == 0 {
		budget = barBudget
	}
	out := m.Run(s.best.Length, bars.Options{Seed: s.opt.Seed, Evaluations: budget, Stop: func() bool { return ctx.Err() != nil }, Take: func(spots []bars.Spot) (unit.Length, bool) {
		puts := make([]skyline.Put, len(spots))
		for i, u := range spots {
			puts[i] = skyline.Put{Kind: u.Kind, Way: s.in.WayOf(u.Kind, lay.Turn(u.Turn)), Bin: u.Bin, X: u.X, Y: u.Y}
		}
		l := s.in.Lay(puts)
		return l.Length, s.take(l)
	}})
	s.used += out.Used
	s.best.Claim(s.p, out.Bound, 0)
}

// start makes the lanes when the first round needs them.
func (s *search) start(stop func() bool) {
	for i := range lanes {
		if s.in.Plain && !s.p.RowsOnly {
			s.lanes = append(s.lanes, skyline.NewListLane(s.in, s.opt.Seed, i))
		} else {
			s.lanes = append(s.lanes, skyline.NewOrderLane(s.in, s.opt.Seed, i, stop))
		}
	}
	s.proof.Heard(s.score)
	s.lanes = append(s.lanes, s.proof)
}

// round runs every lane once, then takes the best of them. It is false when
// the context ended it; what the lanes found in it then does not count.
func (s *search) round(ctx context.Context) bool {
	stop := func() bool { return ctx.Err() != nil }
	if s.lanes == nil {
		s.start(stop)
	}
	budget := int64(roundBudget)
	if s.opt.Evaluations > 0 {
		n := int64(len(s.lanes))
		budget = max(1, min(budget, (s.opt.Evaluations-s.used+n-1)/n))
	}
	used := make([]int64, len(s.lanes))
	s.inParallel(func(i int) {
		used[i] = s.lanes[i].Step(budget, stop)
	})
	if ctx.Err() != nil {
		return false
	}
	for i := range s.lanes {
		s.used += used[i]
		s.consider(i)
	}
	for _, l := range s.lanes {
		l.Heard(s.score)
	}
	s.best.Claim(s.p, s.proof.Bound(), 0)
	return true
}

func (s *search) inParallel(do func(i int)) {
	if s.opt.Workers <= 1 {
		for i := range s.lanes {
			do(i)
		}
		return
	}
	var wg sync.WaitGroup
	for i := range s.lanes {
		wg.Go(func() { do(i) })
	}
	wg.Wait()
}

// consider looks at a lane's best lay.
func (s *search) consider(lane int) {
	puts, score, ok := s.lanes[lane].Best()
	if !ok || !score.Less(s.score) {
		return
	}
	s.take(s.in.Lay(puts))
}

// take makes a lay the best one when it beats the one that stands, and the
// judge has nothing against it.
func (s *search) take(l lay.Lay) bool {
	if !scoreOf(s.p, l).Less(s.score) {
		return false
	}
	l.Bound, l.SheetBound = s.best.Bound, s.best.SheetBound
	lay.Bounded(s.p, &l)
	if len(lay.Check(s.p, l)) > 0 {
		return false
	}
	l.Seed, l.Evaluations = s.opt.Seed, s.used
	s.best, s.score = l, scoreOf(s.p, l)
	if s.opt.Report != nil {
		s.opt.Report(l)
	}
	return true
}
