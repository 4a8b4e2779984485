// Package photo reads pictures from files for tracing: JPEG, PNG and HEIC, turned
// upright as the camera says, shrunk to a size that stays fluent.
package photo

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"

	"github.com/gen2brain/heic"
	"github.com/rwcarlsen/goexif/exif"
	xdraw "golang.org/x/image/draw"

	"slipseat/engine/unit"
)

// Codes of the faults of a picture file.
const (
	CodeNotAPicture  = "photo.not-a-picture"  // neither JPEG, PNG nor HEIC
	CodeDamaged      = "photo.damaged"        // begins like a picture and cannot be read
	CodeFileTooLarge = "photo.file-too-large" // args most: megabytes
	CodeTooLarge     = "photo.too-large"      // args most: megapixels
)

const (
	// MaxBytes is the largest file that is read: three times a phone's largest.
	MaxBytes = 100 << 20
	// maxPixels bounds what is unpacked, before it is: a small file can claim to
	// be huge. 120 megapixels take half a gigabyte for a moment.
	maxPixels = 120e6
	// MostSide is the longer side of a picture that is kept: 4,000 pixels over a
	// metre are a quarter of a millimetre each.
	MostSide = 4000
)

// Picture is a photo that stands upright.
type Picture struct {
	Image *image.RGBA
	// Focal35 is the focal length for 35 mm film as the camera noted it, 0 when it
	// did not.
	Focal35 float64
	Format  string // "jpeg", "png" or "heic"
}

// Decode reads a picture from the bytes of a file. Errors: *unit.Fault with one
// of this package's codes.
func Decode(file []byte) (pic Picture, err error) {
	if len(file) > MaxBytes {
		return pic, &unit.Fault{Code: CodeFileTooLarge, Args: []unit.Arg{unit.A("most", MaxBytes>>20)}}
	}
	pic.Format = formatOf(file)
	if pic.Format == "" {
		return pic, &unit.Fault{Code: CodeNotAPicture}
	}
	// The decoders have met hostile files, but a panic of theirs must not reach
	// anybody.
	defer func() {
		if p := recover(); p != nil {
			pic, err = Picture{}, damaged(fmt.Errorf("panic: %v", p))
		}
	}()
	c, err := configOf(pic.Format, file)
	if err != nil {
		return pic, damaged(err)
	}
	if c.Width <= 0 || c.Height <= 0 {
		return pic, damaged(nil)
	}
	if float64(c.Width)*float64(c.Height) > maxPixels {
		return pic, &unit.Fault{Code: CodeTooLarge, Args: []unit.Arg{unit.A("most", int(maxPixels/1e6))}}
	}
	img, err := imageOf(pic.Format, file)
	if err != nil {
		return pic, damaged(err)
	}
	turn, focal := notes(pic.Format, file)
	pic.Focal35 = focal
	pic.Image = upright(shrunk(img), turn)
	return pic, nil
}

func damaged(error) error { return &unit.Fault{Code: CodeDamaged} }

func formatOf(file []byte) string {
	switch {
	case bytes.HasPrefix(file, []byte{0xff, 0xd8, 0xff}):
		return "jpeg"
	case bytes.HasPrefix(file, []byte("\x89PNG\r\n\x1a\n")):
		return "png"
	case len(file) > 16 && string(file[4:8]) == "ftyp":
		// ISO/IEC 23008-12, the brands of still pictures coded in HEVC.
		n := int(binary.BigEndian.Uint32(file))
		for i := 8; i+4 <= min(n, len(file), 256); i += 4 {
			switch string(file[i : i+4]) {
			case "heic", "heix", "heim", "heis", "mif1", "hevc":
				return "heic"
			}
		}
	}
	return ""
}

func configOf(format string, file []byte) (image.Config, error) {
	switch format {
	case "jpeg":
		return jpeg.DecodeConfig(bytes.NewReader(file))
	case "png":
		return png.DecodeConfig(bytes.NewReader(file))
	}
	return heic.DecodeConfig(bytes.NewReader(file))
}

