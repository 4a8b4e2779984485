package drawing

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// drawn is what a person has drawn and cut after following a chalk list.
type drawn struct {
	boxes map[string]geom.Rect // by piece, in the goods' own frame
	order []string             // as they were cut out
	long  bool                 // something longer than the table lay on it
}

// follow does what a chalk list says, step by step, knowing nothing else but
// where the motifs lie on the goods. It fails where a step cannot be done: a
// line off the table, a cut through a piece, a motif too far from the tape.
func follow(t *testing.T, steps []ChalkStep, in LayIn) drawn {
	t.Helper()
	out := drawn{boxes: map[string]geom.Rect{}}
	base, to := 0.0, math.Inf(1)
	uncut := map[string]bool{}
	for _, p := range in.Pieces {
		uncut[p.ID] = true
	}
	half := in.Step.MM()/2 + 1e-6
	edges := map[string]*[4][]float64{} // across lines, along lines, and their extents
	get := func(id string) *[4][]float64 {
		if edges[id] == nil {
			edges[id] = &[4][]float64{}
		}
		return edges[id]
	}
	onTable := func(i int, x float64) {
		if x > to-base+1e-6 || x < -1e-6 {
			t.Fatalf("step %d: %.2f does not lie on the table, which holds %.2f to %.2f", i+1, x, base, to)
		}
	}
	finish := func(id string) {
		e := get(id)
		if len(e[0]) < 2 || len(e[1]) < 2 {
			return
		}
		out.boxes[id] = geom.Rect{Min: geom.P(slices.Min(e[0]), slices.Min(e[1])), Max: geom.P(slices.Max(e[0]), slices.Max(e[1]))}
	}
	// No piece still there is met by a cut; where pieces touch, tape and motif
	// may differ by a step.
	through := func(i int, box geom.Rect) {
		for id := range uncut {
			b, ok := out.boxes[id]
			if ok && b.Grow(-2*half).Overlaps(box) {
				t.Fatalf("step %d cuts through %s", i+1, id)
			}
		}
	}
	for i, s := range steps {
		switch s.Op {
		case ChalkOnTable:
			base, to = s.From.MM(), s.To.MM()
			out.long = out.long || s.TooLong
			if in.Table > 0 && !s.TooLong && s.To-s.From > in.Table+1e-6 {
				t.Fatalf("step %d puts %.2f on a table of %.2f", i+1, float64(s.To-s.From), float64(in.Table))
			}
		case ChalkBase:
			onTable(i, s.At.MM())
		case ChalkLineOp:
			k := 1
			if s.Across {
				k = 0
				onTable(i, s.At.MM())
			} else {
				onTable(i, s.From.MM())
				onTable(i, s.To.MM())
			}
			for _, id := range s.Pieces {
				e := get(id)
				at := s.At.MM()
				if s.Across {
					at += base
				}
				e[k] = append(e[k], at)
				finish(id)
			}
		case ChalkMotif:
			id := s.Pieces[0]
			p := in.Pieces[slices.IndexFunc(in.Pieces, func(p Piece) bool { return p.ID == id })]
			// The person looks for a motif near the tape's reading.
			at := geom.P(math.NaN(), math.NaN())
			if s.MotifAlong.Set || s.MotifAcross.Set {
				near := p.Motif
				if s.MotifAlong.Set {
					near.X = s.MotifAlong.Value.MM() + base
				}
				if s.MotifAcross.Set {
					near.Y = s.MotifAcross.Value.MM() - in.shift().Y
				}
				q := nearestMotif(near, in.Lattice)
				if s.MotifAlong.Set && math.Abs(q.X-near.X) > half || s.MotifAcross.Set && math.Abs(q.Y-near.Y) > half {
					t.Fatalf("step %d: the motif lies %v from the tape's %v", i+1, q.Sub(near), near)
				}
				at = q.Add(in.shift())
			}
			e := get(id)
			for _, side := range []struct {
				l   unit.Opt
				dir geom.Pt
			}{{s.Front, p.Front}, {s.Back, p.Front.Mul(-1)}, {s.Right, p.Front.Turned(1)}, {s.Left, p.Front.Turned(3)}} {
				if !side.l.Set {
					continue
				}
				q := at.Add(side.dir.Mul(side.l.Value.MM()))
				if side.dir.X != 0 {
					e[0] = append(e[0], q.X)
				} else {
					e[1] = append(e[1], q.Y)
				}
			}
			finish(id)
		case ChalkLay:
			id := s.Pieces[0]
			p := in.Pieces[slices.IndexFunc(in.Pieces, func(p Piece) bool { return p.ID == id })]
			for _, q := range s.Points {
				onTable(i, q.Along.MM())
			}
			if s.Template == "" {
				var poly geom.Polygon
				for _, q := range s.Points {
					poly = append(poly, geom.P(q.Along.MM()+base, q.Across.MM()))
				}
				out.boxes[id] = poly.Bounds()
				continue
			}
			// The template as printed, in the seat's frame, laid by its marks.
			front := geom.P(s.Points[0].Along.MM()+base, s.Points[0].Across.MM())
			back := geom.P(s.Points[1].Along.MM()+base, s.Points[1].Across.MM())
			way := back.Sub(front)
			if math.Abs(way.X) > 1e-9 && math.Abs(way.Y) > 1e-9 {
				t.Fatalf("step %d: the marks of %s are %v apart, which tilts it", i+1, id, way)
			}
			ring := p.Shape.Flatten(0.05)
			was, _ := leave(ring, p.Centre, p.Front)
			out.boxes[id] = ring.Translate(front.Sub(was)).Bounds()
		case CutAcross:
			onTable(i, s.At.MM())
			x := s.At.MM() + base
			v1 := in.Width.MM()
			if s.To > 0 {
				v1 = s.To.MM()
			}
			through(i, geom.Rect{Min: geom.P(x-0.01, s.From.MM()), Max: geom.P(x+0.01, v1)})
		case CutAlong:
			through(i, geom.Rect{Min: geom.P(base+s.From.MM(), s.At.MM()-0.01), Max: geom.P(base+s.To.MM(), s.At.MM()+0.01)})
		case CutOut:
			for _, id := range s.Pieces {
				if _, ok := out.boxes[id]; !ok {
					t.Fatalf("step %d cuts out %s, which is not drawn whole", i+1, id)
				}
				delete(uncut, id)
				out.order = append(out.order, id)
			}
		}
	}
	if len(uncut) > 0 {
		t.Fatalf("never cut out: %v", uncut)
	}
	return out
}

