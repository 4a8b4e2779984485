package lay_test

import (
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/lay/jobs"
	"slipseat/engine/lay/search"
)

// One piece moved out of a good lay has faults by itself exactly when the whole
// lay has: both are judged by the same rules.
func TestSpotAgreesWithCheck(t *testing.T) {
	const seed = 21
	r := rand.New(rand.NewPCG(seed, 1))
	good, bad := 0, 0
	for n := range 50 {
		p := jobs.New(seed, n).Problem
		l, faults := search.First(p)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		for range 10 {
			i := r.IntN(len(l.Places))
			others := append(append([]lay.Place{}, l.Places[:i]...), l.Places[i+1:]...)
			at := l.Places[i]
			switch r.IntN(3) {
			case 0:
				at.At = at.At.Add(geom.P(r.NormFloat64()*20, r.NormFloat64()*20))
			case 1:
				at.At = geom.P(l.Length.MM()*1.2*r.Float64(), p.Bins[at.Bin].Width.MM()*r.Float64())
			}
			whole := l
			whole.Places = append(append([]lay.Place{}, others...), at)
			whole.Length, whole.Sheets = lay.Extent(p, whole.Places)
			whole.Bound, whole.SheetBound, whole.Proved = 0, 0, false
			judge, spot := lay.Check(p, whole), lay.NewSpot(p, others).Faults(at)
			if (len(judge) == 0) != (len(spot) == 0) {
				t.Fatalf("job %d: the whole lay: %v; the piece: %v", n, judge, spot)
			}
			if len(judge) == 0 {
				good++
			} else {
				bad++
			}
		}
	}
	if good < 50 || bad < 50 {
		t.Errorf("%d good and %d bad places are too few to tell", good, bad)
	}
}

func TestSpotRefusesWhatIsUnknown(t *testing.T) {
	p := jobs.New(1, 1).Problem
	for _, at := range []lay.Place{{Kind: 99}, {Copy: -1}, {Bin: 7}, {Sheet: -1}} {
		if f := lay.NewSpot(p, nil).Faults(at); len(f) != 1 || f[0].Code != lay.CodeUnknown {
			t.Errorf("%+v: %v", at, f)
		}
	}
}
