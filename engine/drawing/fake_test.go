package drawing

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// fixed measures text as if every letter were 0.6 ems wide, so that goldens do
// not hang on a typeface.
type fixed struct{}

func (fixed) Width(s string, size float64, _ Weight) float64 {
	return 0.6 * size * float64(utf8.RuneCountInString(s))
}
func (fixed) CapHeight(size float64, _ Weight) float64 { return 0.7 * size }
func (fixed) Ascent(size float64, _ Weight) float64    { return 0.75 * size }
func (fixed) Descent(size float64, _ Weight) float64   { return 0.2 * size }

// plainWords answers with the key's last part and the arguments.
type plainWords struct{}

func (plainWords) Label(key string, args ...unit.Arg) string {
	s := strings.TrimPrefix(key, "draw.")
	for _, a := range args {
		if t, ok := a.Value.(string); ok {
			s += " " + t
		}
	}
	return s
}

func style(paperPerModel float64, u unit.Unit) Style {
	return Style{PaperPerModel: paperPerModel, Metrics: fixed{}, Words: plainWords{}, Units: unit.UnitsFor(u)}
}

const inch = 25.4

// The reading room, an invented scenario: side chairs 18½ in front, 16 back,
// 17¼ deep, bow ¾; elbow chairs 20 × 18; a window bench 42 × 14.
func trapeze(wf, wb, d, bow, r float64) (geom.Path, *Measures) {
	wf, wb, d, bow, r = wf*inch, wb*inch, d*inch, bow*inch, r*inch
	fl, fr, br, bl := geom.P(-wf/2, bow), geom.P(wf/2, bow), geom.P(wb/2, d), geom.P(-wb/2, d)
	front := geom.Segment{A: fl, B: fr}
	if bow > 0 {
		front = geom.ArcThrough(fl, fr, bow)
	}
	p := geom.PathOf([]geom.Segment{front, {A: fr, B: br}, {A: br, B: bl}, {A: bl, B: fl}})
	for i := 3; i >= 0 && r > 0; i-- {
		q, f := p.Fillet(i, r)
		if f != nil {
			panic(f)
		}
		p = q
	}
	return p, &Measures{fl, fr, br, bl, unit.Length(wf), unit.Length(wb), unit.Length(d), unit.Length(bow)}
}

func grown(p geom.Path, d float64) Blank {
	q, err := geom.Offset(p, func(int) float64 { return d * inch })
	if err != nil {
		panic(err)
	}
	b := q.Bounds()
	return Blank{q, unit.Length(b.W()), unit.Length(b.H())}
}

func sideChair() SeatIn {
	p, m := trapeze(18.5, 16, 17.25, 0.75, 0.875)
	return SeatIn{Board: p, Size: [2]unit.Length{18.5 * inch, 17.25 * inch}, Measures: m, Foam: grown(p, 0.5), Cover: grown(p, 3),
		Handles: []Handle{{"front_left", m.FrontLeft}, {"bow", geom.P(0, 0)}}, Dims: true}
}

// room is the reading room's cloth lay, up the roll.
func room() LayIn {
	l := LayIn{Width: 54 * inch, Selvedge: inch / 2, Length: 144 * inch, Buy: 144 * inch, Laid: 129.625 * inch, Top: geom.P(1, 0), Foot: "note"}
	put := func(id, name string, seat int, wf, wb, d, bow, w, dep, x, y float64) {
		board, _ := trapeze(wf, wb, d, bow, 0)
		b := board.Turned(3)
		c := geom.P((x+dep/2)*inch, (y+w/2)*inch)
		b = b.Translate(c.Sub(b.Bounds().Center()))
		l.Pieces = append(l.Pieces, Piece{ID: id, Name: name, For: name + " " + id[1:], Seat: seat, Shape: geom.Box(x*inch, y*inch, (x+dep)*inch, (y+w)*inch),
			Width: unit.Length(w * inch), Depth: unit.Length(dep * inch), Board: b, Front: geom.P(-1, 0), Centre: c, Marks: "m"})
	}
	for i := range 3 {
		x := 27 * float64(i)
		put("A"+string(rune('1'+2*i)), "Side chair", 0, 18.5, 16, 17.25, 0.75, 24.5, 23.25, x, 0)
		put("A"+string(rune('2'+2*i)), "Side chair", 0, 18.5, 16, 17.25, 0.75, 24.5, 23.25, x, 27)
	}
	put("B1", "Elbow chair", 1, 20, 18, 18, 0.75, 26, 24, 80.625, 0)
	put("B2", "Elbow chair", 1, 20, 18, 18, 0.75, 26, 24, 80.625, 27)
	put("C1", "Window bench", 2, 42, 42, 14, 0, 48, 20, 109.625, 0)
	l.Offcuts = []Offcut{{geom.Rect{Min: geom.P(130*inch, 0), Max: geom.P(143*inch, 53*inch)}, 13 * inch, 53 * inch}}
	return l
}

// golden holds a drawing's text against a file in testdata.
func golden(t *testing.T, name string, d Drawing) {
	t.Helper()
	path := filepath.Join("testdata", name+".txt")
	got := Dump(d)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(g), len(w)) {
		a, b := "", ""
		if i < len(g) {
			a = g[i]
		}
		if i < len(w) {
			b = w[i]
		}
		if a != b {
			t.Errorf("%s line %d:\n got %s\nwant %s\n(-update rewrites; look at the picture first)", path, i+1, a, b)
			return
		}
	}
}

func texts(d Drawing, layer string) []Text {
	var out []Text
	for _, it := range d.Items {
		if t, ok := it.(Text); ok && (layer == "" || t.Layer == layer) {
			out = append(out, t)
		}
	}
	return out
}
