package trace

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Advice is a code and its figures: what would make the picture better, or what
// to keep in mind. The words are in assets/words under "advice.<code>".
type Advice struct {
	Code string
	Args []unit.Arg
}

// Codes of advice.
const (
	CodeAdviceOnePlane  = "photo.one-plane"      // always: sheet and board's upper edge in one plane
	CodeAdviceStraight  = "photo.no-perspective" // two points: only a picture from straight above is true
	CodeAdviceTilt      = "photo.more-above"     // hold the camera more straight above; args tilt (degrees)
	CodeAdviceSheetFlat = "photo.sheet-flat"     // lay the sheet flat: a corner stands up
	CodeAdviceSmall     = "photo.step-closer"    // the sheet is small in the picture
	CodeAdviceWide      = "photo.step-back"      // taken from so near that heights and the lens tell; args height
	CodeAdviceLarge     = "photo.larger-sheet"   // the board is much larger than the reference
	CodeAdviceFormat    = "photo.other-sheet"    // the sheet looks like the other paper size
	CodeAdviceCorners   = "photo.corners-off"    // corners are not on the sheet's edges
)

// Allowances of the expected error. The lens: cameras at hand keep straight
// lines straight to about half a per cent at the picture's corner, and what is
// left of it after fitting the sheet is what tells. The sheet: paper lies a few
// tenths of a millimetre off the board where nothing holds it down.
const (
	lensAllowance  = 0.004 // of the distance from the middle, at the corner
	sheetAllowance = 0.35  // mm
	cornerNoise    = 0.25  // pixels, of a corner from fitted sides
	edgeNoise      = 0.35  // pixels of the photo, of one edge of the board
	sureFactor     = 1.96  // 95 of 100 of a bell
)

// usual is a ring of points round the reference such as a seat's outline has.
func (f *Flat) usual() []geom.Pt {
	r := max(240, 0.6*max(float64(f.Sheet.Ref.W), float64(f.Sheet.Ref.H)))
	if f.Straight {
		r = max(r, float64(f.Sheet.Ref.W)/2)
	}
	out := make([]geom.Pt, 48)
	for i := range out {
		a := 2 * math.Pi * float64(i) / float64(len(out))
		out[i] = geom.P(r*math.Cos(a), r*math.Sin(a))
	}
	return out
}

// expectedOn adds up, root of sum of squares, what moves the points of an
// outline against each other (a shift or a turn of the whole harms nobody):
// uncertain corners, a sheet that does not lie flat, the lens, the pixels, and
// the misfit of the outline itself, in millimetres.
func (f *Flat) expectedOn(pts []geom.Pt, misfit float64) unit.Length {
	var sum float64
	add := func(move func(geom.Pt) geom.Pt) {
		e := wobble(pts, move)
		sum += e * e
	}
	s := f.Sheet
	if f.Straight {
		// Both clicks to a pixel or two, and a tilt of five degrees that nobody
		// sees: it shortens one direction by 0.4 %.
		k := 1 + placedNoise*math.Sqrt2/s.Corners[0].Dist(s.Corners[1])
		add(func(p geom.Pt) geom.Pt { return p.Mul(k) })
		add(func(p geom.Pt) geom.Pt { return geom.P(p.X, p.Y*0.996) })
	} else {
		noise := max(cornerNoise, s.Noise)
		for i := range 4 {
			// Half of what a corner's paper stands off its sides may be in the sides.
			lift := sheetAllowance + 0.25*s.Residual[i]/max(1e-6, f.pixelsPerMM(s.Ref.corners()[i]))
			for axis := range 2 {
				c := s.Corners
				if axis == 0 {
					c[i].X += noise
				} else {
					c[i].Y += noise
				}
				add(f.withCorners(c))
			}
			if f.Camera.Known {
				m := s.Ref.corners()[i]
				up := m.Sub(f.Camera.Foot).Mul(lift / f.Camera.Height)
				c := s.Corners
				c[i] = f.ToPhoto.at(m.Add(up))
				add(f.withCorners(c))
			}
		}
	}
	add(f.lens(lensAllowance))
	worst := math.Inf(1)
	for _, p := range pts {
		if k := f.pixelsPerMM(p); k > 0 {
			worst = min(worst, k)
		}
	}
	e := edgeNoise/worst + 0.1
	sum += e*e + misfit*misfit
	return unit.Length(sureFactor * math.Sqrt(sum))
}

// withCorners tells where points of the model would come to lie if the sheet
// had been found at other corners.
func (f *Flat) withCorners(c Corners) func(geom.Pt) geom.Pt {
	s := f.Sheet
	s.Corners = c
	h, ok := s.toPhoto()
	back, ok2 := h.Inverse()
	if !ok || !ok2 {
		return func(p geom.Pt) geom.Pt { return p }
	}
	return func(p geom.Pt) geom.Pt { return back.at(f.ToPhoto.at(p)) }
}

