package separate

import (
	"math/rand/v2"
	"sync/atomic"
)

// lanes is the number of lines of search. It is part of the answer: the same
// seed with another number of lanes gives another lay. Workers only execute
// lanes.
const lanes = 2

// slice is the number of evaluations that a lane makes between two barriers:
// some 20 ms.
const slice = 100_000

// lane is one line of search. It runs on a goroutine of its own and gives up
// control at a barrier after every slice of evaluations; only there do lanes
// learn from each other.
type lane struct {
	mover
	m     *model
	id    int
	team  *team
	best  snapshot // shortest arrangement without overlap of this lane
	limit int64    // evaluations at which the lane waits
	phase int      // the phase that the lane is in
	pool  []*snapshot
	idle  bool // nothing can be shorter than what the lane knows
}

// team is what the lanes share. Its fields are written by the coordinator
// while all lanes wait.
type team struct {
	lanes    []*lane
	arrive   chan *lane
	resume   [lanes]chan struct{}
	workers  chan struct{}
	canceled atomic.Bool
	ended    bool
	phase    int     // even phases explore, odd ones compress
	share    float64 // how much of the phase has passed
	best     snapshot
}

func newTeam(m *model, start *snapshot, o Options) *team {
	t := &team{arrive: make(chan *lane), workers: make(chan struct{}, max(1, min(lanes, o.Workers)))}
	t.best = start.clone()
	for id := range lanes {
		t.resume[id] = make(chan struct{})
		l := &lane{m: m, id: id, team: t, limit: slice, best: start.clone()}
		l.mover = mover{s: newState(m), rng: rand.NewPCG(o.Seed, uint64(id)), halt: t.canceled.Load}
		t.lanes = append(t.lanes, l)
	}
	return t
}

// run is the life of a lane.
func (l *lane) run() {
	l.team.workers <- struct{}{}
	for !l.team.ended && !l.team.canceled.Load() {
		l.phase = l.team.phase
		l.idle = false
		if l.phase%2 == 0 {
			l.explore()
		} else {
			l.compress()
		}
	}
	<-l.team.workers
	l.team.arrive <- nil
}

// pause is called between sweeps: it waits at the barrier when the lane's
// slice is used up, and tells whether the lane's phase is over.
func (l *lane) pause() bool {
	for l.s.evals >= l.limit && !l.team.canceled.Load() {
		<-l.team.workers
		l.team.arrive <- l
		<-l.team.resume[l.id]
		l.team.workers <- struct{}{}
		l.limit += slice
	}
	return l.over()
}

// over tells whether the lane's phase has ended.
func (l *lane) over() bool {
	return l.team.ended || l.phase != l.team.phase || l.team.canceled.Load()
}

// overtaken tells whether another lane already has an arrangement as short as
// the one this lane is trying for.
func (l *lane) overtaken() bool { return !l.s.shorterThan(&l.team.best) }

// success records an arrangement without overlap. One that is no better or
// that the exact test refuses costs a sweep's worth of places, so that a lane
// that finds only such ones comes to the end of its budget.
func (l *lane) success() {
	s := l.s
	s.trim()
	if s.shorterThan(&l.best) && s.legal() {
		s.save(&l.best)
		return
	}
	s.evals += int64(s.free) * refusedPlaces
	l.pause()
}

// refusedPlaces is about what one piece costs in a sweep.
const refusedPlaces = 180

// leader is the shortest arrangement that the lane knows.
func (l *lane) leader() *snapshot {
	if l.team.best.shorterThan(&l.best) {
		return &l.team.best
	}
	return &l.best
}

// shorterThan compares the number of stretches, then the length of the last.
func (s *state) shorterThan(k *snapshot) bool { return shorter(s.bins, k.bins) }

func (k *snapshot) shorterThan(o *snapshot) bool { return shorter(k.bins, o.bins) }

func shorter(a, b []bin) bool {
	if len(a) != len(b) {
		return len(a) < len(b)
	}
	return a[len(a)-1].length < b[len(b)-1].length
}
