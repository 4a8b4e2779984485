package trace_test

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"slipseat/engine/geom"
	"slipseat/engine/trace"
	"slipseat/engine/trace/tracetest"
	"slipseat/engine/unit"
)

// The trial takes photos of known boards and compares what the tracer makes of
// them. A short sample runs always; the long one is
//
//	go test ./engine/trace -run TestTrial -v -photos 200 -photo-seed 5000 -photo-width 4000 -timeout 3h
var (
	photos     = flag.Int("photos", 4, "how many photos the trial takes")
	photoSeed  = flag.Uint64("photo-seed", 3, "seed of the trial's first photo")
	photoWidth = flag.Int("photo-width", 1600, "width of the trial's photos in pixels; 4000 is 12 megapixels")
	photoKeep  = flag.String("photo-keep", "", "folder for pictures of what was found wrong or not at all")
	photoStore = flag.String("photo-store", "", "folder that keeps the photos for the next run")
	photoAll   = flag.Bool("photo-keep-all", false, "keep pictures of every photo")
)

// trialResult is what came of one photo.
type trialResult struct {
	scene   tracetest.Scene
	sheet   bool // found where it lies
	found   bool
	code    string // why not
	median  float64
	p95     float64
	most    float64 // over the sure parts
	shown   float64
	unsure  float64 // share
	conf    float64
	depth   float64
	seconds float64   // flatten and find
	finding float64   // the sheet
	all     []float64 // every distance
}

// wrongBy is how far a part that is not marked as unsure may be off before the
// outline counts as silently wrong.
const wrongBy = 4.0 // mm

func (r trialResult) wrong() bool { return r.found && r.most > wrongBy }

// astray tells that something else was taken for the board.
func (r trialResult) astray() bool { return r.found && r.p95 > wrongBy }

func TestTrial(t *testing.T) {
	var all []trialResult
	for i := range *photos {
		sc := tracetest.Make(*photoSeed+uint64(i), *photoWidth)
		r := tryPhoto(t, shot(sc))
		all = append(all, r)
		t.Logf("%d %-22s %-7s %2.0f mm tilt %2.0f: sheet %v, found %v %s median %.2f p95 %.2f most %.1f shown %.2f unsure %.0f%% conf %.2f depth %.0f; %.2f s + %.2f s",
			sc.Seed, sc.Shape.Name, sc.Floor, sc.Thick, sc.Tilt*180/math.Pi, r.sheet, r.found, r.code, r.median, r.p95, r.most, r.shown, 100*r.unsure, r.conf, r.depth, r.finding, r.seconds)
	}
	t.Log("\n" + table(all))
	n := float64(len(all))
	sheets, outlines, wrong := 0.0, 0.0, 0
	for _, r := range all {
		if r.sheet {
			sheets++
		}
		if r.found {
			outlines++
		}
		if r.wrong() {
			wrong++
		}
	}
	// The aim is none. Not reached yet: of 24 photos 1,600 pixels wide (seeds 3 to
	// 26) two outlines had a spot that was off by more than wrongBy and not marked.
	// This keeps it from getting worse; an outline that is wrong as a whole is
	// never let through.
	if sheets < 0.95*n-1 || outlines < 0.85*n-1 || float64(wrong) > math.Ceil(n/8) || slices.ContainsFunc(all, trialResult.astray) {
		t.Errorf("of %.0f photos the sheet was found in %.0f, the outline in %.0f; %d outlines are wrong without saying so", n, sheets, outlines, wrong)
	}
}

// shot takes a photo, or reads it when it was taken in an earlier run.
func shot(sc tracetest.Scene) tracetest.Photo {
	if *photoStore == "" {
		return sc.Shoot()
	}
	name := filepath.Join(*photoStore, fmt.Sprintf("%d-%d.jpg", sc.Seed, sc.Width))
	if file, err := os.ReadFile(name); err == nil {
		return sc.Again(file)
	}
	ph := sc.Shoot()
	_ = os.WriteFile(name, ph.JPEG, 0o644)
	return ph
}

// tryPhoto runs the whole chain on one photo.
func tryPhoto(t *testing.T, ph tracetest.Photo) trialResult {
	t.Helper()
	r := trialResult{scene: ph.Scene}
	ctx := context.Background()
	p, err := trace.NewPhoto(ph.Image, 0)
	if err != nil {
		t.Fatal(err)
	}
	ref := trace.A4()
	if ph.Scene.Letter {
		ref = trace.Letter()
	}
	start := time.Now()
	s, err := trace.FindSheet(ctx, p, ref, nil)
	r.finding = time.Since(start).Seconds()
	if err != nil {
		r.code = codeOf(err)
		keep(t, ph, nil, nil, nil)
		return r
	}
	// The sheet's true corners, the curled one not as exactly as the others.
	r.sheet = true
	for i, c := range ph.Corners {
		near := math.Inf(1)
		for _, d := range s.Corners {
			near = min(near, d.Dist(geom.P(c.X, c.Y)))
		}
		limit := 0.0015 * float64(ph.Scene.Width)
		if i == ph.Scene.CurlAt {
			limit *= 3
		}
		r.sheet = r.sheet && near < limit
	}
	if !r.sheet {
		r.code = "other thing taken for the sheet"
	}
	start = time.Now()
	f, err := trace.Flatten(ctx, p, s, nil)
	if err != nil {
		r.code = codeOf(err)
		return r
	}
	o, err := trace.FindOutline(ctx, f, trace.FindOptions{}, nil)
	r.seconds = time.Since(start).Seconds()
	truth := truthIn(ph, f)
	if err != nil {
		r.code = codeOf(err)
		keep(t, ph, f, nil, truth)
		return r
	}
	r.found = true
	r.shown, r.conf, r.depth = float64(o.Expected), o.Confidence, float64(o.Thickness)
	r.compare(o, truth)
	if r.wrong() || *photoAll || r.p95 > 1.5 || r.p95 > r.shown {
		keep(t, ph, f, &o, truth)
	}
	return r
}

