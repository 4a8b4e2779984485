package tracetest

import (
	"math"
	"math/rand/v2"
)

// Rgb is a colour in linear light, 0 to 1.
type Rgb [3]float64

func (c Rgb) times(k float64) Rgb { return Rgb{c[0] * k, c[1] * k, c[2] * k} }
func (c Rgb) mix(d Rgb, t float64) Rgb {
	return Rgb{c[0] + (d[0]-c[0])*t, c[1] + (d[1]-c[1])*t, c[2] + (d[2]-c[2])*t}
}

// srgb is a colour given the way pictures give it, 0 to 255.
func srgb(r, g, b float64) Rgb {
	f := func(v float64) float64 { return math.Pow(v/255, 2.2) }
	return Rgb{f(r), f(g), f(b)}
}

// Floors are the kinds of ground a board lies on.
var Floors = []string{"plain", "planks", "tiles", "carpet", "table"}

// Scene is everything about one photo. Make fills it from a seed; a test may
// change parts before Shoot.
type Scene struct {
	Seed   uint64
	Shape  Shape
	Thick  float64 // of the board, mm
	Floor  string
	Letter bool
	Width  int // pixels, 4:3
	Tilt   float64
	Turn   float64 // from which side the camera looks, radians
	Roll   float64
	High   float64 // from the middle of the board to the camera, mm
	Focal  float64 // as a share of the picture's diagonal
	Lens   float64 // radial distortion at the corner, share
	Curl   float64 // mm, of one corner of the sheet
	CurlAt int
	CurlIn float64 // how far the curl reaches in, mm
	SheetX float64 // the sheet's middle
	SheetY float64
	SheetA float64 // its turn
	Board  Rgb
	Side   float64 // the side's own lightness against the top
	Ply    bool    // layers in the side face
	Grain  float64
	Ground [2]Rgb
	Joint  Rgb
	Pitch  float64
	Gap    float64
	FloorA float64
	Light  [3]float64 // towards the light
	Soft   float64    // spread of the light, as a slope
	Even   float64    // how much brighter one side is
	EvenA  float64
	Shade  float64 // what is left of the light in the shadow; 1 is none
	ShadeA float64
	ShadeD float64 // where the shadow's edge runs
	ShadeW float64 // how wide the edge is
	Noise  float64 // gray levels
	Blur   float64 // pixels
	JPEG   int
}

var boards = []Rgb{srgb(222, 190, 146), srgb(196, 150, 102), srgb(150, 106, 70), srgb(96, 66, 46), srgb(62, 52, 46), srgb(176, 142, 104), srgb(208, 200, 188)}
var grounds = []Rgb{srgb(182, 140, 96), srgb(120, 84, 56), srgb(150, 148, 144), srgb(96, 96, 98), srgb(200, 196, 186), srgb(70, 58, 50), srgb(110, 120, 112), srgb(140, 110, 92)}

// Make draws a scene from a seed. Width is that of the picture in pixels.
func Make(seed uint64, width int) Scene {
	r := rand.New(rand.NewPCG(seed, 0x5ea7))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	shapes := Shapes()
	s := Scene{Seed: seed, Width: width}
	s.Shape = shapes[r.IntN(len(shapes))]
	s.Floor = Floors[r.IntN(len(Floors))]
	s.Thick = between(12, 20)
	s.Letter = r.IntN(3) == 0
	s.Tilt = between(0, 35) * math.Pi / 180
	s.Turn = between(-math.Pi, math.Pi)
	if r.IntN(2) == 0 { // mostly from the front
		s.Turn = between(-0.5, 0.5)
	}
	s.Roll = between(-0.12, 0.12)
	s.Focal = between(0.57, 0.68)
	s.High = between(760, 1050)
	s.Lens = between(-0.005, 0.005)
	s.Curl = between(0, 2)
	s.CurlAt = r.IntN(4)
	s.CurlIn = between(35, 80)
	// The sheet on the board, a little askew, with its corners on it.
	f := newField(s.Shape.Ring, 2, 10)
	for {
		s.SheetA = between(-0.25, 0.25)
		if r.IntN(2) == 0 {
			s.SheetA += math.Pi / 2
		}
		s.SheetX, s.SheetY = between(-60, 60), between(-60, 60)
		ok := true
		for _, c := range s.sheetCorners() {
			ok = ok && f.at(c.X, c.Y) < -9
		}
		if ok {
			break
		}
	}
	jitter := func(c Rgb, k float64) Rgb {
		l := 1 + k*(r.Float64()*2-1)
		for i := range c {
			c[i] = math.Min(0.9, c[i]*l*(1+0.12*(r.Float64()*2-1)))
		}
		return c
	}
	s.Board = jitter(boards[r.IntN(len(boards))], 0.2)
	s.Side = between(0.75, 1.2)
	s.Ply = r.IntN(2) == 0
	s.Grain = between(0.03, 0.12)
	g := jitter(grounds[r.IntN(len(grounds))], 0.25)
	s.Ground = [2]Rgb{g, jitter(g, 0.18)}
	s.FloorA = between(-math.Pi, math.Pi)
	switch s.Floor {
	case "planks":
		s.Pitch, s.Gap = between(70, 190), between(1.5, 4)
		s.Joint = g.times(between(0.15, 0.5))
	case "tiles":
		s.Pitch, s.Gap = between(100, 330), between(3, 7)
		s.Joint = g.times(between(0.3, 0.6))
		if r.IntN(2) == 0 {
			s.Joint = srgb(205, 200, 192).times(between(0.7, 1))
		}
	case "carpet":
		s.Pitch = between(2, 5)
	case "table":
		s.Pitch = between(250, 500)
	}
	az := between(-math.Pi, math.Pi)
	el := between(40, 80) * math.Pi / 180
	s.Light = [3]float64{math.Cos(az) * math.Cos(el), math.Sin(az) * math.Cos(el), math.Sin(el)}
	s.Soft = between(0.1, 0.8)
	s.Even, s.EvenA = between(0, 0.35), between(-math.Pi, math.Pi)
	s.Shade = 1
	if r.IntN(2) == 0 {
		s.Shade = between(0.5, 0.85)
	}
	s.ShadeA, s.ShadeD, s.ShadeW = between(-math.Pi, math.Pi), between(-200, 200), between(4, 45)
	s.Noise = between(1.5, 5)
	s.Blur = between(0.5, 1.1)
	s.JPEG = 82 + r.IntN(12)
	return s
}

func (s Scene) sheetSize() (w, h float64) {
	if s.Letter {
		return 215.9, 279.4
	}
	return 210, 297
}

// sheetCorners are the sheet's corners on the board, counter-clockwise.
func (s Scene) sheetCorners() [4]XY {
	w, h := s.sheetSize()
	c, n := math.Cos(s.SheetA), math.Sin(s.SheetA)
	var out [4]XY
	for i, p := range [4]XY{{-w / 2, -h / 2}, {w / 2, -h / 2}, {w / 2, h / 2}, {-w / 2, h / 2}} {
		out[i] = XY{s.SheetX + p.X*c - p.Y*n, s.SheetY + p.X*n + p.Y*c}
	}
	return out
}
