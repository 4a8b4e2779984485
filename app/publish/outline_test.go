package publish

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"slipseat/app/outlinefile"
	"slipseat/engine/buildup"
	"slipseat/engine/unit"
)

// TestOutlinesAreReadBack opens the outlines of all seats again: by our own
// reader, DXF and SVG, and the DXF by another one. The board comes back with
// its size and area, every layer with its name.
func TestOutlinesAreReadBack(t *testing.T) {
	for _, name := range []string{"demo", "hall"} {
		o := room(t, name, unit.Inches)
		o.Only = []string{"outline"}
		dir := folder(t, "outlines-"+name)
		write(t, dir, o)
		// Debian's own Python has the library, whichever comes first.
		python := ""
		for _, p := range []string{"python3", "/usr/bin/python3"} {
			if exec.Command(p, "-c", "import ezdxf").Run() == nil {
				python = p
			}
		}
		if python == "" {
			t.Log("no other DXF reader is installed (python3 with ezdxf)")
		}
		for _, s := range o.Plan.Seats {
			w, d := s.Outline.Size()
			for _, ext := range []string{".dxf", ".svg"} {
				data, err := os.ReadFile(filepath.Join(dir, "outline-"+s.Letter+ext))
				if err != nil {
					t.Fatal(err)
				}
				got, fault := outlinefile.Read(data, outlinefile.Options{})
				if fault != nil {
					t.Fatalf("%s%s: %v", s.Letter, ext, fault)
				}
				found := false
				for _, sh := range got.Shapes {
					b := sh.Path.Bounds()
					found = found || math.Abs(b.W()-w.MM()) < 0.02 && math.Abs(b.H()-d.MM()) < 0.02 && math.Abs(math.Abs(sh.Path.Area())-s.Outline.Board.Area()) < 30
				}
				if !found {
					t.Errorf("%s%s: the board of %v × %v mm is not among %d shapes", s.Letter, ext, w, d, len(got.Shapes))
				}
			}
			if python == "" {
				continue
			}
			out := tool(t, python, "-c", `import ezdxf,json,sys
from ezdxf import path
d=ezdxf.readfile(sys.argv[1]); a=d.audit(); r={}
for e in d.modelspace().query("POLYLINE"):
    xy=[(v.x,v.y) for v in path.make_path(e).flattening(0.01)]
    r[e.dxf.layer]=[max(x for x,_ in xy)-min(x for x,_ in xy),max(y for _,y in xy)-min(y for _,y in xy)]
print(json.dumps({"errors":len(a.errors),"units":d.header["$INSUNITS"],"layers":r}))`, filepath.Join(dir, "outline-"+s.Letter+".dxf"))
			var read struct {
				Errors, Units int
				Layers        map[string][2]float64
			}
			if err := json.Unmarshal([]byte(out), &read); err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			if read.Errors != 0 || read.Units != 4 {
				t.Errorf("%s: another reader finds %d errors, units %d", s.Letter, read.Errors, read.Units)
			}
			want := map[string][2]unit.Length{"BOARD": {w, d}}
			for _, b := range s.Result.Blanks {
				if b.Part == buildup.PartCover || b.Part == buildup.PartDust || b.Part == buildup.PartFoam {
					bw, bd := b.Size()
					want[strings.ToUpper(b.Part.Code())] = [2]unit.Length{bw, bd}
				}
			}
			for layer, size := range want {
				got := read.Layers[layer]
				if math.Abs(got[0]-size[0].MM()) > 0.05 || math.Abs(got[1]-size[1].MM()) > 0.05 {
					t.Errorf("%s: another reader finds %s %v, want %v", s.Letter, layer, got, size)
				}
			}
		}
	}
}
