package outlinefile

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"slipseat/engine/geom"
)

// dxfOf is a drawing with header variables and entities.
func dxfOf(header, body string) string {
	return "0\nSECTION\n2\nHEADER\n" + header + "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + body + "0\nENDSEC\n0\nEOF\n"
}

// tags writes groups: code, value, code, value.
func tags(v ...any) string {
	var b strings.Builder
	for i := 0; i+1 < len(v); i += 2 {
		fmt.Fprintf(&b, "%v\n%v\n", v[i], v[i+1])
	}
	return b.String()
}

const millimetres = "9\n$INSUNITS\n70\n4\n"

// dxfCases are worked by hand after the DXF Reference's ENTITIES chapter; want
// are area and bounding box (x0, y0, x1, y1) of the largest shape.
var dxfCases = []struct {
	name, header, body string
	area               float64
	box                [4]float64
}{
	{"LINE, four of them, two the other way round", millimetres,
		tags(0, "LINE", 8, "B", 10, 0, 20, 0, 11, 400, 21, 0, 0, "LINE", 8, "B", 10, 400, 20, 300, 11, 400, 21, 0,
			0, "LINE", 8, "B", 10, 400, 20, 300, 11, 0, 21, 300, 0, "LINE", 8, "B", 10, 0, 20, 0, 11, 0, 21, 300), 120000, [4]float64{0, 0, 400, 300}},
	{"CIRCLE", millimetres, tags(0, "CIRCLE", 10, 5, 20, 6, 40, 100), math.Pi * 1e4, [4]float64{-95, -94, 105, 106}},
	// From 350° to 10° the arc passes 0°: sweep 20°, chord 2·100·sin 10°.
	{"ARC over 0° with its chord", millimetres, tags(0, "ARC", 10, 0, 20, 0, 40, 100, 50, 350, 51, 10,
		0, "LINE", 10, 98.480775, 20, 17.364818, 11, 98.480775, 21, -17.364818),
		5000 * (math.Pi/9 - math.Sin(math.Pi/9)), [4]float64{98.480775, -17.364818, 100, 17.364818}},
	// A bulge is tan(angle/4): for a half circle (180°) tan 45° = 1, for a
	// quarter (90°) tan 22.5° = √2 - 1.
	{"LWPOLYLINE with a half circle", millimetres, tags(0, "LWPOLYLINE", 90, 4, 70, 1, 10, 0, 20, 0, 10, 100, 20, 0, 42, 1, 10, 100, 20, 50, 10, 0, 20, 50),
		5000 + math.Pi*625/2, [4]float64{0, 0, 125, 50}},
	{"LWPOLYLINE with four rounded corners", millimetres, tags(0, "LWPOLYLINE", 90, 8, 70, 1,
		10, 20, 20, 0, 10, 80, 20, 0, 42, 0.41421356237309503, 10, 100, 20, 20, 10, 100, 20, 30, 42, 0.41421356237309503,
		10, 80, 20, 50, 10, 20, 20, 50, 42, 0.41421356237309503, 10, 0, 20, 30, 10, 0, 20, 20, 42, 0.41421356237309503),
		5000 - (4-math.Pi)*400, [4]float64{0, 0, 100, 50}},
	{"LWPOLYLINE with a hollow side, clockwise", millimetres, tags(0, "LWPOLYLINE", 90, 4, 70, 1, 10, 0, 20, 0, 10, 0, 20, 50, 10, 100, 20, 50, 42, 0.41421356237309503, 10, 100, 20, 0),
		// the quarter's cap over a chord of 50: radius 25√2, area r²(π/4 - 1/2)
		5000 - 1250*(math.Pi/4-0.5), [4]float64{0, 0, 100, 50}},
	{"LWPOLYLINE seen from below", millimetres, tags(0, "LWPOLYLINE", 90, 4, 70, 1, 230, -1, 10, 0, 20, 0, 10, 100, 20, 0, 42, 1, 10, 100, 20, 50, 10, 0, 20, 50),
		5000 + math.Pi*625/2, [4]float64{-125, 0, 0, 50}},
	{"POLYLINE with VERTEX and SEQEND", millimetres, tags(0, "POLYLINE", 66, 1, 70, 1, 0, "VERTEX", 10, 0, 20, 0, 0, "VERTEX", 10, 100, 20, 0, 42, 1, 0, "VERTEX", 10, 100, 20, 50, 0, "VERTEX", 10, 0, 20, 50, 0, "SEQEND"),
		5000 + math.Pi*625/2, [4]float64{0, 0, 125, 50}},
	{"ELLIPSE", millimetres, tags(0, "ELLIPSE", 10, 0, 20, 0, 11, 0, 21, 200, 40, 0.5, 41, 0, 42, 2*math.Pi), math.Pi * 200 * 100, [4]float64{-100, -200, 100, 200}},
	// The half of the ellipse from parameter 0 to π lies to the left of its
	// major axis.
	{"half an ELLIPSE with a LINE", millimetres, tags(0, "ELLIPSE", 10, 0, 20, 0, 11, 200, 21, 0, 40, 0.5, 41, 0, 42, math.Pi, 0, "LINE", 10, -200, 20, 0, 11, 200, 21, 0), math.Pi * 1e4, [4]float64{-200, 0, 200, 100}},
	// A clamped cubic of four control points is the Bézier curve; the area
	// between it and its chord is 3/10 of the height for (0,0) (0,h) (w,h) (w,0)
	// times ... ∫y dx = 3/5·w·h for these points.
	{"SPLINE of degree 3", millimetres, tags(0, "SPLINE", 70, 8, 71, 3, 40, 0, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 1, 40, 1,
		10, 0, 20, 0, 10, 0, 20, 100, 10, 200, 20, 100, 10, 200, 20, 0, 0, "LINE", 10, 0, 20, 0, 11, 200, 21, 0), 12000, [4]float64{0, 0, 200, 75}},
	// A quarter circle as a rational quadratic: weights 1, √2/2, 1.
	{"rational SPLINE of degree 2", millimetres, tags(0, "SPLINE", 70, 12, 71, 2, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 1,
		41, 1, 41, math.Sqrt2/2, 41, 1, 10, 100, 20, 0, 10, 100, 20, 100, 10, 0, 20, 100,
		0, "LINE", 10, 0, 20, 100, 11, 0, 21, 0, 0, "LINE", 10, 0, 20, 0, 11, 100, 21, 0), math.Pi * 2500, [4]float64{0, 0, 100, 100}},
	// Inserted at (1000, 2000), twice as wide, turned 90°: the 100 × 50 box
	// becomes 50 wide and 200 deep, to the left of the place.
	{"INSERT of a block", millimetres + "0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n" + tags(0, "BLOCK", 2, "seat", 10, 0, 20, 0, 0, "LWPOLYLINE", 90, 4, 70, 1, 10, 0, 20, 0, 10, 100, 20, 0, 10, 100, 20, 50, 10, 0, 20, 50, 0, "ENDBLK"),
		tags(0, "INSERT", 2, "SEAT", 10, 1000, 20, 2000, 41, 2, 42, 1, 50, 90), 10000, [4]float64{950, 2000, 1000, 2200}},
	{"inches", "9\n$INSUNITS\n70\n1\n", tags(0, "CIRCLE", 10, 0, 20, 0, 40, 10), math.Pi * 254 * 254, [4]float64{-254, -254, 254, 254}},
	{"metres", "9\n$INSUNITS\n70\n6\n", tags(0, "CIRCLE", 10, 0, 20, 0, 40, 0.25), math.Pi * 62500, [4]float64{-250, -250, 250, 250}},
	{"no unit, English measurement", "9\n$MEASUREMENT\n70\n0\n", tags(0, "CIRCLE", 10, 0, 20, 0, 40, 10), math.Pi * 254 * 254, [4]float64{-254, -254, 254, 254}},
	{"no unit at all", "", tags(0, "CIRCLE", 10, 0, 20, 0, 40, 200), math.Pi * 4e4, [4]float64{-200, -200, 200, 200}},
	{"no unit, inches by their size", "", tags(0, "CIRCLE", 10, 0, 20, 0, 40, 10), math.Pi * 254 * 254, [4]float64{-254, -254, 254, 254}},
	{"no unit, metres by their size", "", tags(0, "CIRCLE", 10, 0, 20, 0, 40, 0.25), math.Pi * 62500, [4]float64{-250, -250, 250, 250}},
	{"far from the origin", millimetres, tags(0, "LWPOLYLINE", 90, 4, 70, 1, 10, 500000, 20, 900000, 10, 500400, 20, 900000, 10, 500400, 20, 900300, 10, 500000, 20, 900300), 120000, [4]float64{-200, -150, 200, 150}},
}

