package outlinefile

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"slipseat/engine/geom"
)

// TestHostileFiles gives broken and hostile files and wants a clear fault, soon.
func TestHostileFiles(t *testing.T) {
	zip := func(s string) string {
		var b bytes.Buffer
		z := gzip.NewWriter(&b)
		z.Write([]byte(s))
		z.Close()
		return b.String()
	}
	uses := func(n int) string { // each level draws the one below ten times
		var b strings.Builder
		b.WriteString(`<defs><rect id="u0" width="20" height="20"/>`)
		for i := 1; i <= n; i++ {
			fmt.Fprintf(&b, `<g id="u%d">%s</g>`, i, strings.Repeat(fmt.Sprintf(`<use href="#u%d"/>`, i-1), 10))
		}
		return b.String() + fmt.Sprintf(`</defs><use href="#u%d"/>`, n)
	}
	blocks := func(n int) string {
		var b strings.Builder
		b.WriteString("0\nSECTION\n2\nBLOCKS\n")
		for i := range n {
			fmt.Fprintf(&b, "0\nBLOCK\n2\nB%d\n", i)
			for range 10 {
				fmt.Fprintf(&b, "0\nINSERT\n2\nB%d\n", i-1)
			}
			b.WriteString("0\nENDBLK\n")
		}
		fmt.Fprintf(&b, "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nB%d\n0\nENDSEC\n0\nEOF\n", n-1)
		return b.String()
	}
	bomb := `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">` // each holds the one before ten times
	for c := 'b'; c <= 'k'; c++ {
		bomb += fmt.Sprintf(`<!ENTITY %c "%s">`, c, strings.Repeat("&"+string(c-1)+";", 10))
	}
	whole := svgOf(`<rect width="20" height="20"/>`)
	for _, c := range []struct{ name, text, code string }{
		{"nothing", "", CodeUnknown},
		{"spaces", "  \n ", CodeUnknown},
		{"a letter", "Dear customer, the board is 18 by 17", CodeUnknown},
		{"another kind of XML", "<html><body/></html>", CodeUnknown},
		{"a picture", "\x89PNG\r\n\x1a\n", CodeUnknown},
		{"zip of nothing", "\x1f\x8b", CodeUnknown},
		{"half a packed drawing", zip(whole)[:40], CodeCutShort},
		{"a packed drawing that grows", zip(strings.Repeat(" ", MaxBytes+2)), CodeTooBig},
		{"too large", strings.Repeat(" ", MaxBytes+1), CodeTooBig},
		{"cut in a tag", whole[:len(whole)-20], CodeCutShort},
		{"cut between tags", whole[:len(whole)-len("</svg>")], CodeCutShort},
		{"tags that cross", `<svg><g><path></g></path></svg>`, CodeBroken},
		{"no XML", `<svg <<>>`, CodeBroken},
		{"two hundred groups in each other", "<svg>" + strings.Repeat("<g>", 300), CodeTooDeep},
		{"a million groups in each other", "<svg>" + strings.Repeat("<g>", 1_000_000), CodeTooDeep},
		{"a million elements", "<svg>" + strings.Repeat("<g/>", 1_000_000) + "</svg>", CodeTooMany},
		{"entity bomb", bomb + `]><svg id="&k;"><rect width="20" height="20"/></svg>`, CodeBroken},
		{"entity from a file", `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg id="&x;"><rect width="20" height="20"/></svg>`, CodeBroken},
		{"re-use bomb", svgOf(uses(9)), CodeTooMany},
		{"re-use of itself", svgOf(`<g id="a"><use href="#a"/></g>`), CodeNoShape},
		{"re-use from elsewhere", svgOf(`<use href="other.svg#a"/>`), CodeNoShape},
		{"no shape", svgOf(`<text>hello</text>`), CodeNoShape},
		{"only hidden", svgOf(`<g display="none"><rect width="20" height="20"/></g>`), CodeNoShape},
		{"only a line", svgOf(`<line x1="0" y1="0" x2="100" y2="100"/>`), CodeNoShape},
		{"huge number", svgOf(`<rect width="1e300" height="20"/>`), CodeHuge},
		{"huge scale", svgOf(`<rect transform="scale(1e9)" width="1e6" height="20"/>`), CodeHuge},
		{"not a number", svgOf(`<rect width="wide" height="20"/>`), CodeNumber},
		{"unknown unit", svgOf(`<rect width="20furlong" height="20"/>`), CodeNumber},
		{"bad transform", svgOf(`<rect transform="rotate(1,2)" width="20" height="20"/>`), CodeNumber},
		{"huge viewBox", `<svg width="10mm" height="10mm" viewBox="0 0 1e-9 1e-9"><rect width="20" height="20"/></svg>`, CodeHuge},

		{"half a DXF", "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n10\n0\n20\n0\n40\n50\n", CodeCutShort},
		{"DXF cut in a group", "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n10", CodeCutShort},
		{"DXF with a word for a code", "0\nSECTION\n2\nENTITIES\nten\n0\n0\nEOF\n", CodeBroken},
		{"DXF with a word for a number", dxfOf("", "0\nCIRCLE\n10\nleft\n20\n0\n40\n50\n"), CodeNumber},
		{"DXF with a hex number", dxfOf("", "0\nCIRCLE\n10\n0x10p2\n20\n0\n40\n50\n"), CodeNumber},
		{"DXF with infinity", dxfOf("", "0\nCIRCLE\n10\nInf\n20\n0\n40\n50\n"), CodeNumber},
		{"DXF without anything", dxfOf("", ""), CodeNoShape},
		{"DXF huge", dxfOf("9\n$INSUNITS\n70\n6\n", "0\nCIRCLE\n10\n0\n20\n0\n40\n1000000\n"), CodeHuge},
		{"spline without knots", dxfOf("", "0\nSPLINE\n71\n3\n10\n0\n20\n0\n10\n1\n20\n1\n10\n2\n20\n0\n10\n3\n20\n1\n"), CodeNumber},
		{"binary DXF", "AutoCAD Binary DXF\r\n\x1a\x00", CodeBinaryDXF},
		{"DWG", "AC1027\x00\x00\x00\x00", CodeDWG},
		{"block bomb", blocks(9), CodeTooMany},
		{"deep blocks", blocks(30), CodeTooDeep},
		{"rows of blocks", "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nA\n0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nA\n70\n2000000000\n71\n2000000000\n0\nENDSEC\n0\nEOF\n", CodeTooMany},
	} {
		began := time.Now()
		_, f := Read([]byte(c.text), Options{})
		if f == nil || f.Code != c.code {
			t.Errorf("%s: %v, want %s", c.name, f, c.code)
		}
		if took := time.Since(began); took > 30*time.Second { // against a file without end, not a measure of speed
			t.Errorf("%s: took %v", c.name, took)
		}
	}
	if _, f := Read([]byte(whole), Options{}); f != nil {
		t.Errorf("the whole drawing: %v", f)
	}
}