func codeOf(err error) string {
	var f *unit.Fault
	if errors.As(err, &f) {
		return f.Error()
	}
	return err.Error()
}

// truthIn is the true outline in the flat picture's model: the board's plane
// turned by the quarter that brings the sheet's corners together.
func truthIn(ph tracetest.Photo, f *trace.Flat) geom.Path {
	at := func(q tracetest.XY) geom.Pt { p := ph.SheetFrame(q); return geom.P(p.X, p.Y) }
	// Which of the true corners is corner 0?
	turn := 0
	near := math.Inf(1)
	for i, c := range ph.Corners {
		if d := f.Sheet.Corners[0].Dist(geom.P(c.X, c.Y)); d < near {
			near, turn = d, i
		}
	}
	out := make(geom.Path, len(ph.Ring))
	for i, q := range ph.Ring {
		out[i] = geom.Vertex{Pt: at(q).Turned(4 - turn)}
	}
	return out
}

// compare takes points every two millimetres of both outlines and their
// distances from the other, after the shift and turn that brings them closest:
// where the sheet lay on the board is no part of the outline.
func (r *trialResult) compare(o trace.Outline, truth geom.Path) {
	ring := ringOf(o.Path, 2)
	near := newFinder(truth)
	moved := slices.Clone(ring)
	for range 12 {
		var a, b geom.Pt
		foot := make([]geom.Pt, len(moved))
		for i, p := range moved {
			foot[i] = near.foot(p)
			a, b = a.Add(p.Mul(1/float64(len(moved)))), b.Add(foot[i].Mul(1/float64(len(moved))))
		}
		var sin, cos float64
		for i, p := range moved {
			u, v := p.Sub(a), foot[i].Sub(b)
			cos += u.Dot(v)
			sin += u.Cross(v)
		}
		turn := math.Atan2(sin, cos)
		for i, p := range moved {
			moved[i] = p.Sub(a).Rotated(turn).Add(b)
		}
	}
	unsure := func(p geom.Pt) bool {
		e, at := o.Path.Nearest(p)
		share := o.Path.Segment(e).ShareOf(at)
		for _, s := range o.Unsure {
			if s.Edge == e && share >= s.From-0.01 && share <= s.To+0.01 {
				return true
			}
		}
		return false
	}
	// A place near a marked part is marked.
	marked := make([]bool, len(ring))
	dim := 0.0
	for i, p := range ring {
		if unsure(p) {
			dim++
			for k := -6; k <= 6; k++ {
				marked[(i+k+len(ring))%len(ring)] = true
			}
		}
	}
	var d []float64
	for i, p := range moved {
		v := near.foot(p).Dist(p)
		d = append(d, v)
		if !marked[i] {
			r.most = max(r.most, v)
		}
	}
	// And from the truth to what was found: a notch that was cut across shows
	// only from there.
	back := newFinder(polygonPath(moved))
	for _, v := range truth {
		i, q := back.nearest(v.Pt)
		e := q.Dist(v.Pt)
		d = append(d, e)
		if !marked[i] {
			r.most = max(r.most, e)
		}
	}
	r.all = d
	slices.Sort(d)
	r.median, r.p95 = d[len(d)/2], d[len(d)*95/100]
	r.unsure = dim / float64(len(ring))
}

func polygonPath(pts []geom.Pt) geom.Path { return geom.Polygon(pts).Path() }

// ringOf walks along a path.
func ringOf(p geom.Path, step float64) []geom.Pt {
	var out []geom.Pt
	for i := range p {
		s := p.Segment(i)
		n := int(math.Ceil(s.Length() / step))
		for k := range n {
			out = append(out, s.At(float64(k)/float64(n)))
		}
	}
	return out
}

// finder looks up nearest points of a dense ring of straight pieces.
type finder struct {
	p     geom.Path
	cells map[[2]int][]int
}

const finderCell = 12.0

