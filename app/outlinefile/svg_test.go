package outlinefile

import (
	"bytes"
	"fmt"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"slipseat/engine/geom"
)

// svgCases are drawings of 120 × 100 mm, with the section of the W3C's text
// that each one follows: SVG 2 (Candidate Recommendation, 2018) for path data,
// SVG 1.1 (Second Edition, 2011) for the rest. Shapes do not overlap, so that
// the inked area is the sum of theirs.
var svgCases = []struct{ name, section, body string }{
	{"M L H V Z absolute", "SVG 2 9.3.3 to 9.3.5", `<path d="M10 10 L90 12 H100 V80 L12 78 Z"/>`},
	{"m l h v z relative", "SVG 2 9.3.3 to 9.3.5", `<path d="m10 10 l80 2 h10 v68 l-88 -2 z"/>`},
	{"further points of M are lines", "SVG 2 9.3.3", `<path d="M10 10 90 12 100 80 12 78z"/>`},
	{"further points of m are relative lines", "SVG 2 9.3.3", `<path d="m10 10 80 2 10 68-88-2z"/>`},
	{"subpath after z starts where the last began", "SVG 2 9.3.4", `<path d="M20 20 h20 v20 h-20 z m50 30 h20 v20 h-20 z l0 -10 h-15 z"/>`},
	{"C and c", "SVG 2 9.3.6", `<path d="M10 50 C10 5 60 5 60 50 c0 45 45 20 45 0 L105 90 H10 Z"/>`},
	{"S after C and alone", "SVG 2 9.3.6", `<path d="M10 40 C20 0 30 0 40 40 S60 80 70 40 s20-40 30 0 V95 S50 70 10 95 Z"/>`},
	{"Q and T", "SVG 2 9.3.7", `<path d="M10 50 Q25 5 40 50 T70 50 t30 0 V90 q-45 20 -90 0 Z"/>`},
	{"A, all four flags", "SVG 2 9.3.8", `<path d="M10 40 A20 20 0 0 1 30 20 L40 20 Z"/><path d="M70 30 A14 14 0 1 1 84 16 Z"/><path d="M20 90 A18 12 0 0 0 40 80 L40 95 L20 95 Z"/><path d="M75 85 A12 12 0 1 0 87 73 Z"/>`},
	{"A turned, flags without separators", "SVG 2 9.3.8 and 9.3.9", `<path d="M20 60a40 20 30 0170-20l0 40z"/>`},
	{"A with radii that do not reach", "SVG 2 9.5.1 and B.2.5", `<path d="M20 50 A5 3 20 0 1 95 60 L50 90 Z"/>`},
	{"A with no radius is a line", "SVG 2 9.5.1", `<path d="M20 50 A0 3 0 0 1 95 60 L50 90 Z"/>`},
	{"numbers run together", "SVG 2 9.3.9", `<path d="M10.5.5.5 10.5 10.5 90.5 1e2 90.5 1.0e+2.5z"/>`},
	{"open path is filled as if closed", "SVG 1.1 11.3", `<path d="M10 10 L100 20 L60 90"/>`},
	{"rect", "SVG 1.1 9.2", `<rect x="10" y="12" width="90" height="70"/>`},
	{"rect with rx alone", "SVG 1.1 9.2", `<rect x="10" y="12" width="90" height="70" rx="15"/>`},
	{"rect with rx and ry too large", "SVG 1.1 9.2", `<rect x="10" y="12" width="90" height="70" rx="80" ry="20"/>`},
	{"circle and ellipse", "SVG 1.1 9.3, 9.4", `<circle cx="30" cy="40" r="20"/><ellipse cx="85" cy="60" rx="30" ry="14"/>`},
	{"polygon and polyline", "SVG 1.1 9.6, 9.7", `<polygon points="10,10 50,15,45,60 12 55"/><polyline points="60 20 110 30 80 90"/>`},
	{"lengths with units", "SVG 1.1 7.10", `<svg viewBox="0 0 453.5433 377.9528"><rect x="1cm" y=".5in" width="40mm" height="90pt"/></svg>`},
	{"percentages", "SVG 1.1 7.10", `<rect x="10%" y="10%" width="50%" height="40%"/><circle cx="90" cy="75" r="10%"/>`},
	{"translate, scale, rotate about a point", "SVG 1.1 7.6", `<g transform="translate(10 5) scale(.8,.9)"><rect transform="rotate(20 50,50)" x="20" y="20" width="60" height="50" rx="9"/></g>`},
	{"skews and a matrix", "SVG 1.1 7.6", `<g transform="skewX(15) skewY(-8)"><circle cx="40" cy="50" r="25"/></g><path transform="matrix(.3 .1 -.15 .3 88 60)" d="M10 10 h60 a10 10 0 0 1 10 10 v50 h-70 z"/>`},
	{"mirrored arc", "SVG 1.1 7.6", `<path transform="translate(120 0) scale(-1 1)" d="M20 20 h60 a20 20 0 0 1 20 20 v40 h-80 z"/>`},
	{"viewBox in a nested svg, meet", "SVG 1.1 7.7, 7.8", `<svg x="10" y="10" width="100" height="40" viewBox="0 0 50 50"><rect x="5" y="5" width="40" height="40"/></svg>`},
	{"preserveAspectRatio xMinYMax", "SVG 1.1 7.8", `<svg x="10" y="10" width="100" height="40" viewBox="0 0 50 50" preserveAspectRatio="xMinYMax meet"><rect x="5" y="5" width="40" height="40"/></svg>`},
	{"preserveAspectRatio none", "SVG 1.1 7.8", `<svg x="10" y="10" width="100" height="40" viewBox="0 0 50 50" preserveAspectRatio="none"><circle cx="25" cy="25" r="20"/></svg>`},
	{"use with its place, and symbol", "SVG 1.1 5.6", `<defs><rect id="q" width="20" height="30"/></defs><use href="#q" x="10" y="12"/><use xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="#q" x="45" y="20" transform="rotate(10)"/><symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="4"/></symbol><use href="#s" x="70" y="50" width="40" height="40"/>`},
	{"what is not displayed", "SVG 1.1 11.5", `<g display="none"><rect width="50" height="50"/></g><rect style="display:none" width="50" height="50"/><g visibility="hidden"><rect width="20" height="20"/><rect visibility="visible" x="60" y="40" width="40" height="50"/></g>`},
	{"clip paths and defs are not drawn", "SVG 1.1 5.3, 14.3", `<clipPath id="c"><rect width="120" height="100"/></clipPath><g clip-path="url(#c)"><rect x="20" y="20" width="50" height="60"/></g>`},
	{"switch draws the first that applies", "SVG 1.1 5.8.2", `<switch><rect x="10" y="10" width="60" height="60"/><rect width="120" height="100"/></switch>`},
	{"style sheet hides a class", "SVG 1.1 6.4", `<style>.off{fill:red;display:none}</style><rect class="off" width="50" height="50"/><rect x="60" y="10" width="50" height="50"/>`},
}

