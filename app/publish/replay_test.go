package publish

import (
	"encoding/csv"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"slipseat/engine/cloth"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// TestChalkListAlone gives the written chalk list, read back as text, to
// somebody who has nothing else but the cloth with its pattern and the
// templates: the pieces drawn by it are those of the lay, exactly where squared
// pieces lie on whole marking steps, within half a step otherwise. No stretch is
// longer than the table.
func TestChalkListAlone(t *testing.T) {
	for _, c := range []struct {
		job string
		u   unit.Unit
	}{{"demo", unit.Inches}, {"hall", unit.Inches}} {
		o := room(t, c.job, c.u)
		k := newMaker(o)
		o.Only = []string{"chalk-list"}
		dir := folder(t, "chalk-"+c.job)
		write(t, dir, o)
		f, err := os.Open(filepath.Join(dir, "chalk-list.csv"))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		r := csv.NewReader(f)
		head, err := r.Read()
		if err != nil {
			t.Fatal(err)
		}
		for i, h := range chalkColumns {
			if head[i] != k.say("csv."+h) {
				t.Fatalf("column %d is headed %q", i+1, head[i])
			}
		}
		sheets := map[string][][]string{}
		for {
			row, err := r.Read()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			sheets[row[0]] = append(sheets[row[0]], row)
		}
		exact, half := 0, 0
		for i := range o.Plan.Goods {
			g := &o.Plan.Goods[i]
			for _, in := range k.m.Goods(g, false, "") {
				name := k.m.FileBase(g)
				if in.Title != "" {
					name += ", " + in.Title
				}
				boxes := replay(t, k, sheets[name], in)
				for _, p := range in.Pieces {
					b := p.Shape.Bounds()
					by := geom.P(0, in.Selvedge.MM())
					if in.Sheet {
						by.X = in.Selvedge.MM()
					}
					want := geom.Rect{Min: b.Min.Add(by), Max: b.Max.Add(by)}
					got, ok := boxes[p.ID]
					if !ok {
						t.Errorf("%s: %s was never drawn", name, p.ID)
						continue
					}
					tol := in.Step.MM()/2 + 0.06 // round shapes are flattened
					if g.Roll != nil && cloth.Lattice(g.Roll.Cloth).None() && p.Template == "" && onSteps(b, in.Step) {
						tol = 1e-6
						exact++
					} else {
						half++
					}
					for _, d := range []float64{got.Min.X - want.Min.X, got.Max.X - want.Max.X, got.Min.Y - want.Min.Y, got.Max.Y - want.Max.Y} {
						if math.Abs(d) > tol {
							t.Errorf("%s: %s is drawn at %v instead of %v", name, p.ID, got, want)
							break
						}
					}
				}
			}
		}
		t.Logf("%s: %d pieces exactly, %d within half a step", c.job, exact, half)
		if half == 0 || c.job == "hall" && exact == 0 {
			t.Errorf("%s: the list was not put to the test", c.job)
		}
	}
}

// onSteps tells whether a piece lies on whole marking steps. Squared pieces
// beside shaped ones may not: their places are printed to the nearest step.
func onSteps(b geom.Rect, step unit.Length) bool {
	for _, v := range [...]float64{b.Min.X, b.Min.Y} {
		if math.Abs(v-math.Round(v/step.MM())*step.MM()) > 1e-6 {
			return false
		}
	}
	return true
}

// replay draws by the rows of one sheet.
func replay(t *testing.T, k *maker, rows [][]string, in drawing.LayIn) map[string]geom.Rect {
	t.Helper()
	col := func(row []string, name string) string { return row[slices.Index(chalkColumns, name)] }
	length := func(s string) float64 {
		l, err := unit.Parse(s, unit.Millimetres)
		if err != nil || strings.TrimSpace(s) == "" {
			t.Fatalf("%q is no length: %v", s, err)
		}
		return l.MM()
	}
	edges := map[string]*[2][]float64{}
	edge := func(id string, across bool, at float64) {
		if edges[id] == nil {
			edges[id] = &[2][]float64{}
		}
		n := 1
		if across {
			n = 0
		}
		edges[id][n] = append(edges[id][n], at)
	}
	base := 0.0
	for _, row := range rows {
		do := col(row, "do")
		is := func(code string) bool { return do == k.say("csv.do-"+code) }
		ids := strings.Split(col(row, "pieces"), " ")
		switch {
		case is("on-table"):
			base = length(col(row, "from"))
			if to := length(col(row, "to")); in.Table > 0 && to-base > in.Table.MM()+1e-6 && col(row, "note") == "" {
				t.Fatalf("%v: longer than the table", row)
			}
		case is("across"):
			for _, id := range ids {
				edge(id, true, base+length(col(row, "at")))
			}
		case is("along"):
			for _, id := range ids {
				edge(id, false, length(col(row, "at")))
			}
		case is("motif"):
			id := col(row, "pieces")
			p := in.Pieces[slices.IndexFunc(in.Pieces, func(p drawing.Piece) bool { return p.ID == id })]
			// The motif that lies nearest to the tape's reading.
			at := p.Motif.Add(geom.P(0, in.Selvedge.MM()))
			along, across := col(row, "motif-along"), col(row, "motif-across")
			l := in.Lattice
			if across != "" {
				v := length(across) - in.Selvedge.MM() - l.Phase.Y
				at.Y = l.Phase.Y + math.Round(v/l.Across.MM())*l.Across.MM() + in.Selvedge.MM()
			}
			if along != "" {
				column := 0.0
				if l.Across > 0 {
					column = math.Round((at.Y - in.Selvedge.MM() - l.Phase.Y) / l.Across.MM())
				}
				_, drop := math.Modf(column * l.Drop)
				u := base + length(along) - l.Phase.X - drop*l.Along.MM()
				at.X = l.Phase.X + drop*l.Along.MM() + math.Round(u/l.Along.MM())*l.Along.MM()
				if d := math.Abs(at.X - base - length(along)); d > in.Step.MM()/2+1e-6 {
					t.Fatalf("%v: the motif lies %.2f mm from the tape's reading", row, d)
				}
			}
			for name, dir := range map[string]geom.Pt{"front": p.Front, "back": p.Front.Mul(-1), "right": p.Front.Turned(1), "left": p.Front.Turned(3)} {
				if s := col(row, name); s != "" {
					q := at.Add(dir.Mul(length(s)))
					edge(id, dir.X != 0, map[bool]float64{true: q.X, false: q.Y}[dir.X != 0])
				}
			}
		case is("lay"):
			id := col(row, "pieces")
			p := in.Pieces[slices.IndexFunc(in.Pieces, func(p drawing.Piece) bool { return p.ID == id })]
			var pts []geom.Pt
			for _, s := range strings.Split(col(row, "points"), ";") {
				a, b, _ := strings.Cut(s, "/")
				pts = append(pts, geom.P(base+length(a), length(b)))
			}
			if col(row, "template") == "" {
				for _, q := range pts {
					edge(id, true, q.X)
					edge(id, false, q.Y)
				}
				continue
			}
			// The template's own marks, where the centre line leaves it.
			ring := p.Shape.Flatten(0.05)
			var front geom.Pt
			best := -1.0
			for n, a := range ring {
				b := ring[(n+1)%len(ring)]
				e := b.Sub(a)
				if den := p.Front.Cross(e); math.Abs(den) > 1e-12 {
					d, w := a.Sub(p.Centre).Cross(e)/den, a.Sub(p.Centre).Cross(p.Front)/den
					if w >= -1e-9 && w <= 1+1e-9 && d > best {
						best, front = d, p.Centre.Add(p.Front.Mul(d))
					}
				}
			}
			box := ring.Translate(pts[0].Sub(front)).Bounds()
			edges[id] = &[2][]float64{{box.Min.X, box.Max.X}, {box.Min.Y, box.Max.Y}}
		}
	}
	out := map[string]geom.Rect{}
	for id, e := range edges {
		if len(e[0]) >= 2 && len(e[1]) >= 2 {
			out[id] = geom.Rect{Min: geom.P(slices.Min(e[0]), slices.Min(e[1])), Max: geom.P(slices.Max(e[0]), slices.Max(e[1]))}
		}
	}
	return out
}