func TestDXFByHand(t *testing.T) {
	for _, c := range dxfCases {
		d, f := Read([]byte(dxfOf(c.header, c.body)), Options{})
		if f != nil {
			t.Errorf("%s: %v", c.name, f)
			continue
		}
		s := d.Shapes[0]
		if s.Fault != nil {
			t.Errorf("%s: %v", c.name, s.Fault)
			continue
		}
		b := s.Path.Bounds()
		if math.Abs(s.Path.Area()-c.area) > 0.03*s.Path.Length() {
			t.Errorf("%s: area %.3f, want %.3f mm²", c.name, s.Path.Area(), c.area)
		}
		for i, got := range [4]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
			if math.Abs(got-c.box[i]) > 0.045 {
				t.Errorf("%s: box %v, want %v", c.name, b, c.box)
				break
			}
		}
		if want := strings.Contains(c.header, "$INSUNITS"); d.Said != want {
			t.Errorf("%s: unit said %v", c.name, d.Said)
		}
	}
}

func TestDXFLeavesOut(t *testing.T) {
	layers := "0\nENDSEC\n0\nSECTION\n2\nTABLES\n" + tags(0, "LAYER", 2, "Off", 70, 0, 62, -7, 0, "LAYER", 2, "Frozen", 70, 1, 62, 7)
	circle := func(layer string, extra ...any) string {
		return tags(append([]any{0, "CIRCLE", 8, layer, 10, 0, 20, 0, 40, 100 + len(extra)}, extra...)...)
	}
	d, f := Read([]byte(dxfOf(millimetres+layers, circle("OFF")+circle("frozen")+circle("0", 67, 1)+circle("0", 210, 1, 230, 0)+
		tags(0, "MTEXT", 1, "seat", 0, "DIMENSION", 2, "x", 0, "POINT", 10, 0, 20, 0, 0, "HATCH", 2, "x", 0, "HELIX", 10, 0)+circle("Keep"))), Options{})
	if f != nil || len(d.Shapes) != 1 || d.Shapes[0].Name != "Keep" {
		t.Fatalf("%v %v", f, d.Shapes)
	}
	if got := fmt.Sprint(d.Left); got != "[{hidden 2} {tilted 1} {text 1} {dimension 1} {hatch 1} {other 1}]" {
		t.Errorf("left out: %s", got)
	}
}

