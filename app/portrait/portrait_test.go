package portrait

import (
	"flag"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"slipseat/app/job"
	"slipseat/app/look"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
	"slipseat/engine/seatview"
	"slipseat/engine/swatch"
	"slipseat/engine/unit"
)

var (
	jobs    = flag.Int("jobs", 8, "how many random jobs the pictures are compared for")
	jobSeed = flag.Uint64("job-seed", 1, "seed of the random jobs")
)

var pictures = flag.String("pictures", "", "folder to write the pictures to, for looking at them")

// laid plans a job with its first lays.
func laid(t testing.TB, j job.Job) *plan.Plan {
	t.Helper()
	lays := map[lay.ProblemID]lay.Lay{}
	find := func(id lay.ProblemID) (lay.Lay, bool) { l, ok := lays[id]; return l, ok }
	p := plan.Make(j.Input(), nil, find)
	for range 3 { // glue-ups ask for more
		for _, want := range p.Wanted() {
			l, faults := search.First(want)
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			lays[want.ID()] = l
		}
		p = plan.Make(j.Input(), p, find)
	}
	return p
}

func demo(t testing.TB) Options {
	t.Helper()
	f, err := job.DecodeFile(assets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	return options(laid(t, f.Job), f.Job, w)
}

func options(p *plan.Plan, j job.Job, w *words.Words) Options {
	shelf := &look.Shelf{}
	return Options{Plan: p, Job: j, Words: w, Units: j.Shown(), Tile: func(goods string) *swatch.Tile {
		for _, c := range j.Cloths {
			if string(c.ID) == goods {
				tile, _ := shelf.Tile(c)
				return tile
			}
		}
		return nil
	}}
}

func write(t *testing.T, name string, img *image.RGBA) {
	t.Helper()
	if img == nil {
		t.Fatal(name, "was not made")
	}
	if *pictures == "" {
		return
	}
	f, err := os.Create(filepath.Join(*pictures, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

func TestDemoPictures(t *testing.T) {
	o := demo(t)
	size := Print(297*unit.MM, 210*unit.MM, 110)
	write(t, "seats.png", Seats(o, size))
	write(t, "slant.png", Slant(o, 0, 1, seatview.Usual, size))
	if Slant(o, 99, 1, seatview.Usual, size) != nil {
		t.Error("a seat that is not there was drawn")
	}
	if Seats(Options{Plan: &plan.Plan{}, Words: o.Words, Tile: o.Tile}, size) != nil {
		t.Error("a job without seats has a picture")
	}
	if Seats(o, Size{}) != nil {
		t.Error("a picture of no size was made")
	}
}

// TestSeatIsTheClothUnderItsPiece: every seat of the picture shows what the
// roll has under its piece. The roll is painted whole, line by line; the seat
// is painted by following its cover.
func TestSeatIsTheClothUnderItsPiece(t *testing.T) {
	o := demo(t)
	const scale = 0.6 // pixels a millimetre
	n := 0
	for _, f := range o.figures() {
		for gi := range o.Plan.Goods {
			g := &o.Plan.Goods[gi]
			if g.Roll == nil || g.Lay == nil || o.Tile(g.ID) != f.cloth.Tile {
				continue
			}
			for _, at := range g.Lay.Places {
				k := g.Kinds[at.Kind]
				if k.Seat != f.seat || g.Number(at) != f.number || !top(k.Blank.Part) {
					continue
				}
				n++
				o.compare(t, f, g, at, scale)
			}
		}
	}
	if n < 4 {
		t.Fatalf("only %d seats were compared", n)
	}
}

func (o Options) compare(t *testing.T, f figure, g *plan.GoodsPlan, at lay.Place, scale float64) {
	t.Helper()
	b := f.pad.Bounds()
	seat := image.NewRGBA(image.Rect(0, 0, int(b.W()*scale)+1, int(b.H()*scale)+1))
	v := seatview.View{Scale: scale, X: -b.Min.X * scale, Y: b.Max.Y * scale}
	f.pad.Above(seat, v, f.cloth)
	phase := g.Problem.Bins[at.Bin].Lattice.Phase
	turn := int(g.Kinds[at.Kind].Base) + int(at.Turn)
	// The stretch of roll under the middle of the seat, its pixels where the
	// seat's are.
	x0, y0 := seat.Rect.Dx()/2, seat.Rect.Dy()/2
	mid := geom.P((float64(x0)+0.5-v.X)/scale, (v.Y-float64(y0)-0.5)/scale).Turned(turn).Add(at.At)
	n := int(0.3 * min(b.W(), b.H()) * scale)
	roll := image.NewRGBA(image.Rect(0, 0, 2*n+1, 2*n+1))
	f.cloth.Tile.Paint(roll, roll.Bounds(), mid.X-float64(n)/scale-phase.X, mid.Y-float64(n)/scale-phase.Y, 1/scale)
	for dv := -n; dv <= n; dv++ {
		for du := -n; du <= n; du++ {
			d := geom.P(float64(du), float64(dv)).Turned(-turn)
			on, under := seat.RGBAAt(x0+int(d.X), y0-int(d.Y)), roll.RGBAAt(n+du, n-dv)
			if !same(on, under) {
				t.Fatalf("%s%d: %d, %d pixels from its middle the seat shows %v, the roll %v", o.Plan.Seats[f.seat].Letter, f.number, int(d.X), int(d.Y), on, under)
			}
		}
	}
}

// same allows for the rounding of a blend.
func same(a, b color.RGBA) bool {
	d := func(a, b uint8) bool { return int(a)-int(b) <= 4 && int(b)-int(a) <= 4 }
	return d(a.R, b.R) && d(a.G, b.G) && d(a.B, b.B)
}

// TestRandomPatternedJobs: of random jobs on patterned cloth every centred
// piece has a motif on its motif point, pieces alike show the same part of the
// pattern, both within 0.1 mm, and every seat's picture is the cloth under its
// piece.
func TestRandomPatternedJobs(t *testing.T) {
	base := demo(t)
	t.Logf("seed %d", *jobSeed)
	centred, alike, shown := 0, 0, 0
	for n := range *jobs {
		r := rand.New(rand.NewPCG(*jobSeed, uint64(n)))
		j := randomJob(r, n, base.Job)
		o := options(laid(t, j), j, base.Words)
		for gi := range o.Plan.Goods {
			g := &o.Plan.Goods[gi]
			if g.Roll == nil || g.Lay == nil || g.Roll.Pattern.None() {
				continue
			}
			lat := cloth.Lattice(g.Roll.Cloth)
			first := map[int]geom.Pt{}
			for _, at := range g.Lay.Places {
				k := g.Problem.Kinds[at.Kind]
				lt := g.Problem.Bins[at.Bin].Lattice
				if math.Abs(lt.Along.MM()-lat.Along.MM()) > 1e-9 || math.Abs(lt.Across.MM()-lat.Across.MM()) > 1e-9 {
					t.Fatalf("job %d: the lay has another repeat than the cloth", n)
				}
				res := residue(g.Problem.MotifOf(at).Sub(lt.Phase), lt)
				if k.Along == lay.Centred && lt.Along > 0 && math.Abs(res.X) > 0.1 || k.Across == lay.Centred && lt.Across > 0 && math.Abs(res.Y) > 0.1 {
					t.Errorf("job %d: a centred piece lies %v mm off its motif", n, res)
				}
				if k.Along == lay.Centred || k.Across == lay.Centred {
					centred++
				}
				if k.Along != lay.Alike && k.Across != lay.Alike {
					continue
				}
				one, ok := first[k.Group]
				if !ok {
					first[k.Group] = g.Problem.MotifOf(at).Sub(lt.Phase)
					continue
				}
				d := residue(g.Problem.MotifOf(at).Sub(lt.Phase).Sub(one), lt)
				if k.Along == lay.Alike && k.Across == lay.Alike && (math.Abs(d.X) > 0.1 || math.Abs(d.Y) > 0.1) || k.Across == lay.Alike && math.Abs(d.Y) > 0.1 {
					t.Errorf("job %d: two pieces that are to be alike differ by %v mm", n, d)
				}
				alike++
			}
		}
		for _, f := range o.figures() {
			for gi := range o.Plan.Goods {
				g := &o.Plan.Goods[gi]
				if g.Roll == nil || g.Lay == nil || o.Tile(g.ID) != f.cloth.Tile {
					continue
				}
				for _, at := range g.Lay.Places {
					if k := g.Kinds[at.Kind]; k.Seat == f.seat && g.Number(at) == f.number && top(k.Blank.Part) {
						shown++
						o.compare(t, f, g, at, 0.4)
					}
				}
			}
		}
	}
	if centred < *jobs || alike < *jobs/2 || shown < 2**jobs {
		t.Errorf("too little was tried: %d centred, %d alike, %d shown", centred, alike, shown)
	}
	t.Logf("%d pieces centred, %d alike, %d seats compared", centred, alike, shown)
}

// residue is how far a place on the cloth lies from the nearest motif of a
// lattice with one at the origin; 0 in a direction in which nothing repeats.
func residue(p geom.Pt, l lay.Lattice) geom.Pt {
	j := 0.0
	if l.Across > 0 {
		j = math.Round(p.Y / l.Across.MM())
		p.Y -= j * l.Across.MM()
	} else {
		p.Y = 0
	}
	if l.Along > 0 {
		v := l.Along.MM()
		p.X -= l.Drop * j * v
		p.X -= math.Round(p.X/v) * v
	} else {
		p.X = 0
	}
	return p
}

// randomJob draws a pattern, rules and sizes for the seats of a job.
func randomJob(r *rand.Rand, n int, j job.Job) job.Job {
	pick := func(words ...string) string { return words[r.IntN(len(words))] }
	size := func(lo, hi float64) job.Measure {
		return job.MeasureOf(unit.Length(math.Round(lo+r.Float64()*(hi-lo))), unit.Millimetres)
	}
	j.Cloths, j.Seats = slices.Clone(j.Cloths), slices.Clone(j.Seats)
	for i := range j.Cloths {
		c := &j.Cloths[i]
		if c.Use != job.UseCover {
			continue
		}
		c.RepeatAlong, c.RepeatAcross = size(40, 640), size(40, 640)
		c.Drop, c.AcrossIs = job.Drop(pick("straight", "half-drop", "third-drop")), job.BetweenColumns
		rule := [...]string{"centred", "alike", "centred", "free"}[n%4]
		c.RuleAlong, c.RuleAcross = job.PhaseRule(rule), job.PhaseRule(rule)
		if r.IntN(4) == 0 {
			c.RuleAcross = job.PhaseRule(pick("centred", "alike", "free"))
		}
		c.FirstAlong, c.FirstAcross = size(0, 300), size(0, 300)
		c.RepeatsOver, c.RepeatsCount, c.Flaws = "", 0, nil
		c.Lie = job.Lie(pick("up-the-roll", "top-at-cut-end", "railroaded-left", "railroaded-right"))
		c.Direction = job.Direction(pick("one-way", "set-direction", "plain"))
		c.NoUpDown = r.IntN(3) == 0
		c.Swatch = job.Swatch{Look: job.SwatchLook(pick("sprig", "check", "stripe"))}
	}
	for i := range j.Seats {
		s := &j.Seats[i]
		if s.Outline.From != job.Measured {
			continue
		}
		s.Outline.FrontWidth = size(380, 520)
		s.Outline.BackWidth = size(330, 380)
		s.Outline.Depth = size(340, 460)
		s.Count = 1 + r.IntN(4)
		s.Own = nil
	}
	j.Locked = nil
	return j
}
