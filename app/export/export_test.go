package export

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipseat/app/raster"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

var keep = flag.String("keep", "", "folder to leave the written files in, to look at them")

// folder gives a folder for a test's files.
func folder(t *testing.T) string {
	if *keep != "" {
		if err := os.MkdirAll(*keep, 0o755); err != nil {
			t.Fatal(err)
		}
		return *keep
	}
	return t.TempDir()
}

// tool skips a check by a program of others where it is not installed.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed", name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// sample is a page with every kind of item, in millimetres of A5 landscape.
func sample() drawing.Drawing {
	d := drawing.Drawing{Bounds: geom.Rect{Max: geom.P(210, 148)}}
	round := geom.Path{{Pt: geom.P(20, 20)}, {Pt: geom.P(110, 20)}, {Pt: geom.P(120, 30), Bulge: 0}, {Pt: geom.P(120, 90), Bulge: 0.4142135623730951}, {Pt: geom.P(110, 100)}, {Pt: geom.P(20, 100), Bulge: 0.2}}
	d.Add(
		drawing.Shape{Layer: "board", Path: round, Fill: drawing.BoardFill, Through: 0.5, Stroke: drawing.BoardLine, Width: drawing.Thick},
		drawing.Shape{Layer: "foam", Path: geom.Box(30, 30, 100, 60), Fill: drawing.FoamFill, Stroke: drawing.FoamLine, Width: drawing.Medium, Line: drawing.DashDot, Hatch: drawing.Crossed},
		drawing.Shape{Layer: "square", Path: geom.Box(130, 20, 190, 80), Stroke: drawing.Ink, Width: 0.5},
		drawing.Text{Layer: "text", S: "Größe 17½ × 18⅜ in, 5⁵⁄₁₆", At: geom.P(20, 120), Size: 6, Role: drawing.Ink},
		drawing.Text{Layer: "text", S: "turned", At: geom.P(160, 50), Size: 5, Weight: drawing.Bold, Anchor: drawing.MidCentre, Turned: 90, Role: drawing.Action},
		drawing.Text{Layer: "text", S: "A1", At: geom.P(65, 80), Size: 5, Weight: drawing.Bold, Anchor: drawing.MidCentre, Role: drawing.OnAction, Plate: drawing.Action, Pad: 1.5},
		drawing.Text{Layer: "front", S: "FRONT", At: geom.P(65, 24), Size: 4, Anchor: drawing.BaseCentre, Spaced: 0.15, Role: drawing.BoardLine},
		drawing.Arrow{Layer: "arrow", From: geom.P(130, 100), To: geom.P(190, 110), HeadFrom: true, HeadTo: true, Head: 3, Role: drawing.Cut, Width: 0.4},
		drawing.Arrow{Layer: "arrow", From: geom.P(130, 90), To: geom.P(190, 90), HeadTo: true, Filled: true, Head: 3, Role: drawing.Ink, Width: 0.4, Line: drawing.Dash},
		drawing.Mark{Layer: "mark", Kind: drawing.Disc, At: geom.P(140, 70), Size: 6, Fill: drawing.Good, Role: drawing.Action, Width: 0.5},
		drawing.Mark{Layer: "mark", Kind: drawing.Cross, At: geom.P(180, 70), Size: 6, Turned: 30, Role: drawing.Cut, Width: 0.5},
	)
	return d
}

func TestPNGPhysicalSize(t *testing.T) {
	var b bytes.Buffer
	if err := PNG(&b, sample(), 100, drawing.Print()); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if got := img.Bounds().Size(); got.X != 827 || got.Y != 583 { // 210 mm and 148 mm at 100 dots an inch
		t.Errorf("size %v, want 827 × 583", got)
	}
	file := filepath.Join(folder(t), "sample.png")
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	// Read back by another program: 100 dots an inch are 39.37 a centimetre.
	var x, y float64
	out := tool(t, "identify", "-units", "PixelsPerCentimeter", "-format", "%x %y", file)
	if _, err := fmt.Sscan(out, &x, &y); err != nil || math.Abs(x-39.37) > 0.005 || math.Abs(y-39.37) > 0.005 {
		t.Errorf("another program reads %q pixels a centimetre, want 39.37", out)
	}
}