// same holds what was drawn against the lay, within tol on every side.
func same(t *testing.T, d drawn, in LayIn, tol float64) {
	t.Helper()
	for _, p := range in.Pieces {
		b := p.Shape.Bounds()
		want := geom.Rect{Min: b.Min.Add(in.shift()), Max: b.Max.Add(in.shift())}
		got := d.boxes[p.ID]
		for _, x := range []float64{got.Min.X - want.Min.X, got.Max.X - want.Max.X, got.Min.Y - want.Min.Y, got.Max.Y - want.Max.Y} {
			if math.Abs(x) > tol {
				t.Fatalf("%s is drawn at %v instead of %v", p.ID, got, want)
			}
		}
	}
}

// TestFollowingTheChalkList: whoever has the list alone gets the pieces of the
// reading room, exactly where they lie on whole marking steps, whatever the
// table's length.
func TestFollowingTheChalkList(t *testing.T) {
	for _, table := range []unit.Length{0, 200 * inch, 96 * inch, 60 * inch, 30 * inch, 24 * inch} {
		in := room()
		in.Step, in.Table = inch/16, table
		d := follow(t, ChalkSteps(in), in)
		same(t, d, in, 1e-6)
		if d.long != (table > 0 && table < 24*inch) {
			t.Errorf("table %v: too long is %v", table, d.long)
		}
	}
	// A bench 20 in along on a table of 18 in is said to be too long for it.
	in := room()
	in.Step, in.Table = inch/16, 18*inch
	if d := follow(t, ChalkSteps(in), in); !d.long {
		t.Error("nothing says that pieces are longer than the table")
	}
}