// A spline given by points it runs through: on a circle of radius 100 at every
// 15° it strays from the circle by less than a tenth.
func TestDXFSplineThroughPoints(t *testing.T) {
	v := []any{0, "SPLINE", 70, 8, 71, 3, 12, 0, 22, 1, 13, 0, 23, 1}
	for i := range 25 {
		a := float64(i) * math.Pi / 12
		v = append(v, 11, 100*math.Cos(a), 21, 100*math.Sin(a))
	}
	d, f := Read([]byte(dxfOf(millimetres, tags(v...))), Options{})
	if f != nil || d.Shapes[0].Fault != nil {
		t.Fatal(f, d.Shapes)
	}
	for _, q := range d.Shapes[0].Path.Flatten(0.01) {
		if r := q.Len(); math.Abs(r-100) > 0.1 {
			t.Fatalf("%v lies %.3f from the centre", q, r)
		}
	}
}

// python is the system's own, which has the package.
const python = "/usr/bin/python3"

// another writes a drawing with entities of every kind at random, and the
// points on them, one list for each closed loop, by ezdxf's own arithmetic.
const another = `
import sys, json, math, random
import ezdxf
random.seed(int(sys.argv[2]))
doc = ezdxf.new("R2010"); doc.units = 4
msp = doc.modelspace()
R = random.uniform
def star(n, cx, cy):
    out = []
    for i in range(n):
        a = 2*math.pi*i/n; r = R(60, 100)
        out.append((cx + r*math.cos(a), cy + r*math.sin(a)))
    return out
loops = []
def points(e):
    t = e.dxftype()
    if t == "LINE":
        return [e.dxf.start, e.dxf.end]
    if t == "SPLINE":  # between the first and last knot that count
        b = e.construction_tool(); k = list(b.knots()); d = b.degree; n = b.count
        return [b.point(k[d] + (k[n] - k[d])*i/2000 if i < 2000 else k[n]) for i in range(2001)]
    return list(e.flattening(0.0005))
def keep(entities):
    parts = []
    for whole in entities:
        for e in (whole.virtual_entities() if whole.dxftype() in ("LWPOLYLINE", "POLYLINE") else [whole]):
            parts.append([(v[0], v[1]) for v in points(e)])
    if len(parts) > 1:  # the first one runs towards the second
        first, second = parts[0], parts[1]
        near = lambda p: min(math.dist(p, second[0]), math.dist(p, second[-1]))
        if len(parts) > 2 and near(first[0]) < near(first[-1]):
            first.reverse()
    pts = []
    for more in parts:
        if pts and math.dist(pts[-1], more[0]) > math.dist(pts[-1], more[-1]):
            more.reverse()
        pts += more
    loops.append(pts)
keep([msp.add_circle((R(-50, 50), R(-50, 50)), R(20, 90))])
keep([msp.add_ellipse((500, R(-50, 50)), (R(30, 90), R(-40, 40)), R(0.2, 1))])
pts = [(x, y, 0, 0, R(-0.3, 0.5)) for x, y in star(7, 1000, 0)]
keep([msp.add_lwpolyline(pts, format="xyseb", close=True)])
keep([msp.add_polyline2d([(x, y, R(-0.2, 0.4)) for x, y in star(6, 1500, 0)], format="xyb", close=True)])
e = msp.add_lwpolyline([(x, y, 0, 0, R(-0.3, 0.5)) for x, y in star(5, 2000, 0)], format="xyseb", close=True)
e.dxf.extrusion = (0, 0, -1)
keep([e])
c = star(9, 2500, 0)
from ezdxf.math import closed_uniform_bspline
e = msp.add_spline()
e.apply_construction_tool(closed_uniform_bspline(c, order=4, weights=[R(0.5, 2) for _ in c]))
keep([e])
s = star(8, 3000, 0)
a = msp.add_open_spline(s, degree=random.choice([2, 3, 4])); b = msp.add_line(s[-1], s[0])
keep([a, b])
x = 3500
start = R(0, 360)
arc = msp.add_arc((x, 0), R(30, 90), start, start + R(40, 320))
keep([arc, msp.add_line(arc.end_point, arc.start_point)])
blk = doc.blocks.new("seat", base_point=(R(-9, 9), R(-9, 9)))
blk.add_lwpolyline([(px, py, 0, 0, R(-0.3, 0.5)) for px, py in star(6, 0, 0)], format="xyseb", close=True)
ins = msp.add_blockref("seat", (4000, R(-50, 50)), dxfattribs={"xscale": R(0.5, 1.5), "yscale": R(0.5, 1.5), "rotation": R(0, 360)})
keep(list(ins.virtual_entities()))
doc.saveas(sys.argv[1])
json.dump(loops, sys.stdout)
`

