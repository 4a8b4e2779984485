package tracetest

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
)

// camera looks at the middle of the board.
type camera struct {
	at           [3]float64
	right, down  [3]float64
	ahead        [3]float64
	focal        float64
	w, h, radius float64
	lens         float64
}

func (s Scene) camera() camera {
	w := float64(s.Width)
	h := math.Round(w * 3 / 4)
	c := camera{w: w, h: h, radius: math.Hypot(w, h) / 2, lens: s.Lens}
	c.focal = s.Focal * 2 * c.radius
	st, ct := math.Sin(s.Tilt), math.Cos(s.Tilt)
	sn, cs := math.Sin(s.Turn), math.Cos(s.Turn)
	// Tilted towards the viewer, then turned about the board.
	c.at = [3]float64{s.High * st * sn, -s.High * st * cs, s.High * ct}
	c.ahead = [3]float64{-st * sn, st * cs, -ct}
	right := [3]float64{cs, sn, 0}
	down := cross(c.ahead, right)
	sr, cr := math.Sin(s.Roll), math.Cos(s.Roll)
	for i := range 3 {
		c.right[i] = cr*right[i] + sr*down[i]
		c.down[i] = cr*down[i] - sr*right[i]
	}
	return c
}

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// ray is the direction of sight through a pixel. The lens moves the picture of
// a point at distance r (1 at the corner) to r (1 + lens r²).
func (c camera) ray(px, py float64) [3]float64 {
	x, y := (px-c.w/2)/c.radius, (py-c.h/2)/c.radius
	rd := math.Hypot(x, y)
	r := rd
	for range 4 {
		r = rd / (1 + c.lens*r*r)
	}
	k := 1.0
	if rd > 0 {
		k = r / rd
	}
	x, y = x*k*c.radius/c.focal, y*k*c.radius/c.focal
	var d [3]float64
	for i := range 3 {
		d[i] = c.ahead[i] + x*c.right[i] + y*c.down[i]
	}
	return d
}

// Pixel is where a point in space comes to lie in the picture.
func (c camera) pixel(p [3]float64) XY {
	var x, y, z float64
	for i := range 3 {
		d := p[i] - c.at[i]
		x, y, z = x+d*c.right[i], y+d*c.down[i], z+d*c.ahead[i]
	}
	x, y = x/z*c.focal/c.radius, y/z*c.focal/c.radius
	k := 1 + c.lens*(x*x+y*y)
	return XY{c.w/2 + x*k*c.radius, c.h/2 + y*k*c.radius}
}

// Photo is a picture with its truth.
type Photo struct {
	Scene   Scene
	Image   image.Image // decoded from JPEG
	JPEG    []byte
	Corners [4]XY // of the sheet as it lies (a curled corner where it is)
	Ring    []XY  // the true outline, millimetres
}

// SheetFrame moves a point of the board's plane into the sheet's own frame:
// origin in its middle, axes along its sides.
func (p Photo) SheetFrame(q XY) XY {
	s := p.Scene
	c, n := math.Cos(s.SheetA), math.Sin(s.SheetA)
	x, y := q.X-s.SheetX, q.Y-s.SheetY
	return XY{x*c + y*n, -x*n + y*c}
}

// Shoot takes the photo.
func (s Scene) Shoot() Photo {
	cam := s.camera()
	w, h := int(cam.w), int(cam.h)
	f := newField(s.Shape.Ring, 0.5, 40)
	l := newLook(s, f)
	lin := make([]float32, 3*w*h)
	for y := range h {
		for x := range w {
			d := cam.ray(float64(x)+0.5, float64(y)+0.5)
			c := l.seen(cam, d)
			o := 3 * (y*w + x)
			// Falling off towards the rim, as lenses do.
			rx, ry := (float64(x)-cam.w/2)/cam.radius, (float64(y)-cam.h/2)/cam.radius
			v := 1 - 0.22*(rx*rx+ry*ry)
			for i := range 3 {
				lin[o+i] = float32(c[i] * v)
			}
		}
	}
	img := finish(s, lin, w, h)
	var buf bytes.Buffer
	_ = jpeg.Encode(&buf, img, &jpeg.Options{Quality: s.JPEG})
	return s.Again(buf.Bytes())
}

// Again is the photo of a scene whose picture was kept from an earlier Shoot.
func (s Scene) Again(file []byte) Photo {
	cam := s.camera()
	out := Photo{Scene: s, JPEG: file, Ring: s.Shape.Ring}
	out.Image, _ = jpeg.Decode(bytes.NewReader(file))
	for i, c := range s.sheetCorners() {
		z := 0.0
		if i == s.CurlAt {
			z = s.Curl
		}
		out.Corners[i] = cam.pixel([3]float64{c.X, c.Y, z})
	}
	return out
}

// finish blurs, adds noise and turns linear light into gray levels.
func finish(s Scene, lin []float32, w, h int) *image.RGBA {
	r := 3
	k := make([]float32, 2*r+1)
	var sum float32
	for i := range k {
		d := float64(i-r) / s.Blur
		k[i] = float32(math.Exp(-d * d / 2))
		sum += k[i]
	}
	for i := range k {
		k[i] /= sum
	}
	tmp := make([]float32, len(lin))
	at := func(i, n int) int { return max(0, min(i, n-1)) }
	for y := range h {
		for x := range w {
			for c := range 3 {
				var v float32
				for i, kv := range k {
					v += kv * lin[3*(y*w+at(x+i-r, w))+c]
				}
				tmp[3*(y*w+x)+c] = v
			}
		}
	}
	rnd := rand.New(rand.NewPCG(s.Seed, 99))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	var table [4097]float32
	for i := range table {
		table[i] = float32(255 * math.Pow(float64(i)/4096, 1/2.2))
	}
	bell := make([]float32, 1<<14)
	for i := range bell {
		bell[i] = float32(rnd.NormFloat64() * s.Noise)
	}
	n := rnd.Uint32()
	for y := range h {
		for x := range w {
			var px [4]uint8
			for c := range 3 {
				var v float32
				for i, kv := range k {
					v += kv * tmp[3*(at(y+i-r, h)*w+x)+c]
				}
				v = max(0, min(v, 1))
				n = n*1664525 + 1013904223
				g := table[int(v*4096)] + bell[n>>18]
				px[c] = uint8(max(0, min(255, g+0.5)))
			}
			img.SetRGBA(x, y, color.RGBA{px[0], px[1], px[2], 255})
		}
	}
	return img
}
