package kit

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// tipDelay is how long the pointer rests before an explanation appears.
const tipDelay = 500 * time.Millisecond

// TipLayer shows explanations above everything else. The window puts it as the
// last object of its root container; it takes no events.
type TipLayer struct {
	widget.BaseWidget
	box   *Panel
	text  *Text
	timer interface{ Stop() bool }
	owner fyne.CanvasObject
	after func(time.Duration, func()) interface{ Stop() bool }
}

var _ Holder = (*TipLayer)(nil)

// NewTipLayer makes the layer. After runs a function on the user interface's
// goroutine when the time has passed; nil takes the clock.
func NewTipLayer(after func(time.Duration, func()) interface{ Stop() bool }) *TipLayer {
	t := &TipLayer{after: after}
	if t.after == nil {
		t.after = func(d time.Duration, f func()) interface{ Stop() bool } {
			return time.AfterFunc(d, func() { fyne.Do(f) })
		}
	}
	t.text = NewPara("", Small, Ink)
	t.box = NewPanel(Raised, LineStrong, 7, Inset(t.text, 6, 10))
	t.box.Hide()
	t.ExtendBaseWidget(t)
	return t
}

// Held implements Holder.
func (t *TipLayer) Held() []fyne.CanvasObject { return []fyne.CanvasObject{t.box} }

// Showing gives the explanation in sight, or nothing.
func (t *TipLayer) Showing() string {
	if t.box.Visible() {
		return t.text.Text()
	}
	return ""
}

// CreateRenderer implements fyne.Widget.
func (t *TipLayer) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(&fyne.Container{Objects: []fyne.CanvasObject{t.box}})
}

// MinSize is nothing: the layer never makes the window larger.
func (t *TipLayer) MinSize() fyne.Size { return fyne.Size{} }

// tipLayer finds the layer of the window that an object is in.
func tipLayer(o fyne.CanvasObject) *TipLayer {
	c := fyne.CurrentApp().Driver().CanvasForObject(o)
	if c == nil || c.Overlays().Top() != nil {
		return nil
	}
	if root, ok := c.Content().(*fyne.Container); ok && len(root.Objects) > 0 {
		if t, ok := root.Objects[len(root.Objects)-1].(*TipLayer); ok {
			return t
		}
	}
	return nil
}

func showTip(o fyne.CanvasObject, tip string) {
	if tip == "" {
		return
	}
	if t := tipLayer(o); t != nil {
		t.rest(o, tip)
	}
}

func hideTip(o fyne.CanvasObject) {
	if t := tipLayer(o); t != nil {
		t.leave(o)
	}
}

func (t *TipLayer) rest(o fyne.CanvasObject, tip string) {
	if t.timer != nil {
		t.timer.Stop()
	}
	t.owner = o
	t.timer = t.after(tipDelay, func() {
		if t.owner == o {
			t.show(o, tip)
		}
	})
}

func (t *TipLayer) leave(o fyne.CanvasObject) {
	if t.owner != o {
		return
	}
	t.owner = nil
	if t.timer != nil {
		t.timer.Stop()
	}
	t.box.Hide()
}

func (t *TipLayer) show(o fyne.CanvasObject, tip string) {
	d := fyne.CurrentApp().Driver()
	c := d.CanvasForObject(o)
	if c == nil {
		return
	}
	at := d.AbsolutePositionForObject(o)
	t.text.SetText(tip)
	w := min(Small.measure(tip), U(240)) + 2*10 + 1
	h := t.box.HeightFor(w)
	win := c.Size()
	x := min(max(8, at.X), win.Width-w-8)
	y := at.Y + o.Size().Height + 7
	if y+h > win.Height-8 {
		y = at.Y - h - 7
	}
	t.box.Move(fyne.NewPos(x, y))
	t.box.Resize(fyne.NewSize(w, h))
	t.box.Show()
	t.box.Refresh()
}
