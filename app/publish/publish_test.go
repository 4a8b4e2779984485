package publish

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"flag"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"slipseat/app/export"
	"slipseat/app/job"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/drawing"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

var keep = flag.String("keep", "", "folder to leave the written files in, to look at them")

// folder gives a folder for a test's files.
func folder(t testing.TB, name string) string {
	if *keep == "" {
		return t.TempDir()
	}
	dir := filepath.Join(*keep, name)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	return dir
}

// tool runs a program of others, or skips where it is not installed.
func tool(t testing.TB, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed", name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return string(out)
}

// planned plans a job with the first lay of each of its goods.
func planned(t testing.TB, j job.Job) *plan.Plan {
	t.Helper()
	lays := map[lay.ProblemID]lay.Lay{}
	get := func(id lay.ProblemID) (lay.Lay, bool) { l, ok := lays[id]; return l, ok }
	p := plan.Make(j.Input(), nil, get)
	for _, q := range p.Wanted() {
		l, faults := search.First(q)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		if faults := lay.Check(q, l); len(faults) > 0 {
			t.Fatal(faults)
		}
		lays[q.ID()] = l
	}
	p = plan.Make(j.Input(), p, get)
	if len(p.Faults) > 0 {
		t.Fatal(p.Faults)
	}
	return p
}

