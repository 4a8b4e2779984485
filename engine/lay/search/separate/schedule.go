package separate

import "math"

// schedule says when the lanes explore and when they compress.
type schedule struct {
	total int64 // slices of each lane, 0 for no end
	ends  []int64
}

// firstRound is the number of slices of the first round and roundGrow how much
// longer each next one is, when no end is known.
const (
	firstRound = 20
	roundGrow  = 1.6
)

func newSchedule(evaluations int64) schedule {
	p := schedule{}
	if evaluations > 0 {
		p.total = max(1, (evaluations+slice*lanes-1)/(slice*lanes))
		explore := int64(math.Round(float64(p.total) * (1 - compressShare)))
		p.ends = []int64{explore, p.total}
	}
	return p
}

// at gives the phase that follows after so many slices, how much of it has
// passed, and whether the search is over.
func (p *schedule) at(step int64) (phase int, share float64, ended bool) {
	if p.total > 0 && step >= p.total {
		return 0, 1, true
	}
	from := int64(0)
	for {
		if phase == len(p.ends) {
			p.ends = append(p.ends, from+p.longer(phase))
		}
		if step < p.ends[phase] {
			return phase, float64(step-from) / float64(p.ends[phase]-from), false
		}
		from = p.ends[phase]
		phase++
	}
}

// longer is the length of a phase when no end is known.
func (p *schedule) longer(phase int) int64 {
	round := firstRound * math.Pow(roundGrow, float64(phase/2))
	if phase%2 == 0 {
		round *= 1 - compressShare
	} else {
		round *= compressShare
	}
	return max(1, int64(round))
}
