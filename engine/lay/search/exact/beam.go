package exact

import (
	"math"
	"slices"
)

// beam looks for good places along the goods the quick way: piece by piece from
// the cut end, keeping only so many arrangements with equally many pieces, those
// that promise the shortest lay by the weights of what is still to come. It
// proves nothing.
type beam struct {
	*task
	clock  *clock
	weight weight
	width  int
	below  int64 // lays that reach so far are of no use
	levels [][]stage
}

// stage is an arrangement of some pieces: those of its parent and one more.
type stage struct {
	parent int32
	opt    int32
	line   int64      // where the last piece begins
	left   []int16    // by size: pieces to come
	stand  []standing // pieces that reach beyond the line, nearest end first
	owed   int64      // what the pieces to come weigh
	end    int64
}

// promise is a stage that may be built.
type promise struct {
	parent, opt int32
	line        int64
	least       int64 // bound on the reach of a whole lay, times the weight's most
	end         int64
}

func newBeam(t *task, c *clock, w weight, width int, below int64) *beam {
	return &beam{task: t, clock: c, weight: w, width: width, below: below}
}

// run gives complete sets of places along the goods, the shortest first.
func (b *beam) run(most int) [][]spot {
	first := stage{parent: -1}
	for s, n := range b.count {
		first.left = append(first.left, int16(n))
		first.owed += int64(n) * b.weight.each[s]
	}
	level := []stage{first}
	var promises []promise
	for range b.n {
		b.levels = append(b.levels, level)
		promises = promises[:0]
		for i := range level {
			promises = b.promises(promises, int32(i), &level[i])
			if b.clock.stopped || b.clock.used >= b.clock.limit {
				return nil
			}
		}
		slices.SortFunc(promises, func(p, q promise) int {
			switch {
			case p.least != q.least:
				return sign(p.least - q.least)
			case p.end != q.end:
				return sign(p.end - q.end)
			case p.parent != q.parent:
				return int(p.parent - q.parent)
			case p.line != q.line:
				return sign(p.line - q.line)
			}
			return int(p.opt - q.opt)
		})
		seen := map[hash]bool{}
		var next []stage
		for _, p := range promises {
			if len(next) == b.width {
				break
			}
			s := b.build(&level[p.parent], p)
			h := newHash()
			for _, n := range s.left {
				h.add(int64(n))
			}
			for _, st := range s.stand {
				h.add(st.end - s.line)
				h.add(b.opts[st.opt].w)
			}
			if seen[h] {
				continue
			}
			seen[h] = true
			next = append(next, s)
		}
		if level = next; len(level) == 0 {
			return nil
		}
	}
	b.levels = append(b.levels, level)
	slices.SortStableFunc(level, func(p, q stage) int { return sign(p.end - q.end) })
	var out [][]spot
	for i := range level {
		if len(out) == most {
			break
		}
		out = append(out, b.spots(&level[i]))
	}
	return out
}

func sign(v int64) int {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// promises appends the stages that may follow: a piece at the line or at one
// where a piece ends.
func (b *beam) promises(out []promise, parent int32, s *stage) []promise {
	w := &b.weight
	free, over := b.task.w, int64(0) // over: what stands beyond the line weighs
	for _, st := range s.stand {
		free -= b.opts[st.opt].w
		over += w.of[st.opt] * (st.end - s.line)
	}
	line := s.line
	for k := 0; ; k++ {
		for i, o := range b.opts {
			if s.left[o.size] == 0 || o.w > free {
				continue
			}
			b.clock.tick(1)
			p := promise{parent: parent, opt: int32(i), line: line, end: max(s.end, line+o.l)}
			p.least = line*w.most + s.owed + over + w.of[i]*o.l - w.each[o.size]
			p.least = max(p.least, p.end*w.most)
			if p.least < b.below*w.most && p.end < b.below {
				out = append(out, p)
			}
		}
		if k == len(s.stand) {
			return out
		}
		// On to where the next piece ends.
		to := s.stand[k].end
		for _, st := range s.stand[k:] {
			over -= w.of[st.opt] * (to - line)
		}
		line = to
		free += b.opts[s.stand[k].opt].w
		for k+1 < len(s.stand) && s.stand[k+1].end == to {
			k++
			free += b.opts[s.stand[k].opt].w
		}
	}
}

func (b *beam) build(from *stage, p promise) stage {
	o := b.opts[p.opt]
	s := stage{parent: p.parent, opt: p.opt, line: p.line, left: slices.Clone(from.left), owed: from.owed - b.weight.each[o.size], end: p.end}
	s.left[o.size]--
	at := false
	for _, st := range from.stand {
		if st.end <= p.line {
			continue
		}
		if mine := (standing{p.line + o.l, int(p.opt)}); !at && (mine.end < st.end || mine.end == st.end && mine.opt < st.opt) {
			s.stand, at = append(s.stand, mine), true
		}
		s.stand = append(s.stand, st)
	}
	if !at {
		s.stand = append(s.stand, standing{p.line + o.l, int(p.opt)})
	}
	return s
}

// spots follows a stage back to the first piece.
func (b *beam) spots(s *stage) []spot {
	var out []spot
	for n := b.n; n > 0; n-- {
		out = append(out, spot{opt: int(s.opt), x: s.line})
		s = &b.levels[n-1][s.parent]
	}
	slices.Reverse(out)
	return out
}

const (
	// beamFirst is the width of the first beam, beamMore by how much the next is
	// wider, beamLast the widest; beamStacks is how many of its places along are
	// tried across.
	beamFirst  = 32
	beamMore   = 8
	beamLast   = 1 << 14
	beamStacks = 12
)

// beams looks with one beam for a shorter lay than is known.
func (l *Lane) beams(t *task, w weight, width int) {
	if !l.whole || l.in.RowsOnly() || l.done() || width > beamLast {
		return
	}
	b := newBeam(t, &l.clock, w, width, min(l.known, math.MaxInt64>>26))
	for _, spots := range b.run(beamStacks) {
		reach := int64(0)
		for _, s := range spots {
			reach = max(reach, s.x+t.opts[s.opt].l)
		}
		if reach >= l.known {
			return
		}
		limit := l.clock.limit
		l.clock.allow(stackBudget)
		ok, _ := t.stack(spots, &l.clock)
		l.clock.limit = limit
		if ok {
			l.found(t, spots, reach)
		}
	}
}