// A broken path spoils its own shape only, and says where.
func TestBrokenPathStandsBesideOthers(t *testing.T) {
	d, f := Read([]byte(svgOf(`<rect width="50" height="50"/><path id="torn" d="M60 60 L90 60 L90 90 X 4"/>`)), Options{})
	if f != nil || len(d.Shapes) != 2 {
		t.Fatalf("%v %v", f, d.Shapes)
	}
	s := d.Shapes[1]
	if s.Name != "torn" || s.Usable() || s.Fault.Code != CodePath || s.Fault.Args[0].Value != 22 || s.Fault.Args[1].Value != "X 4" {
		t.Errorf("%+v", s.Fault)
	}
}

// A scanned outline with thousands of points is thinned out.
func TestManyPointsAreThinned(t *testing.T) {
	var b strings.Builder
	const n = 5000
	for i := range n {
		a := 2 * math.Pi * float64(i) / n
		fmt.Fprintf(&b, "%.4f,%.4f ", 60+40*math.Cos(a), 50+40*math.Sin(a))
	}
	d, f := Read([]byte(svgOf(`<polygon points="`+b.String()+`"/>`)), Options{})
	if f != nil {
		t.Fatal(f)
	}
	s := d.Shapes[0]
	if s.Fault != nil || len(s.Path) > 300 || math.Abs(s.Path.Area()-math.Pi*1600) > 0.05*2*math.Pi*40 {
		t.Errorf("%d points, area %.1f, %v", len(s.Path), s.Path.Area(), s.Fault)
	}
	b.Reset()
	for i := range 2 * n { // a saw that nothing thins
		a, r := math.Pi*float64(i)/n, 40+float64(i%2)
		fmt.Fprintf(&b, "%.4f,%.4f ", 60+r*math.Cos(a), 50+r*math.Sin(a))
	}
	if d, f = Read([]byte(svgOf(`<polygon points="`+b.String()+`"/>`)), Options{}); f != nil || d.Shapes[0].Fault == nil || d.Shapes[0].Fault.Code != CodePoints {
		t.Errorf("%v %v", f, d.Shapes)
	}
}

// laws holds what Read promises of whatever it reads.
func laws(t *testing.T, data []byte) {
	for _, o := range []Options{{}, {Unit: Inch, Join: 2}} {
		d, f := Read(data, o)
		if f != nil {
			if f.Code == "" || len(d.Shapes) > 0 {
				t.Fatalf("fault %v with %d shapes", f, len(d.Shapes))
			}
			continue
		}
		if len(d.Shapes) == 0 || len(d.Shapes) > maxShapes {
			t.Fatalf("%d shapes", len(d.Shapes))
		}
		for _, s := range d.Shapes {
			if s.Usable() && len(s.Path) > MaxPoints {
				t.Fatalf("%d points", len(s.Path))
			}
			if s.Fault == nil {
				if bad := s.Path.Validate(); bad != nil {
					t.Fatalf("handed on as good: %v", bad)
				}
				s.Path.Flatten(geom.ChordTol)
			} else if s.Fault.Code == "" {
				t.Fatal("a fault without a code")
			}
		}
	}
}

func FuzzSVG(f *testing.F) {
	for _, c := range svgCases {
		f.Add(svgOf(c.body))
	}
	f.Add(`<!DOCTYPE svg [<!ENTITY w "20">]><svg width="9mm"><rect width="&w;" height="20"/></svg>`)
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) < 4000 {
			laws(t, []byte(s))
		}
	})
}

// FuzzPathData reads the path alone, so that the figures get most of the time.
func FuzzPathData(f *testing.F) {
	for _, d := range []string{"M10 10h50v30a9 9 0 01-9 9z", "m0 0 100 0c0 50 50 50-50 90t5 5q3 3 6 6s1 1 2 2 3 3 4 4Z", "M0 0A1e-9 9 45 1 0 50 50L9 9"} {
		f.Add(d)
	}
	f.Fuzz(func(t *testing.T, d string) {
		if len(d) < 1000 && !strings.ContainsAny(d, "<&\"") {
			laws(t, []byte(svgOf(`<path d="`+d+`"/>`)))
		}
	})
}

func FuzzDXF(f *testing.F) {
	for _, c := range dxfCases {
		f.Add(dxfOf(c.header, c.body))
	}
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) < 4000 {
			laws(t, []byte(s))
		}
	})
}