// lens tells where points would come to lie if the photo were distorted by k at
// its corner, growing with the cube of the distance from the middle.
func (f *Flat) lens(k float64) func(geom.Pt) geom.Pt {
	w, h := f.photo.Size()
	mid := geom.P(float64(w)/2, float64(h)/2)
	r := f.photo.diagonal() / 2
	bend := func(q geom.Pt) geom.Pt {
		d := q.Sub(mid)
		return mid.Add(d.Mul(1 + k*d.Dot(d)/(r*r)))
	}
	s := f.Sheet
	for i := range s.Corners {
		s.Corners[i] = bend(s.Corners[i])
	}
	hh, ok := s.toPhoto()
	back, ok2 := hh.Inverse()
	if !ok || !ok2 {
		return func(p geom.Pt) geom.Pt { return p }
	}
	return func(p geom.Pt) geom.Pt { return back.at(bend(f.ToPhoto.at(p))) }
}

// wobble is the root mean square by which a move displaces points against each
// other, after the best shift and turn.
func wobble(pts []geom.Pt, move func(geom.Pt) geom.Pt) float64 {
	n := float64(len(pts))
	moved := make([]geom.Pt, len(pts))
	var a, b geom.Pt
	for i, p := range pts {
		moved[i] = move(p)
		a, b = a.Add(p.Mul(1/n)), b.Add(moved[i].Mul(1/n))
	}
	var sin, cos float64
	for i, p := range pts {
		u, v := p.Sub(a), moved[i].Sub(b)
		cos += u.Dot(v)
		sin += u.Cross(v)
	}
	l := math.Hypot(sin, cos)
	if l == 0 {
		return 0
	}
	sin, cos = sin/l, cos/l
	var sum float64
	for i, p := range pts {
		u := p.Sub(a)
		d := moved[i].Sub(b).Sub(geom.P(u.X*cos-u.Y*sin, u.X*sin+u.Y*cos))
		sum += d.Dot(d) / n
	}
	return math.Sqrt(sum)
}

// When advice is given: poor is the error that the work bears (half of the
// smallest marking step of 1/16 in is 0.8 mm; a millimetre shows in a drop-in
// seat's clearance).
const (
	poor       = 1.0 // mm
	steep      = 25 * math.Pi / 180
	standsUp   = 0.6 // mm, of a sheet's corner
	smallSheet = 300 // pixels, the sheet's shorter side
	near       = 550 // mm, camera above the board
)

// advise says what would help. outline is nil before there is one.
func (f *Flat) advise(expected unit.Length, outline []geom.Pt) []Advice {
	var out []Advice
	say := func(code string, args ...unit.Arg) { out = append(out, Advice{code, args}) }
	s := f.Sheet
	if f.Straight {
		say(CodeAdviceStraight)
	} else {
		say(CodeAdviceOnePlane)
		if f.Camera.Tilt > steep {
			say(CodeAdviceTilt, unit.A("tilt", int(math.Round(f.Camera.Tilt*180/math.Pi))))
		}
		lift := 0.0
		for i, m := range s.Ref.corners() {
			lift = max(lift, s.Residual[i]/max(1e-6, f.pixelsPerMM(m)))
		}
		if lift > standsUp {
			say(CodeAdviceSheetFlat)
		}
		if s.Noise > 2.5 {
			say(CodeAdviceCorners)
		}
		if f.Camera.Height < near && float64(expected) > poor {
			say(CodeAdviceWide, unit.A("height", unit.Length(f.Camera.Height)))
		}
		if s.Ref.IsSheet() {
			other := Letter()
			if s.Ref.Kind == SheetLetter {
				other = A4()
			}
			o := Sheet{Ref: lying(f.photo, other, s.Corners), Corners: s.Corners}
			if h, ok := o.toPhoto(); ok {
				if c, _ := cameraOf(h, f.photo); f.Camera.Misfit > 0.015 && c.Misfit < 0.4*f.Camera.Misfit {
					say(CodeAdviceFormat)
				}
			}
		}
	}
	short := math.Inf(1)
	for i := range 4 {
		if f.Straight && i > 0 {
			break
		}
		short = min(short, s.Corners[i].Dist(s.Corners[(i+1)%4]))
	}
	if short < smallSheet {
		say(CodeAdviceSmall)
	}
	if len(outline) > 0 {
		b := geom.Polygon(outline).Bounds()
		if max(b.W(), b.H()) > 3*max(float64(s.Ref.W), float64(s.Ref.H)) {
			say(CodeAdviceLarge)
		}
	}
	return out
}