// TestChalkListByHand holds the first stretch of the reading room against what
// was worked out by hand: rows of 23¼ in at 0 and 27 in, pieces of 24½ behind a
// selvedge of ½ in; the table is 60 in, so two rows lie on it (to 50¼ in).
func TestChalkListByHand(t *testing.T) {
	in := room()
	in.Step, in.Table = inch/16, 60*inch
	st := style(1, unit.Inches)
	var got []string
	for _, s := range ChalkSteps(in) {
		x := s.Text(st)
		got = append(got, strings.TrimSpace(x.Do+"|"+x.At+"|"+x.How+"|"+x.Pieces))
		if s.Op == CutOut {
			break
		}
	}
	want := []string{
		"chalk-do-square||chalk-square|",
		"chalk-do-on-table||chalk-on-table 0 50¼|",
		"chalk-do-across|0|chalk-span ½ 25|A1",
		"chalk-do-across|0|chalk-span 27½ 52|A2",
		"chalk-do-across|23¼|chalk-span ½ 25|A1",
		"chalk-do-across|23¼|chalk-span 27½ 52|A2",
		"chalk-do-across|27|chalk-span ½ 25|A3",
		"chalk-do-across|27|chalk-span 27½ 52|A4",
		"chalk-do-across|50¼|chalk-span ½ 25|A3",
		"chalk-do-across|50¼|chalk-span 27½ 52|A4",
		"chalk-do-along|½|chalk-span 0 23¼|A1",
		"chalk-do-along|½|chalk-span 27 50¼|A3",
		"chalk-do-along|25|chalk-span 0 23¼|A1",
		"chalk-do-along|25|chalk-span 27 50¼|A3",
		"chalk-do-along|27½|chalk-span 0 23¼|A2",
		"chalk-do-along|27½|chalk-span 27 50¼|A4",
		"chalk-do-along|52|chalk-span 0 23¼|A2",
		"chalk-do-along|52|chalk-span 27 50¼|A4",
		"chalk-do-cut-across|50¼|chalk-edge-to-edge|",
		"chalk-do-cut-across|23¼|chalk-edge-to-edge|",
		"chalk-do-cut-along|25|chalk-span 0 23¼|",
		"chalk-do-cut-along|25|chalk-span 23¼ 50¼|",
		"chalk-do-cut-out||chalk-cut-out|A1–A4",
	}
	for i := range max(len(got), len(want)) {
		g, w := "", ""
		if i < len(got) {
			g = got[i]
		}
		if i < len(want) {
			w = want[i]
		}
		if g != w {
			t.Errorf("step %d: got %s, want %s", i+1, g, w)
		}
	}
}