func svgOf(body string) string {
	return `<?xml version="1.0"?>` + "\n" + `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="100mm" viewBox="0 0 120 100">` + body + `</svg>`
}

// TestSVGAgainstARenderer holds areas and outlines against what librsvg draws.
func TestSVGAgainstARenderer(t *testing.T) {
	if _, err := exec.LookPath("rsvg-convert"); err != nil {
		t.Skip("rsvg-convert is not installed (librsvg2-bin)")
	}
	for _, c := range svgCases {
		t.Run(c.name, func(t *testing.T) {
			d, f := Read([]byte(svgOf(c.body)), Options{})
			if f != nil {
				t.Fatalf("%s: %v", c.section, f)
			}
			if !d.Said || d.Unit != Millimetre || d.Format != "svg" {
				t.Errorf("unit %v, said %v, format %q", d.Unit, d.Said, d.Format)
			}
			area, edge := 0.0, 0.0
			for _, s := range d.Shapes {
				if !s.Usable() {
					t.Fatalf("%s: shape %q: %v", c.section, s.Name, s.Fault)
				}
				area += s.Path.Area()
				edge += s.Path.Length()
			}
			inked, wrong := drawnBy(t, svgOf(c.body), d.Shapes)
			if math.Abs(area-inked) > 0.03*edge {
				t.Errorf("%s: area %.2f mm², the renderer inks %.2f", c.section, area, inked)
			}
			if wrong > 0 {
				t.Errorf("%s: %d places lie on the other side of the outline", c.section, wrong)
			}
		})
	}
}

// TestRendererNoticesAWrongShape plants one.
func TestRendererNoticesAWrongShape(t *testing.T) {
	if _, err := exec.LookPath("rsvg-convert"); err != nil {
		t.Skip("rsvg-convert is not installed (librsvg2-bin)")
	}
	wrong := []Shape{{Path: geom.Box(10, -80, 100.5, -12)}}
	if inked, n := drawnBy(t, svgOf(`<rect x="10" y="12" width="90" height="70"/>`), wrong); n == 0 || math.Abs(inked-6300) > 5 {
		t.Errorf("%d places differ, %.1f mm² inked", n, inked)
	}
}