// TestDXFAgainstAnother reads files that another program wrote and holds every
// point that it puts on its entities against our paths, and the areas.
func TestDXFAgainstAnother(t *testing.T) {
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("no other DXF reader is installed (python3-ezdxf)")
	}
	checked := 0
	for seed := range 3 {
		file := filepath.Join(t.TempDir(), "other.dxf")
		out, err := exec.Command(python, "-c", another, file, fmt.Sprint(seed)).Output()
		if err != nil {
			if e, ok := err.(*exec.ExitError); ok {
				t.Fatalf("%v\n%s", err, e.Stderr)
			}
			t.Fatal(err)
		}
		var loops [][][2]float64
		if err := json.Unmarshal(out, &loops); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		d, f := Read(data, Options{})
		if f != nil || !d.Said || d.Unit != Millimetre {
			t.Fatalf("seed %d: %v %v", seed, f, d.Unit)
		}
		if len(d.Shapes) != len(loops) {
			t.Errorf("seed %d: %d shapes, another finds %d", seed, len(d.Shapes), len(loops))
		}
		for i, loop := range loops {
			var ring geom.Polygon
			for _, p := range loop {
				ring = append(ring, geom.P(p[0], p[1]))
			}
			best, off := -1, math.Inf(1)
			for k, s := range d.Shapes {
				worst := 0.0
				for _, q := range ring {
					worst = max(worst, s.Path.Distance(q))
				}
				if worst < off {
					best, off = k, worst
				}
			}
			if off > 0.05 {
				t.Errorf("seed %d, loop %d: its points lie up to %.4f mm from the nearest shape", seed, i, off)
				continue
			}
			p := d.Shapes[best].Path
			if a, b := p.Area(), math.Abs(ring.Area()); math.Abs(a-b) > 0.03*p.Length() && d.Shapes[best].Fault == nil {
				t.Errorf("seed %d, loop %d: area %.2f, another says %.2f", seed, i, a, b)
			}
			checked += len(ring)
		}
	}
	t.Logf("%d points of another program checked", checked)
}
