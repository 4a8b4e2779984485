package buildup

import (
	"fmt"
	"math"

	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Faults of a build-up. The words are under "fault.<code>".
const (
	CodeNotANumber  = "buildup.not-a-number"
	CodeNegative    = "buildup.negative"
	CodeTooLarge    = "buildup.too-large"
	CodeMissing     = "buildup.missing"
	CodeRadius      = "buildup.radius-too-big"
	CodeBevel       = "buildup.bevel-too-big"
	CodeCompression = "buildup.compression"
	CodeDome        = "buildup.dome-too-high"
	CodeBaseLayer   = "buildup.base-layer"
	CodeInset       = "buildup.inset-too-big"
	CodeCount       = "buildup.count"
	CodeStretch     = "buildup.stretch"
	CodeNoOutline   = "buildup.no-outline"
	CodeNoBlank     = "buildup.no-blank"
	CodeFit         = "buildup.fit"
)

// Limits beyond which a figure is a slip of the keyboard.
const (
	MaxFoam       = 500 * unit.MM // all layers together
	MaxBoard      = 200 * unit.MM
	MaxShort      = 50 * unit.MM  // foam smaller than the board, each side
	MaxAllowance  = 300 * unit.MM // oversize, overhang, wadding, turn-under, pull, hem, seam ...
	MaxWrap       = 1000 * unit.MM
	MaxSize       = 5 * unit.M // of a frame, a span, a tie
	MaxSheetLayer = 50 * unit.MM
	MaxPitch      = 300 * unit.MM
	MaxLeg        = 50 * unit.MM
	MaxPressed    = 0.9 // of the foam's thickness
	// leastNeeded: what cannot be left out is at least as thick as paper.
	leastNeeded = unit.MM / 20
)

// checker gathers the faults of one build-up.
type checker struct{ faults []unit.Fault }

func (k *checker) add(code, field string, args ...unit.Arg) {
	k.faults = append(k.faults, unit.Fault{Code: code, Where: unit.Where{Field: field}, Args: args})
}

// length checks 0 <= l <= most and tells whether it held.
func (k *checker) length(field string, l, most unit.Length) bool {
	switch {
	case math.IsNaN(l.MM()) || math.IsInf(l.MM(), 0):
		k.add(CodeNotANumber, field)
	case l < 0:
		k.add(CodeNegative, field, unit.A("got", l))
	case l > most:
		k.add(CodeTooLarge, field, unit.A("got", l), unit.A("most", most))
	default:
		return true
	}
	return false
}

// needed checks 0 < l <= most; less than leastNeeded is nothing.
func (k *checker) needed(field string, l, most unit.Length) bool {
	if l >= 0 && l < leastNeeded {
		k.add(CodeMissing, field)
		return false
	}
	return k.length(field, l, most)
}

func (k *checker) opt(field string, o unit.Opt, most unit.Length) bool {
	return !o.Set || k.length(field, o.Value, most)
}

func (k *checker) perEdge(field string, p PerEdge, most unit.Length, check func(string, unit.Length, unit.Length) bool) {
	if p.All.Set {
		check(field, p.All.Value, most)
	}
	for _, r := range seat.Roles() {
		if own := *p.of(r); own.Set {
			check(field+"_"+r.String(), own.Value, most)
		}
	}
}

func (k *checker) count(field string, n, most int) {
	if n < 0 || n > most {
		k.add(CodeCount, field, unit.A("got", n), unit.A("most", most))
	}
}

// Check gives every fault of a build-up that can be told without the outline.
// Where.Field names the input; a layer of foam is foam_1, foam_2 ... from the
// board up.
func (s Spec) Check() []unit.Fault {
	k := &checker{}
	s.checkFoam(k)
	k.length("wadding", s.Wadding.Thickness, MaxAllowance)
	k.opt("wadding_trim", s.Wadding.Trim, MaxAllowance)
	s.checkUndercover(k, "barrier", s.Barrier)
	s.checkUndercover(k, "lining", s.Lining)
	k.length("cover_thickness", s.Cover.Thickness, MaxSheetLayer)
	if s.Kind == BoxedPad {
		s.checkPad(k)
	} else {
		s.checkStapled(k)
	}
	s.checkWelt(k)
	s.checkWebbing(k)
	for _, h := range s.Holes {
		for _, v := range [...]float64{h.X, h.Y} {
			if !(math.Abs(v) <= MaxSize.MM()) {
				k.add(CodeNotANumber, "holes")
			}
		}
	}
	return k.faults
}

// checkFoam tells whether the foam's figures can be reckoned with.
func (s Spec) checkFoam(k *checker) bool {
	ok := true
	var total, base unit.Length
	for i, l := range s.Foam {
		field := fmt.Sprintf("foam_%d", i+1)
		ok = k.needed(field, l.Thickness, MaxFoam) && k.length(field+"_inset", l.Inset, MaxSize) && ok
		if i == 0 && l.Inset > 0 {
			k.add(CodeBaseLayer, field+"_inset")
			ok = false
		}
		total += l.Thickness
		if l.Inset == 0 {
			base += l.Thickness
		}
	}
	if ok && total > MaxFoam {
		k.add(CodeTooLarge, "foam_1", unit.A("got", total), unit.A("most", MaxFoam))
		ok = false
	}
	if c := s.Compression; math.IsNaN(c) || c < 0 || c > MaxPressed {
		k.add(CodeCompression, "compression", unit.A("got", c), unit.A("most", MaxPressed))
		ok = false
	}
	if s.Oversize < 0 && s.Oversize >= -MaxShort {
		// Foam smaller than the board: allowed, with a caution.
	} else {
		ok = k.length("oversize", s.Oversize, MaxAllowance) && ok
	}
	if s.Edge == SquareEdge || !k.length("edge_size", s.EdgeSize, MaxFoam) || !ok {
		return ok
	}
	if height := s.edgeHeight(); s.EdgeSize > height+sameLength {
		code := CodeRadius
		if s.Edge == BevelBelow {
			code = CodeBevel
		}
		k.add(code, "edge_size", unit.A("got", s.EdgeSize), unit.A("most", height))
	}
	return ok
}

// sameLength in millimetres: two sums of typed lengths that differ by less are
// the same length.
const sameLength = 1e-6

func (s Spec) checkUndercover(k *checker, field string, u Undercover) {
	if !u.Use {
		return
	}
	k.length(field+"_thickness", u.Thickness, MaxSheetLayer)
	k.opt(field+"_turn_under", u.TurnUnder, MaxAllowance)
	k.opt(field+"_pull", u.Pull, MaxAllowance)
}

func (s Spec) checkStapled(k *checker) {
	k.needed("board", s.Board, MaxBoard)
	k.perEdge("overhang", s.Overhang, MaxAllowance, k.length)
	k.length("dome", s.Dome, MaxFoam)
	k.length("notch_clearance", s.NotchClearance, MaxAllowance)
	k.needed("turn_under", s.Cover.TurnUnder, MaxAllowance)
	k.length("pull", s.Cover.Pull, MaxAllowance)
	k.perEdge("fixed_wrap", s.Cover.Fixed, MaxWrap, k.needed)
	if !s.Dust.None {
		k.length("dust_hem", s.Dust.Hem, MaxAllowance)
		k.length("dust_inset", s.Dust.Inset, MaxAllowance)
		k.length("dust_thickness", s.Dust.Thickness, MaxSheetLayer)
	}
	k.needed("staple_pitch", s.Staples.Pitch, MaxPitch)
	if s.Staples.DustPitch.Set {
		k.needed("dust_pitch", s.Staples.DustPitch.Value, MaxPitch)
	}
	k.length("staple_leg", s.Staples.Leg, MaxLeg)
	k.opt("staple_line", s.Staples.Line, MaxAllowance)
	k.opt("staple_stop", s.Staples.StopShort, MaxAllowance)
	if s.Kind == DropIn {
		k.length("frame_width", s.Frame.Width, MaxSize)
		k.length("frame_depth", s.Frame.Depth, MaxSize)
		k.opt("post_gap", s.Frame.PostGap, MaxAllowance)
	}
	k.opt("relief_short_of", s.Relief.ShortOf, MaxAllowance)
	k.opt("relief_arm", s.Relief.Arm, MaxAllowance)
	if a := s.Relief.Spread; math.IsNaN(a) || a < 0 || a > 90 {
		k.add(CodeCount, "relief_spread", unit.A("got", a), unit.A("most", 90))
	}
}

func (s Spec) checkPad(k *checker) {
	k.needed("pad_thickness", s.Pad.Thickness, MaxFoam)
	k.length("pad_seam", s.Pad.Seam, MaxAllowance)
	k.length("pad_squeeze", s.Pad.Squeeze, MaxAllowance)
	if s.Pad.Zip {
		k.length("zip_seam", s.Pad.ZipSeam, MaxAllowance)
	}
	k.count("ties", s.Pad.Ties, 20)
	if s.Pad.Ties > 0 {
		k.needed("tie_length", s.Pad.TieLength, MaxSize)
		k.needed("tie_width", s.Pad.TieWidth, MaxAllowance)
	}
}

func (s Spec) checkWelt(k *checker) {
	k.count("welt_rows", s.Welt.Rows, 4)
	if s.Welt.Rows <= 0 {
		return
	}
	k.needed("welt_cord", s.Welt.Cord, MaxSheetLayer)
	k.length("welt_seam", s.Welt.Seam, MaxAllowance)
	k.opt("welt_overlap", s.Welt.Overlap, MaxAllowance)
	k.opt("welt_shortest", s.Welt.Shortest, MaxSize)
}

func (s Spec) checkWebbing(k *checker) {
	w := s.Webbing
	k.count("webbing_across", w.Across, 50)
	k.count("webbing_along", w.Along, 50)
	if w.Across <= 0 && w.Along <= 0 {
		return
	}
	k.length("webbing_width", w.Width, MaxAllowance)
	k.length("webbing_fold", w.Fold, MaxAllowance)
	k.opt("webbing_span_across", w.SpanAcross, MaxSize)
	k.opt("webbing_span_along", w.SpanAlong, MaxSize)
	if x := w.Stretch; math.IsNaN(x) || x != 0 && (x < 1 || x > 3) {
		k.add(CodeStretch, "webbing_stretch", unit.A("got", x))
	}
}