// drawnBy renders a drawing of 120 × 100 mm at 2.5 dots a millimetre; it gives
// the inked area and the number of dots, further than 0.25 mm from every
// outline, that lie inside the shapes and are blank, or the other way round.
func drawnBy(t *testing.T, svg string, shapes []Shape) (area float64, wrong int) {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.svg"), filepath.Join(dir, "out.png")
	if err := os.WriteFile(in, []byte(svg), 0o644); err != nil {
		t.Fatal(err)
	}
	if msg, err := exec.Command("rsvg-convert", "-w", "300", "-h", "250", "-o", out, in).CombinedOutput(); err != nil {
		t.Fatalf("rsvg-convert: %v %s", err, msg)
	}
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != 300 || b.Dy() != 250 {
		t.Fatalf("picture of %v", b)
	}
	var flat []geom.Polygon
	for _, s := range shapes {
		flat = append(flat, s.Path.Flatten(0.01))
	}
	for y := range 250 {
		for x := range 300 {
			_, _, _, a := img.At(x, y).RGBA()
			area += float64(a) / 0xffff / 6.25
			if a > 0x200 && a < 0xfd00 {
				continue
			}
			p := geom.P((float64(x)+0.5)/2.5, -(float64(y)+0.5)/2.5)
			inside, near := false, false
			for _, s := range flat {
				inside = inside || s.Contains(p)
			}
			if inside == (a > 0x8000) {
				continue
			}
			for _, s := range flat {
				near = near || s.Distance(p) < 0.25
			}
			if !near {
				wrong++
			}
		}
	}
	return area, wrong
}

// Units of the outermost element, by hand: 1 in = 25.4 mm = 96 px (CSS Values
// and Units 3, section 6.2).
func TestSVGUnits(t *testing.T) {
	box := func(attrs string, o Options) (w, h float64, d Drawing) {
		t.Helper()
		d, f := Read([]byte(`<svg `+attrs+`><rect width="96" height="48"/></svg>`), o)
		if f != nil {
			t.Fatalf("%s: %v", attrs, f)
		}
		b := d.Shapes[0].Path.Bounds()
		return b.W(), b.H(), d
	}
	for _, c := range []struct {
		attrs string
		o     Options
		w, h  float64
		said  bool
	}{
		{`width="96mm" height="96mm" viewBox="0 0 96 96"`, Options{}, 96, 48, true},
		{`width="10in" height="10in" viewBox="0 0 96 96"`, Options{}, 254, 127, true},
		{`width="9.6cm" viewBox="0 0 96 48"`, Options{}, 96, 48, true},
		{`height="24pt" viewBox="0 0 96 48"`, Options{}, 16.933333, 8.466667 /* 24/72 in over 48 units */, true},
		{`width="6pc" height="6pc" viewBox="0 0 96 96"`, Options{}, 25.4, 12.7, true},
		{`width="96q" height="96q" viewBox="0 0 96 96"`, Options{}, 24, 12, true},
		{`width="20cm" height="20cm"`, Options{}, 25.4, 12.7, true}, // user units stay pixels
		{`width="500" height="500"`, Options{Unit: Pixel}, 25.4, 12.7, false},
		{``, Options{Unit: Pixel}, 25.4, 12.7, false},
		{`viewBox="0 0 96 48"`, Options{Unit: Millimetre}, 96, 48, false},
		{`width="960" height="480" viewBox="0 0 96 48"`, Options{Unit: Centimetre}, 960, 480, false},
		{`width="960" height="480" viewBox="0 0 96 48"`, Options{Unit: Pixel}, 254, 127, false},
		{`width="144" height="72" viewBox="0 0 96 48"`, Options{Unit: Point}, 50.8, 25.4, false},
		{`width="100%" height="100%" viewBox="0 0 96 48"`, Options{Unit: Inch}, 2438.4, 1219.2, false},
	} {
		w, h, d := box(c.attrs, c.o)
		if math.Abs(w-c.w) > 1e-5 || math.Abs(h-c.h) > 1e-5 || d.Said != c.said {
			t.Errorf("%s %v: %.4f × %.4f said %v, want %.4f × %.4f said %v", c.attrs, c.o, w, h, d.Said, c.w, c.h, c.said)
		}
	}
}

