package trace

import (
	"context"
	"image"
	"image/draw"
	"math"
	"runtime"
	"sync"

	"slipseat/engine/unit"
)

// Codes of the faults of a photo and of its reference.
const (
	CodeTooSmall     = "photo.too-small"     // args least: pixels of the shorter side
	CodeTooLarge     = "photo.too-large"     // args most: megapixels
	CodeBadReference = "photo.bad-reference" // a side or distance that cannot be; args least, most
	CodeBadCorners   = "photo.bad-corners"   // the corners are no four-sided figure seen from above
	CodePointsClose  = "photo.points-close"  // the two points of a distance lie too close together
	CodeNoSheet      = "photo.no-sheet"      // no sheet was found
	CodeNoOutline    = "photo.no-outline"    // no outline was found
	CodeNoSeed       = "photo.no-seed"       // no sheet lies on the board, so a click inside the board is needed
	CodeSeedOutside  = "photo.seed-outside"  // the click lies outside the flattened picture
	CodeOutlineFaint = "photo.outline-faint" // an outline shows only in parts; args share
	CodeOutlineCut   = "photo.outline-cut"   // the board seems to reach beyond the picture
)

// minSide is the least number of pixels of the shorter side of a photo: below
// it a sheet on a board is under a hundred pixels wide and one pixel is over
// two millimetres.
const minSide = 300

// maxPixels bounds the memory of a photo (four bytes a pixel).
const maxPixels = 120e6

// Photo is a picture made ready for tracing. It keeps the pixels it was given;
// nobody may change them afterwards.
type Photo struct {
	img   *image.RGBA
	focal float64 // pixels, 0 when unknown
}

// Report takes the share of the work that is done, 0 to 1. It is called from
// one goroutine at a time and never after the call returned. nil is silent.
type Report func(done float64)

func (r Report) say(done float64) {
	if r != nil {
		r(done)
	}
}

// NewPhoto takes an upright picture. focal35 is the focal length as the camera
// gives it for 35 mm film (diagonal 43.27 mm), 0 when it is not known; it
// helps to tell the camera's height and tilt.
func NewPhoto(img image.Image, focal35 float64) (*Photo, error) {
	b := img.Bounds()
	if min(b.Dx(), b.Dy()) < minSide {
		return nil, &unit.Fault{Code: CodeTooSmall, Args: []unit.Arg{unit.A("least", minSide)}}
	}
	if float64(b.Dx())*float64(b.Dy()) > maxPixels {
		return nil, &unit.Fault{Code: CodeTooLarge, Args: []unit.Arg{unit.A("most", int(maxPixels/1e6))}}
	}
	p := &Photo{}
	if rgba, ok := img.(*image.RGBA); ok && b.Min == (image.Point{}) {
		p.img = rgba
	} else {
		p.img = image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
		draw.Draw(p.img, p.img.Rect, img, b.Min, draw.Src)
	}
	if focal35 > 5 && focal35 < 500 {
		p.focal = focal35 / 43.27 * math.Hypot(float64(b.Dx()), float64(b.Dy()))
	}
	return p, nil
}

// Image is the picture; it must not be changed.
func (p *Photo) Image() *image.RGBA { return p.img }

// Size is the width and height in pixels.
func (p *Photo) Size() (w, h int) { return p.img.Rect.Dx(), p.img.Rect.Dy() }

func (p *Photo) diagonal() float64 {
	w, h := p.Size()
	return math.Sqrt(float64(w*w + h*h))
}

// inBands runs f over bands of rows on all processors, and stops early when
// the context ends. Bands never share rows, so the result does not depend on
// how many there are.
func inBands(ctx context.Context, n int, f func(y0, y1 int)) error {
	const band = 32
	var wg sync.WaitGroup
	var mu sync.Mutex
	next := 0
	for range min(runtime.GOMAXPROCS(0), 8) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for ctx.Err() == nil {
				mu.Lock()
				y := next
				next += band
				mu.Unlock()
				if y >= n {
					return
				}
				f(y, min(y+band, n))
			}
		}()
	}
	wg.Wait()
	return ctx.Err()
}