func newFinder(p geom.Path) *finder {
	f := &finder{p, map[[2]int][]int{}}
	for i := range p {
		b := p.Segment(i).Bounds()
		for x := int(math.Floor(b.Min.X / finderCell)); x <= int(math.Floor(b.Max.X/finderCell)); x++ {
			for y := int(math.Floor(b.Min.Y / finderCell)); y <= int(math.Floor(b.Max.Y/finderCell)); y++ {
				f.cells[[2]int{x, y}] = append(f.cells[[2]int{x, y}], i)
			}
		}
	}
	return f
}

func (f *finder) foot(q geom.Pt) geom.Pt { _, at := f.nearest(q); return at }

func (f *finder) nearest(q geom.Pt) (int, geom.Pt) {
	cx, cy := int(math.Floor(q.X/finderCell)), int(math.Floor(q.Y/finderCell))
	best, edge, at := math.Inf(1), 0, geom.Pt{}
	for ring := 0; ring < 60; ring++ {
		for x := cx - ring; x <= cx+ring; x++ {
			for y := cy - ring; y <= cy+ring; y++ {
				if ring > 0 && x > cx-ring && x < cx+ring && y > cy-ring && y < cy+ring {
					continue
				}
				for _, i := range f.cells[[2]int{x, y}] {
					n := f.p.Segment(i).Nearest(q)
					if d := n.Dist(q); d < best {
						best, edge, at = d, i, n
					}
				}
			}
		}
		if best <= float64(ring)*finderCell {
			break
		}
	}
	return edge, at
}

// table counts by tilt and by ground.
func table(all []trialResult) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-16s %6s %6s %8s | %9s %9s | %9s %9s %9s | %7s %8s\n", "", "photos", "sheet", "outline", "all: 50%", "95%", "median", "p95", "95% p95", "silent", "covered")
	row := func(name string, in func(trialResult) bool) {
		var n, sheets, found, wrong, covered int
		var med, p95, pool []float64
		for _, r := range all {
			if !in(r) {
				continue
			}
			n++
			if r.sheet {
				sheets++
			}
			if !r.found {
				continue
			}
			found++
			med, p95, pool = append(med, r.median), append(p95, r.p95), append(pool, r.all...)
			if r.wrong() {
				wrong++
			}
			if r.p95 <= r.shown {
				covered++
			}
		}
		if n == 0 {
			return
		}
		slices.Sort(med)
		slices.Sort(p95)
		slices.Sort(pool)
		q := func(v []float64, share float64) float64 {
			if len(v) == 0 {
				return math.NaN()
			}
			return v[min(len(v)-1, int(share*float64(len(v))))]
		}
		fmt.Fprintf(&b, "%-16s %6d %5.0f%% %7.0f%% | %6.2f mm %6.2f mm | %6.2f mm %6.2f mm %6.2f mm | %7d %7.0f%%\n", name, n, pct(sheets, n), pct(found, n),
			q(pool, 0.5), q(pool, 0.95), q(med, 0.5), q(p95, 0.5), q(p95, 0.95), wrong, pct(covered, found))
	}
	for lo := 0; lo < 35; lo += 7 {
		row(fmt.Sprintf("tilt %d to %d°", lo, lo+7), func(r trialResult) bool {
			d := r.scene.Tilt * 180 / math.Pi
			return d >= float64(lo) && d < float64(lo+7)
		})
	}
	for _, fl := range tracetest.Floors {
		row(fl, func(r trialResult) bool { return r.scene.Floor == fl })
	}
	row("all", func(trialResult) bool { return true })
	return b.String()
}

func pct(a, n int) float64 {
	if n == 0 {
		return 0
	}
	return 100 * float64(a) / float64(n)
}

// keep writes a picture of the flat photo with the truth in green and what was
// found in red (doubtful parts in yellow), when a folder was given.
func keep(t *testing.T, ph tracetest.Photo, f *trace.Flat, o *trace.Outline, truth geom.Path) {
	if *photoKeep == "" {
		return
	}
	name := filepath.Join(*photoKeep, fmt.Sprintf("%d", ph.Scene.Seed))
	if f == nil {
		_ = os.WriteFile(name+".jpg", ph.JPEG, 0o644)
		return
	}
	img := *f.Img
	img.Pix = slices.Clone(f.Img.Pix)
	dot := func(p geom.Pt, c color.RGBA) {
		x, y := f.Pixel(p)
		for dx := -1; dx <= 0; dx++ {
			for dy := -1; dy <= 0; dy++ {
				img.SetRGBA(int(x)+dx, int(y)+dy, c)
			}
		}
	}
	for _, v := range truth {
		dot(v.Pt, color.RGBA{0, 255, 0, 255})
	}
	if o != nil {
		for i := range o.Path {
			s := o.Path.Segment(i)
			n := int(s.Length() / 0.5)
			for k := range n {
				share := float64(k) / float64(n)
				c := color.RGBA{255, 0, 0, 255}
				for _, u := range o.Unsure {
					if u.Edge == i && share >= u.From && share <= u.To {
						c = color.RGBA{255, 255, 0, 255}
					}
				}
				dot(s.At(share), c)
			}
		}
	}
	w, err := os.Create(name + ".png")
	if err != nil {
		t.Log(err)
		return
	}
	defer w.Close()
	_ = png.Encode(w, &img)
}
