package buildup

import (
	"bufio"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipseat/engine/unit"
)

var seed = flag.Uint64("seed", 20261124, "seed of the random checks")

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s: got %v, want %v (within %v)", name, got, want, tol)
	}
}

// hand finds a file of testdata/hand beside the module's go.mod.
func hand(t *testing.T, name string) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(dir, "testdata", "hand", name)
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the test")
		}
		dir = up
	}
}

type wrapCase struct {
	name  string
	sec   Section
	terms map[string]float64 // inches
	want  float64
	tol   float64
}

func readWraps(t *testing.T) []wrapCase {
	t.Helper()
	f, err := os.Open(hand(t, "wrap.txt"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []wrapCase
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		line := strings.TrimSpace(lines.Text())
		word, rest, _ := strings.Cut(line, " ")
		switch word {
		case "case":
			out = append(out, wrapCase{name: rest, terms: map[string]float64{}})
		case "given":
			out[len(out)-1].sec = readSection(t, rest)
		case "term":
			name, v, _ := strings.Cut(rest, " ")
			out[len(out)-1].terms[name] = inches(t, v)
		case "wrap":
			v, tol, _ := strings.Cut(rest, " within ")
			out[len(out)-1].want, out[len(out)-1].tol = inches(t, v), inches(t, tol)
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

func inches(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func readSection(t *testing.T, text string) Section {
	t.Helper()
	var s Section
	for _, part := range strings.Split(text, "  ") {
		name, v, _ := strings.Cut(strings.TrimSpace(part), " ")
		if name == "over-board" {
			s.OverBoard = true
			continue
		}
		l, err := unit.Parse(v, unit.Inches)
		if err != nil {
			t.Fatalf("%q: %v", part, err)
		}
		switch name {
		case "foam":
			s.Foam = l
		case "overhang":
			s.Overhang = l
		case "radius":
			s.Radius = l
		case "bevel":
			s.Bevel = l
		case "wadding":
			s.Wadding = l
		case "board":
			s.Board = l
		case "turn":
			s.TurnUnder = l
		case "pull":
			s.Pull = l
		default:
			t.Fatalf("what is %q?", part)
		}
	}
	return s
}

func TestWrapByHand(t *testing.T) {
	cases := readWraps(t)
	if len(cases) != 5 {
		t.Fatalf("read %d cases, want 5", len(cases))
	}
	for _, c := range cases {
		w := c.sec.Wrap()
		near(t, "case "+c.name, w.Length().In(), c.want, c.tol)
		if len(w.Terms) != len(c.terms) {
			t.Errorf("case %s: got %d terms %v, want %d", c.name, len(w.Terms), w.Terms, len(c.terms))
		}
		for _, x := range w.Terms {
			name := strings.TrimPrefix(x.Code, "wrap.")
			want, ok := c.terms[name]
			if !ok {
				t.Errorf("case %s: term %s is not in the hand calculation", c.name, x.Code)
				continue
			}
			near(t, "case "+c.name+", "+name, unit.Length(x.Value).In(), want, 5e-5)
		}
	}
}

// chordWrap is the slow twin: the section as a cloud of points on its outer
// edge, the cover as the taut line round it (the upper right part of their
// convex hull), its length added up chord by chord from above the board's edge
// to below it. It shares no formula with Section.Wrap.
func chordWrap(s Section) float64 {
	const inner, fine = 1000.0, 4000
	type pt struct{ x, y float64 }
	var pts []pt
	b, o, r, w := s.Board.MM(), s.Overhang.MM(), s.Radius.MM(), s.Wadding.MM()
	top := b + s.Foam.MM()
	pts = append(pts, pt{-inner, top + w}, pt{-inner, 0})
	// The rounded upper edge with the wadding over it.
	for i := range fine + 1 {
		a := math.Pi / 2 * float64(i) / fine
		pts = append(pts, pt{o - r + (r+w)*math.Cos(a), top - r + (r+w)*math.Sin(a)})
	}
	// Down the side to the foam's lower edge, or to where a bevel begins.
	pts = append(pts, pt{o + w, b + s.Bevel.MM()})
	if s.OverBoard {
		pts = append(pts, pt{w, 0}) // the wadding goes on to the board's lower edge
	}
	pts = append(pts, pt{0, 0})
	// Convex hull, lowest point first, by Andrew's chains.
	slices.SortFunc(pts, func(p, q pt) int {
		if p.x != q.x {
			return cmp(p.x, q.x)
		}
		return cmp(p.y, q.y)
	})
	turn := func(a, b, c pt) float64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }
	chain := func(order []pt) []pt {
		var h []pt
		for _, p := range order {
			for len(h) >= 2 && turn(h[len(h)-2], h[len(h)-1], p) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h
	}
	lower := chain(pts)
	slices.Reverse(pts)
	upper := chain(pts)
	hull := append(lower[:len(lower)-1], upper[:len(upper)-1]...)
	// From (0,0) round to the far top left corner, counter-clockwise; the flat
	// top counts from above the board's edge, x = 0.
	at := slices.IndexFunc(hull, func(p pt) bool { return p.x == 0 && p.y == 0 })
	if at < 0 {
		// With the wadding over the board's edge (w, 0) hides (0, 0): the way
		// under the board is straight.
		at = slices.IndexFunc(hull, func(p pt) bool { return p.x == w && p.y == 0 })
		if at < 0 {
			return math.NaN()
		}
	}
	way := -inner + hull[at].x
	for {
		p := hull[at%len(hull)]
		q := hull[(at+1)%len(hull)]
		way += math.Hypot(q.x-p.x, q.y-p.y)
		at++
		if q.x == -inner {
			break
		}
	}
	return way + s.TurnUnder.MM() + s.Pull.MM()
}

func cmp(a, b float64) int {
	if a < b {
		return -1
	}
	if a > b {
		return 1
	}
	return 0
}

func TestWrapAgainstChords(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 11))
	t.Logf("-seed %d", *seed)
	for i := range 300 {
		s := Section{
			Foam: unit.Length(5 + r.Float64()*95), Overhang: unit.Length(r.Float64() * 20),
			Board: unit.Length(6 + r.Float64()*20), TurnUnder: unit.Length(r.Float64() * 40), Pull: unit.Length(r.Float64() * 20),
		}
		switch i % 4 {
		case 0:
			s.Radius = s.Foam * unit.Length(r.Float64())
		case 1:
			s.Radius = s.Foam * unit.Length(r.Float64())
			s.Wadding = unit.Length(r.Float64() * 25)
		case 2:
			s.Radius, s.Wadding, s.OverBoard = s.Foam*unit.Length(r.Float64()), unit.Length(r.Float64()*25), true
		case 3:
			s.Bevel = s.Foam * unit.Length(r.Float64())
		}
		if got, want := s.Wrap().Value(), chordWrap(s); math.IsNaN(want) || math.Abs(got-want) > 1e-5 {
			t.Fatalf("case %d %+v: got %v, chords give %v mm", i, s, got, want)
		}
	}
	// Planted: a wrap that forgets the rounding must not pass.
	s := Section{Foam: 50, Radius: 20, Wadding: 5, Board: 12, TurnUnder: 25}
	square := s
	square.Radius = 0
	if math.Abs(square.Wrap().Value()-chordWrap(s)) < 0.1 {
		t.Error("the twin does not see the rounding")
	}
}

// The sum of facts 5.2 without corners is a lower bound: foam oversize, foam,
// wadding, board and turn.
func TestWrapIsNotBelowThePlainSum(t *testing.T) {
	s := Section{Foam: 2 * unit.In, Overhang: unit.In / 2, Wadding: unit.In / 2, Board: unit.In / 2, TurnUnder: 1.5 * unit.In}
	if got := s.Wrap().Length().In(); got < 5 {
		t.Errorf("got %v in, want at least 5", got)
	}
	s = Section{Foam: 1 * unit.In, Board: unit.In / 2, TurnUnder: 1.5 * unit.In}
	near(t, "the popular 3 in for thin foam", s.Wrap().Length().In(), 3, 1e-12)
}

func TestDomeExtra(t *testing.T) {
	// The exact length of a circular arc of sagitta h and of a parabola, for
	// the largest dome that is allowed and a small one.
	for _, x := range []float64{1.0 / 8, 1.0 / 20, 1.0 / 100} {
		got := DomeExtra(unit.Length(x*400), 400).MM()
		rad := (0.25 + x*x) / (2 * x)
		arc := 400 * (2*rad*math.Asin(0.5/rad) - 1)
		k := 4 * x
		parabola := 400 * (0.5*math.Sqrt(1+k*k) + math.Asinh(k)/(2*k) - 1)
		for name, want := range map[string]float64{"circle": arc, "parabola": parabola} {
			if got < want || got > want*1.04 {
				t.Errorf("dome %v of the span: got %v, a %s takes %v", x, got, name, want)
			}
		}
	}
	if got := DomeExtra(5, 0); got != 0 {
		t.Errorf("no span: got %v", got)
	}
}

func TestCrownExtra(t *testing.T) {
	near(t, "none", CrownExtra([]Layer{{Thickness: 25}}).MM(), 0, 0)
	// One layer half an inch thick, 3 in smaller each side: 2 (hypot(3, .5) - 3).
	one := []Layer{{Thickness: 25}, {Thickness: unit.In / 2, Inset: 3 * unit.In}}
	near(t, "one, in", CrownExtra(one).In(), 2*(math.Sqrt(9.25)-3), 1e-12)
	// A second one right above it, steeper: its lower edge is all that is
	// touched; the taut line goes from the foam's edge to the top.
	steep := append(one, Layer{Thickness: unit.In, Inset: 3 * unit.In})
	near(t, "same size twice is one thicker", CrownExtra(steep).In(), 2*(math.Hypot(3, 1.5)-3), 1e-9)
	// A smaller one on top stands out: two straight parts.
	two := append(one, Layer{Thickness: unit.In / 4, Inset: 6 * unit.In})
	near(t, "two steps", CrownExtra(two).In(), 2*(math.Hypot(3, .5)+math.Hypot(3, .25)-6), 1e-9)
	// A steeper second one hides the first: the line goes straight over.
	hidden := append(one, Layer{Thickness: unit.In, Inset: 4 * unit.In})
	near(t, "hidden first step", CrownExtra(hidden).In(), 2*(math.Hypot(4, 1.5)-4), 1e-9)
}

func ExampleSection_Wrap() {
	s := Section{Foam: 1 * unit.In, Board: unit.In / 2, TurnUnder: 1.25 * unit.In, Pull: unit.In / 2}
	fmt.Printf("%.3f in\n", s.Wrap().Length().In())
	// Output: 3.250 in
}
