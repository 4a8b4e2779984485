package kit

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"golang.org/x/image/draw"

	"slipseat/assets"
)

// AppIcon is the program's own picture.
var AppIcon = fyne.NewStaticResource("slipseat.png", assets.AppIcon)

// NewMark shows the program's picture at a size.
func NewMark(size float32) fyne.CanvasObject {
	img := canvas.NewImageFromResource(AppIcon)
	img.FillMode = canvas.ImageFillContain
	img.ScaleMode = canvas.ImageScaleSmooth
	return &fyne.Container{Layout: &square{size}, Objects: []fyne.CanvasObject{img}}
}

// square holds an object to a fixed size.
type square struct{ size float32 }

func (q *square) Layout(o []fyne.CanvasObject, s fyne.Size) {
	d := U(q.size)
	o[0].Move(fyne.NewPos((s.Width-d)/2, (s.Height-d)/2))
	o[0].Resize(fyne.NewSquareSize(d))
}

func (q *square) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSquareSize(U(q.size)) }

// NewPictureBox shows a picture over all its room.
func NewPictureBox(pic Picture) *canvas.Raster {
	return canvas.NewRaster(func(w, h int) image.Image {
		if pic != nil && w > 0 && h > 0 {
			if m := pic(w, h); m != nil {
				return m
			}
		}
		return image.NewRGBA(image.Rect(0, 0, max(1, w), max(1, h)))
	})
}

// Contained is a picture as large as it fits a box, in its middle; nil is an
// empty box.
func Contained(pic *image.RGBA, w, h int) image.Image {
	out := image.NewRGBA(image.Rect(0, 0, max(1, w), max(1, h)))
	if pic == nil || w <= 0 || h <= 0 || pic.Bounds().Empty() {
		return out
	}
	b := pic.Bounds()
	k := min(float64(w)/float64(b.Dx()), float64(h)/float64(b.Dy()))
	pw, ph := int(float64(b.Dx())*k), int(float64(b.Dy())*k)
	at := image.Rect((w-pw)/2, (h-ph)/2, (w-pw)/2+pw, (h-ph)/2+ph)
	draw.CatmullRom.Scale(out, at, pic, b, draw.Src, nil)
	return out
}