func imageOf(format string, file []byte) (image.Image, error) {
	switch format {
	case "jpeg":
		return jpeg.Decode(bytes.NewReader(file))
	case "png":
		return png.Decode(bytes.NewReader(file))
	}
	return heic.Decode(bytes.NewReader(file))
}

// notes are what the camera wrote beside the picture: how it was held, and the
// focal length. Anything unreadable counts as not written.
func notes(format string, file []byte) (turn int, focal float64) {
	turn = 1
	defer func() { _ = recover() }()
	data := file
	switch format {
	case "png":
		data = pngExif(file)
	case "heic":
		// The container's own turning was already applied by the decoder, so only
		// the focal length is of use.
		i := bytes.Index(file, []byte("Exif\x00\x00"))
		if i < 0 {
			return
		}
		data = file[i+6:]
	}
	if len(data) == 0 {
		return
	}
	x, err := exif.Decode(bytes.NewReader(data))
	if err != nil && exif.IsCriticalError(err) {
		return
	}
	if t, err := x.Get(exif.FocalLengthIn35mmFilm); err == nil {
		if v, err := t.Int(0); err == nil && v > 5 && v < 500 {
			focal = float64(v)
		}
	}
	if format == "heic" {
		return
	}
	if t, err := x.Get(exif.Orientation); err == nil {
		if v, err := t.Int(0); err == nil && v >= 1 && v <= 8 {
			turn = v
		}
	}
	return
}

// pngExif is the content of a PNG file's eXIf chunk (PNG specification, third
// edition, 11.3.2.7), empty when there is none.
func pngExif(file []byte) []byte {
	for i := 8; i+12 <= len(file); {
		n := int(binary.BigEndian.Uint32(file[i:]))
		if n < 0 || n > len(file)-i-12 {
			return nil
		}
		switch string(file[i+4 : i+8]) {
		case "eXIf":
			return file[i+8 : i+8+n]
		case "IEND":
			return nil
		}
		i += n + 12
	}
	return nil
}

// shrunk is the picture on white, its longer side at most MostSide.
func shrunk(img image.Image) *image.RGBA {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	if long := max(w, h); long > MostSide {
		k := float64(MostSide) / float64(long)
		w, h = max(1, int(math.Round(float64(w)*k))), max(1, int(math.Round(float64(h)*k)))
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	op := draw.Src
	if o, ok := img.(interface{ Opaque() bool }); !ok || !o.Opaque() {
		draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
		op = draw.Over
	}
	if w == b.Dx() {
		draw.Draw(out, out.Rect, img, b.Min, op)
	} else {
		xdraw.BiLinear.Scale(out, out.Rect, img, b, op, nil) // averages what it leaves out
	}
	return out
}

// upright undoes the way the camera was held. turn is the Orientation of the
// Exif standard (CIPA DC-008, 4.6.5.1.2): which sides of the scene the first row
// and the first column of the file are.
func upright(img *image.RGBA, turn int) *image.RGBA {
	if turn <= 1 || turn > 8 {
		return img
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	ow, oh := w, h
	if turn >= 5 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range oh {
		row := out.Pix[y*out.Stride:]
		for x := range ow {
			var sx, sy int
			switch turn {
			case 2: // top, right
				sx, sy = w-1-x, y
			case 3: // bottom, right
				sx, sy = w-1-x, h-1-y
			case 4: // bottom, left
				sx, sy = x, h-1-y
			case 5: // left, top
				sx, sy = y, x
			case 6: // right, top
				sx, sy = y, h-1-x
			case 7: // right, bottom
				sx, sy = w-1-y, h-1-x
			case 8: // left, bottom
				sx, sy = w-1-y, x
			}
			copy(row[4*x:4*x+4], img.Pix[sy*img.Stride+4*sx:])
		}
	}
	return out
}
