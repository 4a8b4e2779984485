package tracetest

import "math"

// look is what a line of sight hits and how bright it is there.
type look struct {
	s           Scene
	f           *field
	fa, fb      float64 // the floor's axes
	ca, sa      float64 // the sheet's axes
	sw, sh      float64
	cornerX     float64 // of the curled corner, in the sheet's frame
	cornerY     float64
	amb, direct float64
}

func newLook(s Scene, f *field) *look {
	l := &look{s: s, f: f, fa: math.Cos(s.FloorA), fb: math.Sin(s.FloorA), ca: math.Cos(s.SheetA), sa: math.Sin(s.SheetA)}
	l.sw, l.sh = s.sheetSize()
	q := [4]XY{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}[s.CurlAt]
	l.cornerX, l.cornerY = q.X*l.sw/2, q.Y*l.sh/2
	l.amb = 0.35
	l.direct = (1 - l.amb) / s.Light[2]
	return l
}

// hash is a random figure 0 to 1 that belongs to a cell.
func hash(x, y, k int) float64 {
	n := uint64(x)*0x9E3779B97F4A7C15 ^ uint64(y)*0xC2B2AE3D27D4EB4F ^ uint64(k)*0x165667B19E3779F9
	n ^= n >> 29
	n *= 0xBF58476D1CE4E5B9
	n ^= n >> 32
	return float64(n&0xFFFFFF) / 0xFFFFFF
}

// waves is smooth noise of unit pitch, -1 to 1.
func waves(x, y float64, k int) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int(fx), int(fy)
	u, v := x-fx, y-fy
	u, v = u*u*(3-2*u), v*v*(3-2*v)
	a := hash(ix, iy, k)*(1-u) + hash(ix+1, iy, k)*u
	b := hash(ix, iy+1, k)*(1-u) + hash(ix+1, iy+1, k)*u
	return 2*(a*(1-v)+b*v) - 1
}

func smooth(a, b, x float64) float64 {
	t := math.Max(0, math.Min(1, (x-a)/(b-a)))
	return t * t * (3 - 2*t)
}

// wood is a factor for grain along x.
func wood(x, y, amount float64, k int) float64 {
	bend := 6 * waves(x/180, y/60, k)
	g := 0.5*waves(x/90, (y+bend)/2.2, k+1) + 0.35*waves(x/140, (y+bend)/7, k+2) + 0.3*waves(x/300, (y+bend)/30, k+3)
	return 1 + amount*g
}

// light falls on a place: uneven across the room, less in the shadow.
func (l *look) light(x, y float64) float64 {
	s := l.s
	v := 1 + s.Even*(x*math.Cos(s.EvenA)+y*math.Sin(s.EvenA))/400
	d := x*math.Cos(s.ShadeA) + y*math.Sin(s.ShadeA) - s.ShadeD + 18*waves(x/200, y/200, 40)
	return math.Max(0.2, v) * (1 + (s.Shade-1)*smooth(-s.ShadeW/2, s.ShadeW/2, d))
}

// lift is how high the sheet stands at a place in its own frame: its corner is
// rolled up about a line across the diagonal.
func (l *look) lift(x, y float64) float64 {
	dx, dy := math.Abs(l.cornerX-x), math.Abs(l.cornerY-y)
	d := (dx + dy) / math.Sqrt2
	if d >= l.s.CurlIn || l.s.Curl == 0 {
		return 0
	}
	t := 1 - d/l.s.CurlIn
	return l.s.Curl * t * t
}

// seen is the light that comes along a line of sight.
func (l *look) seen(c camera, d [3]float64) Rgb {
	t := -c.at[2] / d[2]
	x, y := c.at[0]+t*d[0], c.at[1]+t*d[1]
	perMM := c.focal / (t * 1.05) // pixels a millimetre, roughly
	edge := l.f.at(x, y)
	cover := clamp01(0.5 - edge*perMM)
	var out Rgb
	if cover < 1 {
		out = l.below(c, d, x, y, perMM)
	}
	if cover > 0 {
		out = out.mix(l.top(c, d, x, y, perMM, edge), cover)
	}
	return out
}

func clamp01(v float64) float64 { return math.Max(0, math.Min(1, v)) }

// top is the board's upper face and the sheet on it.
func (l *look) top(c camera, d [3]float64, x, y, perMM, edge float64) Rgb {
	s := l.s
	col := s.Board.times(wood(x+31, y+17, s.Grain, 3))
	// Old staple holes near the rim, a few screw holes, a knot.
	if edge > -28 && edge < -6 {
		if hash(int(math.Floor(x/9)), int(math.Floor(y/9)), 7) < 0.06 {
			hx, hy := (math.Floor(x/9)+0.5)*9, (math.Floor(y/9)+0.5)*9
			col = col.times(1 - 0.6*clamp01((1.1-math.Hypot(x-hx, (y-hy)*1.5))*2))
		}
	}
	kx, ky := 300*(hash(1, 1, int(s.Seed))-0.5), 300*(hash(1, 2, int(s.Seed))-0.5)
	col = col.times(1 - 0.35*smooth(14, 5, math.Hypot(x-kx, 1.6*(y-ky))))
	bright := l.light(x, y)
	// The sheet: its own plane is lifted where it curls, so look along the line
	// of sight until it meets it.
	px, py := x, y
	var z float64
	for range 3 {
		u, v := (px-s.SheetX)*l.ca+(py-s.SheetY)*l.sa, -(px-s.SheetX)*l.sa+(py-s.SheetY)*l.ca
		z = l.lift(u, v)
		t := (z - c.at[2]) / d[2]
		px, py = c.at[0]+t*d[0], c.at[1]+t*d[1]
	}
	u, v := (px-s.SheetX)*l.ca+(py-s.SheetY)*l.sa, -(px-s.SheetX)*l.sa+(py-s.SheetY)*l.ca
	in := math.Min(l.sw/2-math.Abs(u), l.sh/2-math.Abs(v))
	paper := clamp01(0.5 + in*perMM)
	if paper < 1 {
		// What stands up throws a soft shadow beside it.
		if in > -6 && l.lift(u, v) > 0.2 {
			bright *= 1 - 0.12*l.lift(u, v)*clamp01(1+in/6)
		}
	}
	out := col.times(bright)
	if paper > 0 {
		white := Rgb{0.78, 0.78, 0.76}.times(bright * (1 + 0.03*waves(u/60, v/60, 50)) * (1 - 0.04*z))
		out = out.mix(white, paper)
	}
	return out
}