// TestFollowingRandomChalkLists does the same for random lays: squared pieces
// on whole steps or bound by a pattern, shaped ones, slanted strips, pieces in
// no rows at all, on any table.
func TestFollowingRandomChalkLists(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 61))
	t.Logf("-seed %d", *seed)
	exact, bound, shaped, long, pulled := 0, 0, 0, 0, 0
	for range 400 {
		step := []unit.Length{inch / 16, 1}[r.IntN(2)]
		in := LayIn{Width: 1400, Selvedge: unit.RoundNearest(12, step), Step: step}
		if r.IntN(3) > 0 {
			in.Table = unit.Length(300 + r.Float64()*2500)
		}
		pattern := r.IntN(2) == 0
		if pattern {
			in.Lattice = lay.Lattice{Along: unit.Length(90 + 200*r.Float64()), Across: unit.Length(80 + 100*r.Float64()), Drop: []float64{0, 0.5, 1.0 / 3}[r.IntN(3)],
				Phase: geom.P(50*r.Float64(), 50*r.Float64())}
		}
		snap := func(x float64) float64 { return unit.RoundNearest(unit.Length(x), step).MM() }
		x, n := 0.0, 0
		for range 1 + r.IntN(5) {
			y, far := 0.0, x
			for y < 1000 {
				w, h := snap(120+300*r.Float64()), snap(120+300*r.Float64())
				front := geom.P(-1, 0).Turned(r.IntN(4))
				p := Piece{ID: "A" + strconv.Itoa(n+1), Front: front, Width: unit.Length(w), Depth: unit.Length(h)}
				n++
				at := geom.P(snap(x+r.Float64()*40), snap(y+r.Float64()*30))
				kind := r.IntN(5)
				if pattern {
					p.HasMotif, p.BoundAlong, p.BoundAcross = true, r.IntN(2) == 0, r.IntN(2) == 0
					if p.BoundAlong {
						at.X += r.Float64() * 3
					}
					if p.BoundAcross {
						at.Y += r.Float64() * 3
					}
				}
				switch {
				case kind == 0: // a round blank, drawn round with its template
					rad := min(w, h) / 2
					at = at.Add(geom.P(r.Float64(), r.Float64()))
					p.Shape, p.Template = geom.Circle(at.Add(geom.P(rad, rad)), rad), "t"
					p.Centre = at.Add(geom.P(rad, rad))
					w, h = 2*rad, 2*rad
				case kind == 1 && !pattern: // a slanted strip
					p.Front = geom.Pt{}
					p.Shape = geom.Path{{Pt: at}, {Pt: at.Add(geom.P(w*0.6, 0))}, {Pt: at.Add(geom.P(w, h))}, {Pt: at.Add(geom.P(w*0.4, h))}}
				default:
					p.Shape = geom.Box(at.X, at.Y, at.X+w, at.Y+h)
					p.Centre = at.Add(geom.P(w/2, h/2))
				}
				p.Motif = at.Add(geom.P(w*r.Float64(), h*r.Float64()))
				in.Pieces = append(in.Pieces, p)
				y = at.Y + h + 6
				far = max(far, at.X+w)
			}
			x = far + 6
			if r.IntN(3) == 0 {
				x -= 100 * r.Float64() // rows that reach into each other; pieces may overlap, which no list minds
			}
			if r.IntN(4) == 0 {
				x += 2000 * r.Float64() // a long bad stretch
			}
		}
		in.Length = unit.Length(x + 500)
		steps := ChalkSteps(in)
		var d drawn
		if !overlap(in) {
			d = follow(t, steps, in)
			same(t, d, in, step.MM()/2+0.06) // round blanks are flattened to within 0.05 mm
			long += map[bool]int{true: 1}[d.long]
		}
		for _, s := range steps {
			switch s.Op {
			case ChalkMotif:
				bound++
			case ChalkLay:
				shaped++
			case ChalkBase:
				pulled++
			case ChalkLineOp:
				exact++
			}
		}
	}
	if exact == 0 || bound == 0 || shaped == 0 || long == 0 || pulled == 0 {
		t.Errorf("some case never came up: %d lines, %d motifs, %d templates, %d too long, %d pulled on", exact, bound, shaped, long, pulled)
	}
	t.Logf("%d lines, %d motifs, %d templates, %d too long, %d pulled on", exact, bound, shaped, long, pulled)
}

// overlap tells whether boxes of a lay lie on each other, which lays never do.
func overlap(in LayIn) bool {
	for i, p := range in.Pieces {
		for _, q := range in.Pieces[:i] {
			if p.Shape.Bounds().Overlaps(q.Shape.Bounds()) {
				return true
			}
		}
	}
	return false
}
