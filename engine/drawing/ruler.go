package drawing

import (
	"math"
	"strconv"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// ruler draws a tape along one edge of goods.
type ruler struct {
	from, to float64 // model mm along the edge; the tape reads 0 at from
	first    float64 // least reading that is drawn
	level    float64 // the other coordinate of the edge
	upright  bool    // along y, ticks to the left; else along x, ticks upwards
	yards    bool    // name whole yards (metres), as for goods from the roll
	units    unit.Units
}

// tapeStep is one way to divide a tape: figures every major steps of the small
// unit, ticks at the minor ones.
type tapeStep struct{ major, mid, minor float64 }

// The divisions of tapes in inches and in centimetres, finest first.
var (
	inchSteps = [...]tapeStep{{1, 0.5, 0.25}, {2, 1, 0.5}, {3, 1, 0.5}, {6, 3, 1}, {12, 6, 3}, {36, 12, 6}, {72, 36, 12}, {180, 36, 36}, {360, 180, 36}}
	cmSteps   = [...]tapeStep{{1, 0.5, 0.1}, {2, 1, 0.5}, {5, 1, 0.5}, {10, 5, 1}, {20, 10, 5}, {50, 10, 5}, {100, 50, 10}, {200, 100, 50}, {500, 100, 50}, {1000, 500, 100}}
)

// tickLong and friends are lengths of ticks, paper millimetres.
const (
	tickLong  = 3
	tickMid   = 1.8
	tickShort = 1.1
	rulerGap  = 1.2 // between the goods and the tape's foot
	rulerRoom = rulerGap + tickLong + 5
)

// draw gives the items of the tape.
func (r ruler) draw(st Style) []Item {
	metric := r.units.Size.Metric()
	one, steps := 25.4, inchSteps[:]
	if metric {
		one, steps = 10, cmSteps[:]
	}
	least := 15.0 // paper mm between two figures
	if r.upright {
		least = 9
	}
	step := steps[len(steps)-1]
	for _, s := range steps {
		if st.Paper(s.major*one) >= least {
			step = s
			break
		}
	}
	size := st.text(Small)
	at := func(along, out float64) geom.Pt { // out: paper mm away from the goods
		if r.upright {
			return geom.P(r.level-st.Model(out), along)
		}
		return geom.P(along, r.level+st.Model(out))
	}
	var items []Item
	tick := func(along, long, width float64) {
		items = append(items, line("ruler", at(along, rulerGap), at(along, rulerGap+long), Ink2, width, Solid))
	}
	n := int(math.Floor((r.to-r.from)/(step.minor*one) + 1e-6))
	for i := int(math.Ceil(r.first/(step.minor*one) - 1e-6)); i <= n; i++ {
		v := step.minor * float64(i) // in the small unit
		along := r.from + v*one
		switch {
		case isMultiple(v, step.major):
			long := tickLong
			tick(along, float64(long), Thin)
			t := Text{Layer: "ruler", S: r.figure(v, metric), At: at(along, rulerGap+tickLong+1), Size: size, Role: Ink2, Anchor: BaseCentre}
			if r.whole(v, metric) {
				t.Weight, t.Role = Bold, Ink
			}
			if r.upright {
				t.Anchor = MidRight
			}
			items = append(items, t)
		case isMultiple(v, step.mid):
			tick(along, tickMid, Hair)
		default:
			tick(along, tickShort, Hair)
		}
	}
	return items
}

// whole tells whether a reading is a whole yard or metre of goods from the
// roll.
func (r ruler) whole(v float64, metric bool) bool {
	if !r.yards {
		return false
	}
	if metric {
		return isMultiple(v, 100)
	}
	return isMultiple(v, 36)
}

// figure writes a reading in the small unit.
func (r ruler) figure(v float64, metric bool) string {
	if r.whole(v, metric) {
		if metric {
			return strconv.Itoa(int(math.Round(v/100))) + " m"
		}
		return strconv.Itoa(int(math.Round(v/36))) + " yd"
	}
	if metric && r.units.Size == unit.Millimetres {
		return strconv.Itoa(int(math.Round(v * 10)))
	}
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}

func isMultiple(v, of float64) bool {
	q := v / of
	return math.Abs(q-math.Round(q)) < 1e-6
}