// below is the side face or the ground.
func (l *look) below(c camera, d [3]float64, x, y, perMM float64) Rgb {
	s := l.s
	t := (-s.Thick - c.at[2]) / d[2]
	gx, gy := c.at[0]+t*d[0], c.at[1]+t*d[1]
	// Along the line of sight from the upper plane down to the ground: where
	// does it pass into the board?
	const n = 14
	hit, where := math.Inf(1), 1.0
	prev := l.f.at(x, y)
	if prev < 40 {
		for i := 1; i <= n; i++ {
			f := float64(i) / n
			e := l.f.at(x+(gx-x)*f, y+(gy-y)*f)
			if e < 0 && prev >= 0 && where == 1 {
				where = f - (1.0/n)*(-e)/(prev-e+1e-9)
			}
			hit = math.Min(hit, e)
			prev = e
		}
	}
	cover := clamp01(0.5 - hit*perMM)
	ground := Rgb{}
	if cover < 1 {
		ground = l.ground(gx, gy, perMM)
	}
	if cover == 0 {
		return ground
	}
	hx, hy := x+(gx-x)*where, y+(gy-y)*where
	e := 1.0
	nx, ny := l.f.at(hx+e, hy)-l.f.at(hx-e, hy), l.f.at(hx, hy+e)-l.f.at(hx, hy-e)
	if m := math.Hypot(nx, ny); m > 0 {
		nx, ny = nx/m, ny/m
	}
	col := s.Board.times(s.Side)
	if s.Ply {
		layer := int(where * s.Thick / 1.6)
		col = col.times(1 + 0.22*(float64(layer%2)-0.5) + 0.06*(hash(layer, int(hx/40), 9)-0.5))
	} else {
		col = col.times(1 + 0.08*waves(hx/5, hy/5, 12))
	}
	shine := l.amb*(1-0.35*where) + l.direct*math.Max(0, nx*s.Light[0]+ny*s.Light[1])
	return ground.mix(col.times(shine*l.light(hx, hy)), cover)
}

// ground is the floor or table with the board's own shadow on it.
func (l *look) ground(x, y, perMM float64) Rgb {
	s := l.s
	u, v := x*l.fa+y*l.fb, -x*l.fb+y*l.fa
	col := s.Ground[0]
	line := func(d, half float64) float64 { return clamp01(0.5 + (half-math.Abs(d))*perMM) }
	switch s.Floor {
	case "plain":
		col = col.times(1 + 0.03*waves(u/30, v/30, 20) + 0.02*waves(u/2, v/2, 21))
	case "planks":
		row := math.Floor(v / s.Pitch)
		shift := hash(int(row), 0, 22) * 900
		cell := math.Floor((u + shift) / 900)
		col = col.mix(s.Ground[1], hash(int(row), int(cell), 23)).times(wood(u+row*313, v, 0.16, 24))
		dv := v - row*s.Pitch
		dv = math.Min(dv, s.Pitch-dv)
		du := u + shift - cell*900
		du = math.Min(du, 900-du)
		col = col.mix(s.Joint, math.Max(line(dv, s.Gap/2), line(du, s.Gap/2)))
	case "tiles":
		i, j := math.Floor(u/s.Pitch), math.Floor(v/s.Pitch)
		col = col.mix(s.Ground[1], hash(int(i), int(j), 25)).times(1 + 0.05*waves(u/25, v/25, 26))
		du, dv := u-i*s.Pitch, v-j*s.Pitch
		du, dv = math.Min(du, s.Pitch-du), math.Min(dv, s.Pitch-dv)
		col = col.mix(s.Joint, math.Max(line(du, s.Gap/2), line(dv, s.Gap/2)))
	case "carpet":
		col = col.mix(s.Ground[1], 0.5+0.5*waves(u/90, v/90, 27)).times(1 + 0.35*waves(u/s.Pitch, v/s.Pitch, 28) + 0.15*waves(u/25, v/25, 29))
	case "table":
		lane := int(math.Floor(v / s.Pitch))
		col = col.mix(s.Ground[1], 0.5*hash(lane, 0, 30)).times(wood(u+float64(lane)*211, v, 0.2, 31))
	}
	// The board's shadow: march towards the light up to the board's upper face.
	slopeX, slopeY := s.Light[0]/s.Light[2], s.Light[1]/s.Light[2]
	dark := 0.0
	e0 := l.f.at(x, y)
	if e0 < 60 {
		const n = 6
		for i := 1; i <= n; i++ {
			z := s.Thick * float64(i) / n
			e := l.f.at(x+slopeX*z, y+slopeY*z)
			dark = math.Max(dark, smooth(s.Soft*z+0.6, -s.Soft*z-0.6, e))
		}
	}
	shine := l.amb + (1-l.amb)*(1-0.9*dark)
	// Less of the room's light reaches the ground close to the board.
	shine *= 1 - 0.35*math.Exp(-math.Max(0, e0)/6)
	return col.times(shine * l.light(x, y))
}