func TestPNGRefusals(t *testing.T) {
	roll := drawing.Drawing{Bounds: geom.Rect{Max: geom.P(6*914.4, 1371.6)}}
	for name, c := range map[string]struct {
		d    drawing.Drawing
		dpi  float64
		code string
	}{
		"whole roll at its true size": {roll, 150, CodePictureTooLarge},
		"empty page":                  {drawing.Drawing{}, 100, CodePictureTooLarge},
		"no resolution":               {sample(), 0, CodeResolution},
		"absurd resolution":           {sample(), 1e9, CodeResolution},
	} {
		var f unit.Fault
		if err := PNG(io.Discard, c.d, c.dpi, drawing.Print()); !errors.As(err, &f) || f.Code != c.code {
			t.Errorf("%s: got %v, want %s", name, err, c.code)
		}
	}
}

func TestPDF(t *testing.T) {
	write := func() []byte {
		var b bytes.Buffer
		second := sample()
		second.Bounds.Max = geom.P(215.9, 279.4)
		if err := PDF(&b, "Cut sheet, cloth", []Part{{Title: "Cloth", Pages: []drawing.Drawing{sample()}}, {Title: "Foam", Pages: []drawing.Drawing{second}, Chapter: "Sheets", Under: true}}, drawing.Print()); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	a := write()
	if !bytes.Equal(a, write()) {
		t.Error("the same pages gave other bytes")
	}
	dir := folder(t)
	file := filepath.Join(dir, "sample.pdf")
	if err := os.WriteFile(file, a, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Run("page sizes", func(t *testing.T) {
		out := tool(t, "pdfinfo", "-l", "2", file)
		// 210 mm are 595.28 pt, 148 mm 419.53 pt (72 pt to the inch).
		if !strings.Contains(out, "595.28 x 419.53") || !strings.Contains(out, "612 x 792") {
			t.Errorf("page sizes:\n%s", out)
		}
	})
	t.Run("fonts embedded", func(t *testing.T) {
		out := tool(t, "pdffonts", file)
		for _, line := range strings.Split(strings.TrimSpace(out), "\n")[2:] {
			// Columns from the right: object, sub, emb.
			f := strings.Fields(line)
			if len(f) < 6 || f[len(f)-5] != "yes" {
				t.Errorf("font not embedded: %s", line)
			}
		}
	})
	t.Run("text can be selected", func(t *testing.T) {
		if out := tool(t, "pdftotext", "-layout", file, "-"); !strings.Contains(out, "Größe 17½ × 18⅜ in") {
			t.Errorf("text:\n%s", out)
		}
	})
	t.Run("strict check", func(t *testing.T) {
		if out := tool(t, "qpdf", "--check", file); !strings.Contains(out, "No syntax or stream encoding errors") {
			t.Errorf("qpdf:\n%s", out)
		}
	})
	t.Run("looks like the picture", func(t *testing.T) {
		tool(t, "pdftoppm", "-r", "100", "-l", "1", "-png", file, filepath.Join(dir, "pdf"))
		found, _ := filepath.Glob(filepath.Join(dir, "pdf-*1.png"))
		if len(found) == 0 {
			t.Fatal("no picture from pdftoppm")
		}
		compare(t, found[0])
	})
}

func TestSVGLooksLikeThePicture(t *testing.T) {
	dir := folder(t)
	file := filepath.Join(dir, "sample.svg")
	var b bytes.Buffer
	if err := SVG(&b, sample(), "Cut sheet <cloth> & more", drawing.Print()); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "<title>Größe 17½ × 18⅜ in") || !strings.Contains(b.String(), `width="210mm"`) {
		t.Error("words or size are missing")
	}
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "svg.png")
	tool(t, "rsvg-convert", "-d", "100", "-p", "100", "-o", out, file)
	compare(t, out)
}

// compare holds a picture made by another program at 100 dots an inch against
// our own of the same page. Edges differ by the antialiasing; a wrong place,
// fill or line shows as a patch.
func compare(t *testing.T, file string) {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	other, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := PNG(&b, sample(), 100, drawing.Print()); err != nil {
		t.Fatal(err)
	}
	ours, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	if d := other.Bounds().Size().Sub(ours.Bounds().Size()); d.X*d.X > 1 || d.Y*d.Y > 1 {
		t.Fatalf("sizes %v and %v", other.Bounds(), ours.Bounds())
	}
	// Mean over 3 × 3 pixels, so that half a pixel of edge is forgiven.
	bad, w, h := 0, min(other.Bounds().Dx(), ours.Bounds().Dx()), min(other.Bounds().Dy(), ours.Bounds().Dy())
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			var a, c int
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					r1, g1, b1, _ := other.At(x+dx, y+dy).RGBA()
					r2, g2, b2, _ := ours.At(x+dx, y+dy).RGBA()
					a += int(r1+g1+b1) >> 8
					c += int(r2+g2+b2) >> 8
				}
			}
			if d := (a - c) / 27; d > 40 || d < -40 {
				bad++
			}
		}
	}
	if share := float64(bad) / float64(w*h); share > 0.004 {
		t.Errorf("%.2f %% of the picture differs", share*100)
	}
}

