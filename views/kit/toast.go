package kit

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Toast shows a short message at the bottom of the window for a while, with
// one thing to do about it, such as taking a deletion back. Banners of failure
// stay until they are closed.
type Toast struct {
	widget.BaseWidget
	words  *Text
	button *Button
	close  *Button
	box    *Panel
	act    func()
	timer  interface{ Stop() bool }
	after  func(time.Duration, func()) interface{ Stop() bool }
}

var _ Holder = (*Toast)(nil)

// NewToast makes the place for messages; one for each window. After is as for
// NewTipLayer.
func NewToast(after func(time.Duration, func()) interface{ Stop() bool }) *Toast {
	t := &Toast{after: after}
	if t.after == nil {
		t.after = func(d time.Duration, f func()) interface{ Stop() bool } {
			return time.AfterFunc(d, func() { fyne.Do(f) })
		}
	}
	t.words = NewText("", Body, Ink).Shrink()
	t.button = NewButton("button:notice", "", " ", func() {
		act := t.act
		t.Close()
		if act != nil {
			act()
		}
	})
	t.close = NewBare("button:notice-close", "cross", "", t.Close)
	t.box = NewPanel(Raised, LineStrong, 10, Inset(NewRow(Gap12, t.words, t.button, t.close), 8, 8, 8, 16))
	t.box.Hide()
	t.ExtendBaseWidget(t)
	return t
}

// Say shows a message. Stay 0 keeps it until it is closed. Without an act
// there is no button.
func (t *Toast) Say(words, button string, bad bool, stay time.Duration, act func()) {
	if t.timer != nil {
		t.timer.Stop()
	}
	t.act = act
	t.words.SetText(words)
	t.button.SetWords(button)
	setVisible(t.button, act != nil)
	if bad {
		t.box.SetRoles(Caution, CautionLine)
		t.words.SetRole(CautionInk)
	} else {
		t.box.SetRoles(Raised, LineStrong)
		t.words.SetRole(Ink)
	}
	t.box.Show()
	t.Refresh()
	if stay > 0 {
		t.timer = t.after(stay, t.Close)
	}
}

// Close takes the message away.
func (t *Toast) Close() {
	if t.timer != nil {
		t.timer.Stop()
	}
	t.box.Hide()
}

// Showing gives the message in sight, or "".
func (t *Toast) Showing() string {
	if t.box.Visible() {
		return t.words.Text()
	}
	return ""
}

// Held implements Holder.
func (t *Toast) Held() []fyne.CanvasObject { return []fyne.CanvasObject{t.box} }

// MinSize is nothing: a message never makes the window larger.
func (t *Toast) MinSize() fyne.Size { return fyne.Size{} }

// CreateRenderer implements fyne.Widget.
func (t *Toast) CreateRenderer() fyne.WidgetRenderer { return &toastRenderer{t} }

type toastRenderer struct{ t *Toast }

func (r *toastRenderer) Layout(s fyne.Size) {
	w := min(r.t.box.MinSize().Width, s.Width-40)
	h := HeightFor(r.t.box, w)
	r.t.box.Move(fyne.NewPos((s.Width-w)/2, s.Height-h-U(63)-18))
	r.t.box.Resize(fyne.NewSize(w, h))
}
func (r *toastRenderer) MinSize() fyne.Size           { return fyne.Size{} }
func (r *toastRenderer) Refresh()                     { r.Layout(r.t.Size()); r.t.box.Refresh() }
func (r *toastRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.t.box} }
func (r *toastRenderer) Destroy()                     {}
