package kit

import (
	"bytes"
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"slipseat/assets"
)

// Icon shows one of the house's own drawings in a role's colour.
type Icon struct {
	widget.BaseWidget
	name string
	role Role
	size float32
}

// iconInk is the colour the drawings are made in; it is replaced.
const iconInk = "#2A2622"

// NewIcon makes an icon by the name of its file, without the ending.
func NewIcon(name string, role Role) *Icon {
	i := &Icon{name: name, role: role, size: 18}
	i.ExtendBaseWidget(i)
	return i
}

// SetRole changes the colour's role.
func (i *Icon) SetRole(r Role) {
	if r != i.role {
		i.role = r
		i.Refresh()
	}
}

// Size18 is the usual size; Sized takes another one.
func (i *Icon) Sized(s float32) *Icon { i.size = s; return i }

// MinSize grows with the text.
func (i *Icon) MinSize() fyne.Size { return fyne.NewSquareSize(U(i.size)) }

// iconResource gives a drawing in a colour. The toolkit keeps the pictures it
// makes by the resource's name, so the name holds the colour.
func iconResource(name string, c color.Color) fyne.Resource {
	src, err := assets.Icons.ReadFile("icons/" + name + ".svg")
	if err != nil {
		fyne.LogError("icon "+name, err)
		return nil
	}
	r, g, b, _ := c.RGBA()
	hex := fmt.Sprintf("#%02X%02X%02X", r>>8, g>>8, b>>8)
	return fyne.NewStaticResource(name+"-"+hex[1:]+".svg", bytes.ReplaceAll(src, []byte(iconInk), []byte(hex)))
}

// CreateRenderer implements fyne.Widget.
func (i *Icon) CreateRenderer() fyne.WidgetRenderer {
	r := &iconRenderer{i: i, img: &canvas.Image{FillMode: canvas.ImageFillContain}}
	r.img.Resource = iconResource(i.name, Colour(i.role))
	return r
}

type iconRenderer struct {
	i   *Icon
	img *canvas.Image
}

func (r *iconRenderer) Layout(s fyne.Size) { r.img.Resize(s) }
func (r *iconRenderer) MinSize() fyne.Size { return r.i.MinSize() }
func (r *iconRenderer) Refresh() {
	r.img.Resource = iconResource(r.i.name, Colour(r.i.role))
	r.img.Refresh()
}
func (r *iconRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.img} }
func (r *iconRenderer) Destroy()                     {}