func TestDXFIsReadBack(t *testing.T) {
	var b bytes.Buffer
	if err := DXF(&b, sample()); err != nil {
		t.Fatal(err)
	}
	s := b.String()
	for _, want := range []string{"AC1009", "\r\nBOARD\r\n", "POLYLINE", "0.414213562", "Gr??e 17 1/2 x 18 3/8 in, 5 5/16"} {
		if !strings.Contains(s, want) {
			t.Errorf("%q is missing", want)
		}
	}
	// Pairs of lines: a code that is a number, then a value.
	lines := strings.Split(strings.TrimSuffix(s, "\r\n"), "\r\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines are no pairs", len(lines))
	}
	if lines[len(lines)-1] != "EOF" {
		t.Error("does not end in EOF")
	}
	file := filepath.Join(folder(t), "sample.dxf")
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	const python = "/usr/bin/python3" // the system's, which has the package
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("no other DXF reader is installed (python3-ezdxf)")
	}
	out := tool(t, python, "-c", `import ezdxf,sys
d=ezdxf.readfile(sys.argv[1]); a=d.audit()
print(d.dxfversion, len(a.errors), sum(1 for e in d.modelspace() if e.dxftype()=="POLYLINE"), max(v.dxf.bulge for e in d.modelspace().query("POLYLINE") for v in e.vertices))`, file)
	if !strings.HasPrefix(out, "AC1009 0 3 0.4142") {
		t.Errorf("another reader says %q", out)
	}
}

func TestCSV(t *testing.T) {
	var b bytes.Buffer
	rows := [][]string{{"A1", "Side chair, oak", "24½"}, {"A2", `12" wide`, "a\nb"}}
	if err := CSV(&b, []string{"piece", "for", "width"}, rows); err != nil {
		t.Fatal(err)
	}
	want := "piece,for,width\r\nA1,\"Side chair, oak\",24½\r\nA2,\"12\"\" wide\",\"a\r\nb\"\r\n"
	if b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
	back, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(back) != 3 {
		t.Errorf("read back %d lines, %v", len(back), err)
	}
}

func TestWriteFileIsWholeOrAbsent(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sheet.txt")
	boom := errors.New("boom")
	err := WriteFile(path, false, func(w io.Writer) error {
		io.WriteString(w, "half")
		return boom
	})
	if !errors.Is(err, boom) {
		t.Fatalf("got %v", err)
	}
	if names := list(t, dir); len(names) != 0 {
		t.Errorf("left behind: %v", names)
	}
	whole := func(s string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
	}
	if err := WriteFile(path, false, whole("one")); err != nil {
		t.Fatal(err)
	}
	var exists *ExistsError
	if err := WriteFile(path, false, whole("two")); !errors.As(err, &exists) || exists.Names[0] != "sheet.txt" {
		t.Errorf("over an existing file: %v", err)
	}
	// The name is taken while the file is being written.
	other := filepath.Join(dir, "race.txt")
	err = WriteFile(other, false, func(w io.Writer) error { return os.WriteFile(other, []byte("theirs"), 0o644) })
	if !errors.As(err, &exists) {
		t.Errorf("name taken meanwhile: %v", err)
	}
	if b, _ := os.ReadFile(other); string(b) != "theirs" {
		t.Errorf("their file became %q", b)
	}
	if err := WriteFile(path, true, whole("three")); err != nil {
		t.Fatal(err)
	}
	if b, _ := os.ReadFile(path); string(b) != "three" {
		t.Errorf("got %q", b)
	}
	if names := list(t, dir); len(names) != 2 {
		t.Errorf("files: %v", names)
	}
}