func TestSVGKeepsTrueArcs(t *testing.T) {
	d, f := Read([]byte(svgOf(`<g transform="translate(3 4) rotate(30) scale(2)"><rect x="5" y="5" width="40" height="20" rx="5"/></g>`)), Options{})
	if f != nil {
		t.Fatal(f)
	}
	p := d.Shapes[0].Path
	arcs := 0
	for i := range p {
		if s := p.Segment(i); !s.Straight() {
			arcs++
			if math.Abs(s.Radius()-10) > 1e-9 {
				t.Errorf("radius %v, want 10", s.Radius())
			}
		}
	}
	if len(p) != 8 || arcs != 4 {
		t.Errorf("%d segments, %d arcs, want 8 and 4", len(p), arcs)
	}
	// 80 × 40 less four corners of (4 - π) × 10²/4.
	if want := 3200 - (4-math.Pi)*100; math.Abs(p.Area()-want) > 1e-6 {
		t.Errorf("area %v, want %v", p.Area(), want)
	}
}

func TestSVGJoinsLines(t *testing.T) {
	lines := func(gap float64) string {
		return svgOf(fmt.Sprintf(`<line x1="10" y1="10" x2="100" y2="10"/><path d="M10 %g V80"/><path d="M100 80 H10"/><path d="M100 80 L100 10"/><path d="M100 10 L10 10"/>`, 10+gap))
	}
	d, f := Read([]byte(lines(0.2)), Options{})
	if f != nil || len(d.Shapes) != 1 || d.Shapes[0].Fault != nil || math.Abs(d.Shapes[0].Path.Area()-6300) > 10 {
		t.Fatalf("%v %+v", f, d)
	}
	d, f = Read([]byte(lines(3)), Options{})
	if f != nil || len(d.Shapes) != 1 || d.Shapes[0].Fault == nil || d.Shapes[0].Fault.Code != CodeOpen || math.Abs(d.Shapes[0].Gap.MM()-3) > 1e-9 {
		t.Fatalf("%v %+v", f, d)
	}
	if at := d.Shapes[0].Fault.Where; math.Abs(at.X-10) > 1e-9 || math.Abs(at.Y+11.5) > 1e-9 {
		t.Errorf("the gap is said to be at %v, %v", at.X, at.Y)
	}
	d, f = Read([]byte(lines(3)), Options{Join: 5})
	if f != nil || len(d.Shapes) != 1 || d.Shapes[0].Fault != nil {
		t.Fatalf("%v %+v", f, d)
	}
}

func TestSVGOrderAndLeavings(t *testing.T) {
	d, f := Read([]byte(svgOf(`<rect id="small" x="1" y="1" width="20" height="20"/><rect id="large" x="30" y="1" width="80" height="80"/>
<rect id="again" x="30" y="1" width="80" height="80"/><circle cx="40" cy="20" r="2"/><text>board</text><image/><path id="knot" d="M0 90 L40 99 L40 90 L0 99 Z"/>`)), Options{})
	if f != nil {
		t.Fatal(f)
	}
	var names []string
	for _, s := range d.Shapes {
		names = append(names, s.Name)
	}
	if got := strings.Join(names, " "); got != "large small knot" {
		t.Errorf("shapes %q", got)
	}
	if s := d.Shapes[2]; s.Fault == nil || s.Fault.Code != geom.CodeCrosses || s.Usable() {
		t.Errorf("knot: %v", s.Fault)
	}
	if fmt.Sprint(d.Left) != "[{text 1} {picture 1} {small 1}]" {
		t.Errorf("left out: %v", d.Left)
	}
}

func TestSVGDialects(t *testing.T) {
	utf16 := func(s string) string {
		b := []byte{0xff, 0xfe}
		for _, r := range s {
			b = append(b, byte(r), byte(r>>8))
		}
		return string(b)
	}
	rect := `<rect width="200" height="200"/></svg>`
	for name, text := range map[string]string{
		"mark":          "\ufeff" + svgOf(`<rect width="200" height="200"/>`),
		"utf-16":        utf16(`<?xml version="1.0" encoding="UTF-16"?><svg width="9mm">` + rect),
		"latin-1":       `<?xml version="1.0" encoding="ISO-8859-1"?><svg id="` + "\xe9" + `" width="9mm">` + rect,
		"own entity":    `<!DOCTYPE svg [<!ENTITY w "200">]><svg width="9mm"><rect width="&w;" height="200"/></svg>`,
		"prefixed":      `<s:svg xmlns:s="http://www.w3.org/2000/svg" width="9mm"><s:rect width="200" height="200"/></s:svg>`,
		"with comments": `<!-- drawn by hand --><svg width="9mm"><!-- <rect> -->` + rect,
	} {
		if d, f := Read([]byte(text), Options{}); f != nil || len(d.Shapes) != 1 {
			t.Errorf("%s: %v, %d shapes", name, f, len(d.Shapes))
		}
	}
}
