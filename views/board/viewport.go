// Package board is the surface that drawings are shown and worked on: it
// zooms, pans, finds what is under the pointer and turns drags into previews
// and commits. It paints nothing of its own but the grid and the handles; the
// drawing comes from a function it is given.
package board

import (
	"math"

	"slipseat/engine/geom"
)

// Viewport maps the model to the window: model millimetres, y up, to window
// units, y down, from the top left of the board. It is a value; every change
// gives a new one.
type Viewport struct {
	Scale float64 // window units for a millimetre, > 0
	X, Y  float64 // where the model's origin lies
}

// Limits of zooming, window units for a millimetre: from 40 m across a window
// to a millimetre as wide as a hand.
const (
	minScale = 0.02
	maxScale = 120
)

// At maps a model point to the window.
func (v Viewport) At(p geom.Pt) (x, y float64) { return v.X + p.X*v.Scale, v.Y - p.Y*v.Scale }

// Model maps a place in the window to the model.
func (v Viewport) Model(x, y float64) geom.Pt {
	return geom.P((x-v.X)/v.Scale, (v.Y-y)/v.Scale)
}

// Margins is the room to leave free when fitting, window units.
type Margins struct{ Top, Right, Bottom, Left float64 }

// Fit shows a box as large as it goes in a window of w by h, centred in what
// the margins leave.
func Fit(box geom.Rect, w, h float64, m Margins) Viewport {
	fw, fh := math.Max(w-m.Left-m.Right, 20), math.Max(h-m.Top-m.Bottom, 20)
	bw, bh := math.Max(box.W(), 1), math.Max(box.H(), 1)
	s := clamp(math.Min(fw/bw, fh/bh), minScale, maxScale)
	cx, cy := (box.Min.X+box.Max.X)/2, (box.Min.Y+box.Max.Y)/2
	return Viewport{Scale: s, X: m.Left + fw/2 - cx*s, Y: m.Top + fh/2 + cy*s}
}

// ZoomAt scales by a factor and keeps the model point under (x, y) in place.
func (v Viewport) ZoomAt(x, y, factor float64) Viewport {
	s := clamp(v.Scale*factor, minScale, maxScale)
	f := s / v.Scale
	return Viewport{Scale: s, X: x - (x-v.X)*f, Y: y - (y-v.Y)*f}
}

// Pan moves what is shown by window units.
func (v Viewport) Pan(dx, dy float64) Viewport {
	return Viewport{Scale: v.Scale, X: v.X + dx, Y: v.Y + dy}
}

// KeepInSight moves the view so that at least a strip of the box stays in the
// window: nobody can lose the drawing.
func (v Viewport) KeepInSight(box geom.Rect, w, h float64) Viewport {
	const strip = 60
	x0, y1 := v.At(box.Min)
	x1, y0 := v.At(box.Max)
	if x1 < strip {
		v.X += strip - x1
	}
	if x0 > w-strip {
		v.X -= x0 - (w - strip)
	}
	if y1 < strip {
		v.Y += strip - y1
	}
	if y0 > h-strip {
		v.Y -= y0 - (h - strip)
	}
	return v
}

// Lerp is the view between two others; t runs from 0 to 1. Scales are blended
// in proportion, so that a zoom looks even.
func (v Viewport) Lerp(to Viewport, t float64) Viewport {
	if t >= 1 {
		return to
	}
	s := v.Scale * math.Pow(to.Scale/v.Scale, t)
	return Viewport{Scale: s, X: v.X + (to.X-v.X)*t, Y: v.Y + (to.Y-v.Y)*t}
}

func clamp(v, lo, hi float64) float64 {
	if !(v >= lo) { // also catches NaN
		return lo
	}
	return math.Min(v, hi)
}

// gridStep gives the smallest step whose lines lie at least gap window units
// apart, and the next larger one that is a multiple of it for the stronger
// lines. Steps ascend; without a fitting one both are 0.
func gridStep(steps []float64, scale, gap float64) (fine, coarse float64) {
	for i, s := range steps {
		if s*scale < gap {
			continue
		}
		for _, c := range steps[i+1:] {
			if r := c / s; r >= 2 && math.Abs(r-math.Round(r)) < 1e-6 {
				return s, c
			}
		}
		return s, 0
	}
	return 0, 0
}