func wordsEN(t testing.TB) *words.Words {
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func demo(t testing.TB) job.Job {
	f, err := job.DecodeFile(assets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return f.Job
}

// hall is a job of 24 seats of five kinds, three foams and two covers, one of
// them patterned across and along: an invented reading hall.
func hall(t testing.TB) job.Job {
	j := demo(t)
	j.Name, j.Customer, j.Note, j.Table = "Reading hall", "Harbour Street hall", "", "80 in"
	set := func(s job.Seat, name string, count int, change func(*job.Seat)) job.Seat {
		s.Name, s.Count, s.Own, s.Frame = name, count, nil, ""
		s.ID = job.ID("hallseat0" + strconv.Itoa(len(j.Seats)))
		if change != nil {
			change(&s)
		}
		return s
	}
	side, elbow, bench := j.Seats[0], j.Seats[1], j.Seats[2]
	plain := j.Cloths[0]
	plain.ID, plain.Name = "hallcloth1", "Plain rep"
	plain.RepeatAlong, plain.RepeatAcross, plain.Direction = "", "", job.PlainCloth
	sprig := j.Cloths[0]
	sprig.RuleAlong, sprig.RuleAcross, sprig.RepeatAcross = job.RuleCentred, job.RuleCentred, "6 3/4 in"
	sprig.FirstAlong, sprig.FirstAcross = "4 in", "3 in"
	dust := j.Cloths[1]
	wadding := job.NewCloth("hallcloth2", j.Units, job.UseWadding, "Wadding")
	j.Cloths = []job.Cloth{sprig, plain, dust, wadding}
	foam2, foam3 := j.Foams[0], j.Foams[0]
	foam2.ID, foam2.Name, foam2.Thickness = "hallfoam02", "Firm foam", "2 in"
	foam3.ID, foam3.Name, foam3.Thickness = "hallfoam03", "Soft foam", "1/2 in"
	j.Foams = []job.Foam{j.Foams[0], foam2, foam3}
	j.Seats = nil
	add := func(s job.Seat) { j.Seats = append(j.Seats, s) }
	add(set(side, "Side chair", 10, nil))
	add(set(elbow, "Elbow chair", 4, func(s *job.Seat) {
		s.Build.CutAs, s.Wadding, s.Build.Wadding = job.CutShaped, "hallcloth2", "1/4 in"
		s.Cover = "hallcloth1"
	}))
	add(set(bench, "Long bench", 2, func(s *job.Seat) { s.Foam, s.Build.Foam, s.Cover = "hallfoam02", "2 in", "hallcloth1" }))
	add(set(side, "Round stool", 4, func(s *job.Seat) {
		s.Kind, s.Cover, s.Foam, s.Build.Foam = job.Stool, "hallcloth1", "hallfoam02", "2 in"
		s.Outline = job.Outline{From: job.Round, FrontWidth: "14 in", Depth: "14 in", MeasuredOn: job.BareBoard}
		s.Build.CutAs = job.CutShaped
	}))
	add(set(side, "Drop-in seat", 4, func(s *job.Seat) {
		s.Kind, s.Foam, s.Build.Foam = job.DropIn, "hallfoam03", "1/2 in"
		s.Build.OpeningWidth, s.Build.OpeningDepth, s.Build.Oversize = "18 7/8 in", "17 5/8 in", "0 in"
	}))
	return j
}

var (
	hallOnce sync.Once
	hallPlan *plan.Plan
	demoOnce sync.Once
	demoPlan *plan.Plan
)

// room gives the options of one of the two jobs.
func room(t testing.TB, name string, u unit.Unit) Options {
	o := Options{Words: wordsEN(t), Units: unit.UnitsFor(u), Day: "2026-11-25", Stamp: "stamp", DPI: 60}
	switch name {
	case "hall":
		o.Job = hall(t)
		hallOnce.Do(func() { hallPlan = planned(t, o.Job) })
		o.Plan = hallPlan
	default:
		o.Job = demo(t)
		demoOnce.Do(func() { demoPlan = planned(t, o.Job) })
		o.Plan = demoPlan
	}
	if o.Plan == nil {
		t.Fatal("the job could not be planned")
	}
	return o
}

func write(t testing.TB, dir string, o Options) []string {
	t.Helper()
	names, err := export.WriteAll(context.Background(), dir, Files(o), export.Options{Overwrite: true})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// TestHallIsWhatItSays keeps the second job worth its name.
func TestHallIsWhatItSays(t *testing.T) {
	o := room(t, "hall", unit.Inches)
	seats, foams := 0, 0
	for _, s := range o.Plan.Seats {
		seats += s.Count
	}
	for _, g := range o.Plan.Goods {
		if g.Sheet != nil {
			foams++
		}
	}
	if seats != 24 || len(o.Plan.Seats) != 5 || foams != 3 {
		t.Errorf("%d seats of %d kinds, %d foams", seats, len(o.Plan.Seats), foams)
	}
}

// TestFilesOfTheDemo: the names are those that are promised.
func TestFilesOfTheDemo(t *testing.T) {
	o := room(t, "demo", unit.Inches)
	o.Plotter = 36 * unit.In
	var names []string
	for _, f := range Files(o) {
		names = append(names, f.Name)
	}
	for _, want := range []string{"cut-sheet-cloth-1.png", "cut-sheet-cloth-1.pdf", "cut-sheet-cloth-1.svg", "cut-sheet-foam-1.pdf", "cut-sheet-dust-cloth-1.pdf",
		"chalk-list.csv", "templates-a4.pdf", "templates-letter.pdf", "templates-plotter.pdf", "outline-A.dxf", "outline-A.svg", "order.csv", "order.pdf",
		"quote.pdf", "bill.pdf", "bench-sheet.pdf", "everything.pdf"} {
		if !slices.Contains(names, want) {
			t.Errorf("%s is missing", want)
		}
	}
	for i, n := range names {
		if slices.Contains(names[:i], n) {
			t.Errorf("%s is written twice", n)
		}
	}
	o.Only = []string{"order", "outline-B"}
	names = nil
	for _, f := range Files(o) {
		names = append(names, f.Name)
	}
	if want := []string{"outline-B.dxf", "outline-B.svg", "order.csv", "order.pdf"}; !slices.Equal(slices.Sorted(slices.Values(names)), slices.Sorted(slices.Values(want))) {
		t.Errorf("only order and outline-B: got %v", names)
	}
	if got := Files(Options{Plan: &plan.Plan{}, Words: o.Words, Units: o.Units}); len(got) != 0 {
		t.Errorf("an empty job has %d files", len(got))
	}
}

// TestPDFs opens every PDF of both jobs in both units with poppler and qpdf:
// strict syntax, embedded typefaces, page sizes of ISO 216 and ANSI/ASME Y14.1
// and no word missing.
func TestPDFs(t *testing.T) {
	sizes := map[string][2]float64{"a4": {595.276, 841.890}, "a3": {841.890, 1190.551}, "letter": {612, 792}, "tabloid": {792, 1224}}
	for _, c := range []struct {
		job   string
		u     unit.Unit
		paper drawing.PageSize
		allow []string
		only  []string
	}{
		{"demo", unit.Inches, drawing.PageSize{}, []string{"letter"}, nil},
		{"demo", unit.Centimetres, drawing.A3(), []string{"a3", "a4"}, []string{"cut-sheet", "bench", "order", "quote", "bill"}},
		{"hall", unit.Inches, drawing.Tabloid(), []string{"tabloid", "letter"}, []string{"cut-sheet", "bench", "order", "quote", "bill"}},
		{"hall", unit.Millimetres, drawing.A4(), []string{"a4"}, []string{"everything"}},
	} {
		t.Run(c.job+"-"+c.u.Symbol(), func(t *testing.T) {
			t.Parallel()
			o := room(t, c.job, c.u)
			o.Paper, o.Kinds, o.Only = c.paper, []export.Kind{export.KindPDF}, c.only
			dir := folder(t, c.job+"-"+c.u.Symbol())
			pages := regexp.MustCompile(`Page +\d+ size: +([\d.]+) x ([\d.]+) pts`)
			for _, name := range write(t, dir, o) {
				if filepath.Ext(name) != ".pdf" {
					continue
				}
				file := filepath.Join(dir, name)
				if out := tool(t, "qpdf", "--check", file); !strings.Contains(out, "No syntax or stream encoding errors") {
					t.Errorf("%s: %s", name, out)
				}
				for _, line := range strings.Split(strings.TrimSpace(tool(t, "pdffonts", file)), "\n")[2:] {
					if f := strings.Fields(line); len(f) < 6 || f[len(f)-5] != "yes" {
						t.Errorf("%s: typeface not embedded: %s", name, line)
					}
				}
				allow := c.allow
				switch name {
				case "templates-a4.pdf":
					allow = append(slices.Clone(allow), "a4")
				case "templates-letter.pdf":
					allow = append(slices.Clone(allow), "letter")
				}
				found := 0
				for _, m := range pages.FindAllStringSubmatch(tool(t, "pdfinfo", "-l", "9999", file), -1) {
					w, _ := strconv.ParseFloat(m[1], 64)
					h, _ := strconv.ParseFloat(m[2], 64)
					found++
					if !slices.ContainsFunc(allow, func(s string) bool {
						p := sizes[s]
						return math.Abs(min(w, h)-p[0]) < 0.02 && math.Abs(max(w, h)-p[1]) < 0.02
					}) {
						t.Errorf("%s: a page of %s × %s pt, not of %v", name, m[1], m[2], allow)
						break
					}
				}
				if found == 0 {
					t.Errorf("%s has no pages", name)
				}
				if text := tool(t, "pdftotext", file, "-"); strings.ContainsAny(text, "‹›") || len(strings.Fields(text)) < 10 {
					t.Errorf("%s: words are missing:\n%.300s", name, text)
				}
			}
		})
	}
}

// TestBookmarks: everything in one file, with a bookmark for each paper and
// below that for each template.
func TestBookmarks(t *testing.T) {
	o := room(t, "demo", unit.Inches)
	o.Only = []string{"everything"}
	dir := folder(t, "bookmarks")
	write(t, dir, o)
	raw := tool(t, "qpdf", "--json", filepath.Join(dir, "everything.pdf"))
	var doc struct {
		Outlines []struct {
			Title string
			Kids  []struct{ Title string }
		}
	}
	if err := json.Unmarshal([]byte(raw), &doc); err != nil {
		t.Fatal(err)
	}
	var titles []string
	kids := 0
	for _, x := range doc.Outlines {
		titles = append(titles, x.Title)
		kids += len(x.Kids)
	}
	for _, want := range []string{"Cut sheet, cloth: Fern sprig", "Templates, Letter", "Bench sheet", "Order", "Quote", "Bill"} {
		if !slices.Contains(titles, want) {
			t.Errorf("no bookmark %q among %q", want, titles)
		}
	}
	if kids < 9 {
		t.Errorf("only %d bookmarks below another", kids)
	}
	if slices.Contains(titles, "Templates, A4") {
		t.Error("templates for the other printer's paper are in it too")
	}
}

// TestLists reads the lists after RFC 4180: lines ended by CR LF, as many
// fields in each as in the first, quotes doubled; by our own strict reader and
// by another one.
func TestLists(t *testing.T) {
	for _, name := range []string{"demo", "hall"} {
		o := room(t, name, unit.Inches)
		o.Job.Seats = slices.Clone(o.Job.Seats)
		o.Only = []string{"chalk-list", "order.csv"}
		dir := folder(t, "lists-"+name)
		for _, n := range write(t, dir, o) {
			raw, err := os.ReadFile(filepath.Join(dir, n))
			if err != nil {
				t.Fatal(err)
			}
			if bytes.Count(raw, []byte("\n")) != bytes.Count(raw, []byte("\r\n")) || !bytes.HasSuffix(raw, []byte("\r\n")) {
				t.Errorf("%s: lines do not end in CR LF", n)
			}
			rows, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
			if err != nil || len(rows) < 3 {
				t.Fatalf("%s: %d rows, %v", n, len(rows), err)
			}
			if strings.ContainsAny(string(raw), "‹›") {
				t.Errorf("%s: words are missing", n)
			}
			if _, err := exec.LookPath("python3"); err != nil {
				continue
			}
			out := tool(t, "python3", "-c", `import csv,sys
rows=list(csv.reader(open(sys.argv[1],newline="",encoding="utf-8"),strict=True)); print(len(rows),len(set(len(r) for r in rows)))`, filepath.Join(dir, n))
			if want := strconv.Itoa(len(rows)) + " 1"; strings.TrimSpace(out) != want {
				t.Errorf("%s: another reader finds %q, want %q", n, out, want)
			}
		}
	}
}

// TestPicturesOfTheSheets holds the cut sheets' SVG, drawn by another program,
// against our PNG, and reads the PNG's physical size back.
func TestPicturesOfTheSheets(t *testing.T) {
	o := room(t, "demo", unit.Inches)
	o.Only, o.DPI = []string{"cut-sheet-cloth", "cut-sheet-foam"}, 72
	dir := folder(t, "pictures")
	n := 0
	for _, name := range write(t, dir, o) {
		base, is := strings.CutSuffix(name, ".svg")
		if !is {
			continue
		}
		n++
		ours := filepath.Join(dir, base+".png")
		if out := tool(t, "identify", "-units", "PixelsPerInch", "-format", "%x %y", ours); !strings.HasPrefix(out, "72.0") && !strings.HasPrefix(out, "71.99") && !strings.HasPrefix(out, "72 ") {
			t.Errorf("%s: another program reads %q dots an inch, want 72", base, out)
		}
		other := filepath.Join(dir, base+"-other.png")
		tool(t, "rsvg-convert", "-d", "72", "-p", "72", "-o", other, filepath.Join(dir, name))
		if share := differs(t, ours, other); share > 0.004 {
			t.Errorf("%s: %.2f %% of the picture differs", base, share*100)
		}
	}
	if n < 2 {
		t.Errorf("only %d pictures were compared", n)
	}
}

// differs is the share of a picture in which two differ by more than the
// smoothing of edges does.
func differs(t *testing.T, a, b string) float64 {
	t.Helper()
	read := func(name string) image.Image {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		img, err := png.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		return img
	}
	x, y := read(a), read(b)
	if d := x.Bounds().Size().Sub(y.Bounds().Size()); d.X*d.X > 1 || d.Y*d.Y > 1 {
		t.Fatalf("%v and %v", x.Bounds(), y.Bounds())
	}
	w, h := min(x.Bounds().Dx(), y.Bounds().Dx()), min(x.Bounds().Dy(), y.Bounds().Dy())
	bad := 0
	for v := 1; v < h-1; v++ {
		for u := 1; u < w-1; u++ {
			sum := 0
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					r1, g1, b1, _ := x.At(u+dx, v+dy).RGBA()
					r2, g2, b2, _ := y.At(u+dx, v+dy).RGBA()
					sum += int(r1+g1+b1)>>8 - int(r2+g2+b2)>>8
				}
			}
			if d := sum / 27; d > 45 || d < -45 {
				bad++
			}
		}
	}
	return float64(bad) / float64(w*h)
}