func TestLeftoversAreSwept(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "odd [name]")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	old, young := filepath.Join(dir, ".a.txt.123.part"), filepath.Join(dir, ".a.txt.456.part")
	for _, p := range []string{old, young} {
		if err := os.WriteFile(p, nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	before := time.Now().Add(-2 * staleAfter)
	if err := os.Chtimes(old, before, before); err != nil {
		t.Fatal(err)
	}
	if err := WriteFile(filepath.Join(dir, "a.txt"), false, func(io.Writer) error { return nil }); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(list(t, dir), " "); got != ".a.txt.456.part a.txt" {
		t.Errorf("left: %s", got)
	}
}

func TestWriteAll(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	files := PageFiles("cut-sheet-cloth-1", "Cut sheet", []drawing.Drawing{sample(), sample()}, []Kind{KindPNG, KindPDF, KindSVG}, 50, drawing.Print())
	var seen []string
	names, err := WriteAll(context.Background(), dir, files, Options{Report: func(done, total int, name string) { seen = append(seen, name) }})
	if err != nil {
		t.Fatal(err)
	}
	want := "cut-sheet-cloth-1.png cut-sheet-cloth-1-page-2.png cut-sheet-cloth-1.pdf cut-sheet-cloth-1.svg cut-sheet-cloth-1-page-2.svg"
	if got := strings.Join(names, " "); got != want {
		t.Errorf("wrote %s\nwant %s", got, want)
	}
	if len(seen) != len(files)+1 {
		t.Errorf("reports: %v", seen)
	}
	var exists *ExistsError
	if _, err := WriteAll(context.Background(), dir, files, Options{}); !errors.As(err, &exists) || len(exists.Names) != 5 {
		t.Errorf("again: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	names, err = WriteAll(ctx, dir, files, Options{Overwrite: true, Report: func(done, total int, name string) {
		if done == 2 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || len(names) != 2 {
		t.Errorf("cancelled: wrote %v, %v", names, err)
	}
}

func list(t *testing.T, dir string) []string {
	t.Helper()
	es, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range es {
		names = append(names, e.Name())
	}
	return names
}

// TestPNGBandsAreSeamless: painted in bands, a page is the same as painted at
// once.
func TestPNGBandsAreSeamless(t *testing.T) {
	const dpi = 90
	var b bytes.Buffer
	if err := PNG(&b, sample(), dpi, drawing.Print()); err != nil {
		t.Fatal(err)
	}
	got, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	if got.Bounds().Dy() < 2*bandRows {
		t.Fatalf("%d rows are too few bands to tell", got.Bounds().Dy())
	}
	whole := image.NewRGBA(got.Bounds())
	raster.Clear(whole, drawing.Paper, drawing.Print())
	raster.Render(whole, sample(), raster.Transform{Scale: dpi / 25.4, Y: float64(got.Bounds().Dy()), Paper: dpi / 25.4}, drawing.Print())
	worst := 0
	for y := range got.Bounds().Dy() {
		for x := range got.Bounds().Dx() {
			r1, g1, b1, _ := got.At(x, y).RGBA()
			r2, g2, b2, _ := whole.At(x, y).RGBA()
			for _, d := range []int{int(r1) - int(r2), int(g1) - int(g2), int(b1) - int(b2)} {
				worst = max(worst, d>>8, -d>>8)
			}
		}
	}
	// A line cut at a band's border is rounded to 1/64 pixel anew there.
	if worst > 12 {
		t.Errorf("a pixel differs by %d of 255", worst)
	}
}

// BenchmarkCutSheetPNG writes an A2 page at 200 dots an inch.
func BenchmarkCutSheetPNG(b *testing.B) {
	page := drawing.Drawing{Bounds: geom.Rect{Max: geom.P(594, 420)}}
	for i := range 60 {
		x, y := 10+float64(i%10)*57, 10+float64(i/10)*66
		page.Add(drawing.Shape{Path: geom.Box(x, y, x+52, y+60), Fill: drawing.Tint(i), Stroke: drawing.CoverLine, Width: 0.4},
			drawing.Shape{Path: geom.Box(x+6, y+6, x+46, y+54), Stroke: drawing.BoardLine, Width: 0.26, Line: drawing.Dash},
			drawing.Text{S: "A12", At: geom.P(x+26, y+30), Size: 4, Weight: drawing.Bold, Anchor: drawing.MidCentre, Role: drawing.OnAction, Plate: drawing.Action, Pad: 1.3})
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := PNG(io.Discard, page, 200, drawing.Print()); err != nil {
			b.Fatal(err)
		}
	}
}
