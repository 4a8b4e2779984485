package plan

import (
	"strconv"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// lot is a blank with the numbers of the seats that it is cut for.
type lot struct {
	blank   buildup.Blank
	numbers []int
	glued   int
}

// lots lists what is cut from goods for one kind of seat.
func (p *Plan) lots(s SeatPlan, goods string, foam bool) ([]lot, []unit.Fault) {
	var out []lot
	var faults []unit.Fault
	for _, b := range s.Result.Blanks {
		if b.Goods != goods || (b.Part == buildup.PartFoam) != foam || b.Count <= 0 || len(b.Path) == 0 {
			continue
		}
		if !foam {
			out = append(out, lot{blank: b, numbers: upTo(s.Count, nil)})
			continue
		}
		own := map[int]bool{}
		var singles []lot
		for _, o := range s.Own {
			if i := layer(o.Result, b.Layer); i >= 0 && !alike(o.Result.Blanks[i], b) {
				own[o.Number] = true
				singles = append(singles, lot{blank: o.Result.Blanks[i], numbers: []int{o.Number}})
			}
		}
		whole := append([]lot{{blank: b, numbers: upTo(s.Count, own)}}, singles...)
		for _, l := range whole {
			parts, f := p.glued(s, l)
			out, faults = append(out, parts...), append(faults, f...)
		}
	}
	return out, faults
}

func layer(r buildup.Result, n int) int {
	for i, b := range r.Blanks {
		if b.Part == buildup.PartFoam && b.Layer == n {
			return i
		}
	}
	return -1
}

// upTo lists 1 to n without some.
func upTo(n int, without map[int]bool) []int {
	var out []int
	for i := 1; i <= n; i++ {
		if !without[i] {
			out = append(out, i)
		}
	}
	return out
}

// kinds collects the blanks that are cut from goods, each as a kind of the
// lay; shapes are turned from the seat's frame into that of the lay.
func (p *Plan) kinds(id string, base lay.Turn, foam bool) ([]Kind, []lay.Kind, []unit.Fault) {
	var kinds []Kind
	var lays []lay.Kind
	var faults []unit.Fault
	for i, s := range p.Seats {
		if !s.OK() || s.Count <= 0 {
			continue
		}
		mine, bad := p.lots(s, id, foam)
		for _, f := range bad {
			f.Where.Seat = s.ID
			faults = append(faults, f)
		}
		for _, l := range mine {
			if len(l.numbers) == 0 {
				continue
			}
			b := l.blank
			several := false
			for _, o := range mine {
				several = several || o.blank.Part != b.Part || o.blank.Layer != b.Layer || o.blank.Role != b.Role
			}
			k := Kind{Seat: i, Blank: b, Base: base, Numbers: l.numbers, Glued: l.glued, suffix: suffixOf(b, several)}
			if l.glued > 0 {
				k.suffix += "-" + strconv.Itoa(l.glued)
			}
			name := s.Letter + k.suffix
			if len(l.numbers) < s.Count {
				name = s.Letter + "(" + strconv.Itoa(l.numbers[0]) + ")" + k.suffix
			}
			motif := b.Motif
			if ofTheTop(b.Part) {
				motif.X += s.MotifAcross.MM()
				if s.MotifFront.Set {
					motif.Y = s.Outline.BowPoint.Y + s.MotifFront.Value.MM()
				}
			}
			kinds = append(kinds, k)
			lays = append(lays, lay.Kind{
				ID:     name,
				Shape:  b.Path.FlattenOut(geom.ChordTol).Turned(int(base)),
				Count:  len(l.numbers) * b.Count,
				Square: b.Square,
				Motif:  motif.Turned(int(base)),
			})
		}
	}
	return kinds, lays, faults
}

// ofTheTop tells whether a part is seen as the seat's top and lies in its
// frame; bands and ties lie in frames of their own.
func ofTheTop(part buildup.Part) bool {
	switch part {
	case buildup.PartBand, buildup.PartZipBand, buildup.PartTie, buildup.PartWelt:
		return false
	}
	return true
}

// CodeWelt is the fault of welt that cannot be cut from its cloth.
const CodeWelt = "plan.welt-not-cut"

// weltRun is a run of welt cut alike for several seats.
type weltRun struct {
	width, seam unit.Length
	shortest    unit.Length
	bias, rect  bool
	first       int // seat
	need        unit.Length
}

// weltRuns adds up the welt that is cut from a cloth, alike ones together.
func (p *Plan) weltRuns(id string) []weltRun {
	var out []weltRun
	for i, s := range p.Seats {
		w := s.Build.Welt
		if !s.OK() || s.Count <= 0 || w.Rows <= 0 || w.Goods != id {
			continue
		}
		need := unit.Length(s.sumOver(func(r buildup.Result) float64 { return r.WeltEdge.Value() }))
		run := weltRun{s.Result.WeltStrip.Length(), w.Seam, w.Shortest.Or(buildup.UsualShortest), w.Bias, w.Rectangle, i, 0}
		found := false
		for k := range out {
			same := out[k]
			same.first, same.need = i, 0
			if same == run {
				out[k].need += need
				found = true
			}
		}
		if !found {
			run.need = need
			out = append(out, run)
		}
	}
	return out
}

// welt gives the welt strips of a cloth as kinds: laid one by one, or as one
// rectangle across the roll.
func (p *Plan) welt(r *Roll) ([]Kind, []lay.Kind, []unit.Fault) {
	var kinds []Kind
	var lays []lay.Kind
	usable, base := r.Cloth.Marked(p.In.Step).UsableWidth(), r.Lie.Base()
	number := 1
	for _, run := range p.weltRuns(r.ID) {
		var s buildup.Strips
		ok := false
		if run.bias {
			s, ok = buildup.BiasStrips(run.need, usable, run.width, run.seam, run.shortest)
		} else {
			s, ok = buildup.StraightStrips(run.need, usable, run.width, 2*run.seam)
		}
		if !ok {
			return nil, nil, []unit.Fault{{Code: CodeWelt, Where: unit.Where{Seat: p.Seats[run.first].ID, Goods: r.ID, Field: "welt_cord"},
				Args: []unit.Arg{unit.A("need", run.need), unit.A("usable", usable), unit.A("width", run.width)}}}
		}
		blanks := s.Blanks(r.ID, run.bias, int(base), p.In.Step)
		if run.rect {
			blanks = []buildup.Blank{s.Block(r.ID, int(base), p.In.Step)}
		}
		for _, b := range blanks {
			kinds = append(kinds, Kind{Seat: run.first, Blank: b, Base: base, suffix: b.Part.Code() + "-", first: number})
			lays = append(lays, lay.Kind{ID: b.Part.Code() + "-" + strconv.Itoa(number), Shape: b.Path.FlattenOut(geom.ChordTol).Turned(int(base)),
				Count: b.Count, Square: b.Square, Turns: weltTurns(r.Cloth, b)})
			number += b.Count
		}
	}
	return kinds, lays, nil
}

// weltTurns are the turns of a welt strip: those of its cloth; a block that is
// as wide as the cloth lies across it, and strips cut on the bias all slant the
// same way.
func weltTurns(c cloth.Cloth, b buildup.Blank) lay.Turns {
	t := cloth.Turns(c)
	if !b.Square {
		t &= lay.EitherWay
	}
	return t
}
