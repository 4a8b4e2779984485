package trace

import (
	"context"
	"image"
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Flat is the photo made flat: as if seen from straight above, true to scale in
// the plane of the reference.
type Flat struct {
	Img     *image.RGBA
	MMPerPx float64
	// TopLeft is the model's place of the picture's upper left corner.
	TopLeft geom.Pt
	Sheet   Sheet
	Camera  Camera
	// ToPhoto maps the model to the photo's pixels.
	ToPhoto Homography
	// Straight is true when only scale and no perspective was corrected: the
	// reference was two points.
	Straight bool
	// Expected is how far off an outline of a usual seat round the reference
	// will be, 95 times of 100, when it is traced to the pixel.
	Expected unit.Length
	Advice   []Advice

	photo *Photo
}

// Flattening keeps the photo's own resolution near the sheet, within these
// bounds: finer than finest shows only noise, coarser than coarsest loses the
// half millimetre that is asked for.
const (
	finest    = 0.2 // mm per pixel
	coarsest  = 1.0
	mostFlat  = 5.2e6 // pixels: 21 MB
	reachOut  = 560.0 // mm from the middle of a sheet: half of a bench for two
	reachSide = 2.2   // and at least so many times the reference's longer side
)

// steps of resolution, so that the same photo gives the same picture when a
// corner moves a little.
var resolutions = []float64{0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10}

// Flatten makes the picture flat round the reference. Errors: *unit.Fault with
// CodeBadCorners, or the context's error.
func Flatten(ctx context.Context, p *Photo, s Sheet, report Report) (*Flat, error) {
	if err := s.Ref.Validate(); err != nil {
		return nil, err
	}
	if s.Ref.Kind == TwoPoints {
		if a, b := s.Corners[0], s.Corners[1]; !a.Finite() || !b.Finite() || a.Dist(b) < 40 {
			return nil, &unit.Fault{Code: CodePointsClose}
		}
	} else if !s.Corners.valid() {
		return nil, &unit.Fault{Code: CodeBadCorners}
	}
	h, ok := s.toPhoto()
	if !ok {
		return nil, &unit.Fault{Code: CodeBadCorners}
	}
	report.say(0)
	f := &Flat{Sheet: s, ToPhoto: h, Straight: s.Ref.Kind == TwoPoints, photo: p}
	if !f.Straight {
		f.Camera, _ = cameraOf(h, p)
		if f.Camera.Height <= 0 || f.Camera.Tilt > 75*math.Pi/180 {
			return nil, &unit.Fault{Code: CodeBadCorners}
		}
	}
	box, ok := f.inSight()
	if !ok {
		return nil, &unit.Fault{Code: CodeBadCorners}
	}
	f.MMPerPx = f.resolution(box)
	w := int(math.Ceil(box.W() / f.MMPerPx))
	ht := int(math.Ceil(box.H() / f.MMPerPx))
	f.TopLeft = geom.P(box.Min.X, box.Max.Y)
	f.Img = image.NewRGBA(image.Rect(0, 0, w, ht))
	if err := f.warp(ctx, report); err != nil {
		return nil, err
	}
	f.Expected = f.expectedOn(f.usual(), 0)
	f.Advice = f.advise(f.Expected, nil)
	report.say(1)
	return f, nil
}

// inSight is the part of the model's plane that the photo shows, at most
// reachOut from the reference.
func (f *Flat) inSight() (geom.Rect, bool) {
	w, h := f.photo.Size()
	reach := max(reachOut, reachSide*max(float64(f.Sheet.Ref.W), float64(f.Sheet.Ref.H)))
	var box geom.Rect
	found := false
	const n = 80
	for i := -n; i <= n; i++ {
		for j := -n; j <= n; j++ {
			m := geom.P(reach*float64(i)/n, reach*float64(j)/n)
			q, ok := f.ToPhoto.Apply(m)
			if !ok || q.X < 0 || q.Y < 0 || q.X > float64(w) || q.Y > float64(h) {
				continue
			}
			if !found {
				box, found = geom.Rect{Min: m, Max: m}, true
			}
			box = box.Include(m)
		}
	}
	return box, found && box.W() > 10 && box.H() > 10
}

// pixelsPerMM is the photo's resolution at a place of the model, across the
// direction in which it is poorest.
func (f *Flat) pixelsPerMM(m geom.Pt) float64 {
	a, ok1 := f.ToPhoto.Apply(m)
	b, ok2 := f.ToPhoto.Apply(m.Add(geom.P(1, 0)))
	c, ok3 := f.ToPhoto.Apply(m.Add(geom.P(0, 1)))
	if !ok1 || !ok2 || !ok3 {
		return 0
	}
	// The smaller singular value of the map's derivative.
	u, v := b.Sub(a), c.Sub(a)
	e, g := u.Dot(u)+v.Dot(v), math.Abs(u.Cross(v))
	return math.Sqrt(max(0, (e-math.Sqrt(max(0, e*e-4*g*g)))/2))
}

func (f *Flat) resolution(box geom.Rect) float64 {
	native := 1 / max(1e-6, f.pixelsPerMM(geom.P(0, 0)))
	want := max(finest, min(coarsest, native))
	for _, r := range resolutions {
		if r >= want*0.9 && box.W()*box.H()/(r*r) <= mostFlat {
			return r
		}
	}
	return max(resolutions[len(resolutions)-1], math.Sqrt(box.W()*box.H()/mostFlat))
}

// Beyond the photo's edge the flat picture has this colour.
var beyond = [4]byte{0x80, 0x80, 0x80, 0}

// warp fills the picture, each pixel read between the four nearest of the
// photo. Where the photo is not in sight the picture is clear (alpha 0).
func (f *Flat) warp(ctx context.Context, report Report) error {
	src, dst := f.photo.img, f.Img
	w, h := src.Rect.Dx(), src.Rect.Dy()
	n := dst.Rect.Dy()
	const parts = 8
	for part := range parts {
		y0, y1 := n*part/parts, n*(part+1)/parts
		err := inBands(ctx, y1-y0, func(a, b int) {
			for y := y0 + a; y < y0+b; y++ {
				my := f.TopLeft.Y - (float64(y)+0.5)*f.MMPerPx
				mx := f.TopLeft.X + 0.5*f.MMPerPx
				hm := f.ToPhoto
				px, py, pw := hm[0]*mx+hm[1]*my+hm[2], hm[3]*mx+hm[4]*my+hm[5], hm[6]*mx+hm[7]*my+hm[8]
				dx, dy, dw := hm[0]*f.MMPerPx, hm[3]*f.MMPerPx, hm[6]*f.MMPerPx
				row := dst.Pix[y*dst.Stride : y*dst.Stride+4*dst.Rect.Dx()]
				for o := 0; o < len(row); o += 4 {
					inv := 1 / pw
					sx, sy := px*inv-0.5, py*inv-0.5
					px, py = px+dx, py+dy
					if pw < 1e-12 || sx < 0 || sy < 0 || sx >= float64(w-1) || sy >= float64(h-1) {
						pw += dw
						copy(row[o:o+4], beyond[:])
						continue
					}
					pw += dw
					ix, iy := int(sx), int(sy)
					fx, fy := uint32((sx-float64(ix))*256), uint32((sy-float64(iy))*256)
					s := src.Pix[iy*src.Stride+ix*4:]
					t := s[src.Stride:]
					w00, w01, w10, w11 := (256-fx)*(256-fy), fx*(256-fy), (256-fx)*fy, fx*fy
					row[o] = byte((uint32(s[0])*w00 + uint32(s[4])*w01 + uint32(t[0])*w10 + uint32(t[4])*w11 + 32768) >> 16)
					row[o+1] = byte((uint32(s[1])*w00 + uint32(s[5])*w01 + uint32(t[1])*w10 + uint32(t[5])*w11 + 32768) >> 16)
					row[o+2] = byte((uint32(s[2])*w00 + uint32(s[6])*w01 + uint32(t[2])*w10 + uint32(t[6])*w11 + 32768) >> 16)
					row[o+3] = 255
				}
			}
		})
		if err != nil {
			return err
		}
		report.say(float64(part+1) / (parts + 1))
	}
	return nil
}

// Pixel is the place of a model point in the flat picture.
func (f *Flat) Pixel(m geom.Pt) (x, y float64) {
	return (m.X - f.TopLeft.X) / f.MMPerPx, (f.TopLeft.Y - m.Y) / f.MMPerPx
}

// Model is the place in millimetres of a pixel of the flat picture.
func (f *Flat) Model(x, y float64) geom.Pt {
	return geom.P(f.TopLeft.X+x*f.MMPerPx, f.TopLeft.Y-y*f.MMPerPx)
}

// Bounds is the flat picture's box in the model.
func (f *Flat) Bounds() geom.Rect {
	b := f.Img.Rect
	return geom.Rect{Min: f.Model(0, float64(b.Dy())), Max: f.Model(float64(b.Dx()), 0)}
}
