package raster

import (
	"sync"

	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"

	"slipseat/assets"
	"slipseat/engine/drawing"
)

// typeface is one weight of the embedded typeface, with what measuring needs.
// It is only read after it was made.
type typeface struct {
	font    *truetype.Font
	perEm   float64
	usual   []float64 // advance widths in ems of the runes below usualRunes
	cap     float64   // heights in ems
	ascent  float64
	descent float64
}

// usualRunes reaches past the Latin letters, fractions, raised digits and
// arrows that labels are made of.
const usualRunes = 0x2200

var typefaces = [2]func() *typeface{
	sync.OnceValue(func() *typeface { return load(assets.InterRegular) }),
	sync.OnceValue(func() *typeface { return load(assets.InterSemiBold) }),
}

func typefaceOf(w drawing.Weight) *typeface {
	if w == drawing.Bold {
		return typefaces[1]()
	}
	return typefaces[0]()
}

// load parses an embedded font. The fonts are part of the program; a font that
// does not parse is a broken build, which a test catches.
func load(ttf []byte) *typeface {
	f, err := truetype.Parse(ttf)
	if err != nil {
		panic("embedded font: " + err.Error())
	}
	t := &typeface{font: f, perEm: float64(f.FUnitsPerEm())}
	t.usual = make([]float64, usualRunes)
	for r := range t.usual {
		t.usual[r] = t.measure(rune(r))
	}
	t.cap = t.top('H')
	t.ascent = t.top('l')
	t.descent = -t.bottom('p')
	return t
}

// measure gives the advance width of a rune in ems, unhinted.
func (t *typeface) measure(r rune) float64 {
	units := fixed.Int26_6(t.font.FUnitsPerEm())
	return float64(t.font.HMetric(units, t.font.Index(r)).AdvanceWidth) / t.perEm
}

func (t *typeface) advance(r rune) float64 {
	if r >= 0 && r < usualRunes {
		return t.usual[r]
	}
	return t.measure(r)
}

func (t *typeface) top(r rune) float64    { return float64(t.bounds(r).Max.Y) / t.perEm }
func (t *typeface) bottom(r rune) float64 { return float64(t.bounds(r).Min.Y) / t.perEm }

func (t *typeface) bounds(r rune) fixed.Rectangle26_6 {
	var g truetype.GlyphBuf
	if err := g.Load(t.font, fixed.Int26_6(t.font.FUnitsPerEm()), t.font.Index(r), font.HintingNone); err != nil {
		return fixed.Rectangle26_6{}
	}
	return g.Bounds
}

// Metrics measures text with the embedded typeface, from its unhinted advance
// widths: window, PNG, PDF and SVG all agree. The zero value is ready, and
// safe for use by several goroutines.
type Metrics struct{}

var _ drawing.Metrics = Metrics{}

// Width is the sum of the advance widths, in the unit of size.
func (Metrics) Width(text string, size float64, w drawing.Weight) float64 {
	t := typefaceOf(w)
	sum := 0.0
	for _, r := range text {
		sum += t.advance(r)
	}
	return sum * size
}

// CapHeight is the height of a capital letter.
func (Metrics) CapHeight(size float64, w drawing.Weight) float64 { return typefaceOf(w).cap * size }

// Ascent is what the tallest small letters reach above the baseline.
func (Metrics) Ascent(size float64, w drawing.Weight) float64 { return typefaceOf(w).ascent * size }

// Descent is what letters reach below the baseline, positive.
func (Metrics) Descent(size float64, w drawing.Weight) float64 { return typefaceOf(w).descent * size }
