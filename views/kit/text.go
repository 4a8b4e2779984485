package kit

import (
	"image/color"

	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Face is a size and weight of the type scale.
type Face uint8

// The type scale.
const (
	Body   Face = iota // 14 regular: labels, values
	Medium             // 14 medium: buttons
	Strong             // 14 semi-bold: names
	Small              // 12 regular: hints, second lines
	SmallStrong
	Head   // 12.5 semi-bold: heads of sections
	Title  // 17 semi-bold: the job, figures at the bottom
	Banner // 24 semi-bold: start page
)

func (f Face) size() float32 {
	switch f {
	case Small, SmallStrong:
		return U(12)
	case Head:
		return U(12.5)
	case Title:
		return U(17)
	case Banner:
		return U(24)
	}
	return U(14)
}

func (f Face) style() fyne.TextStyle {
	switch f {
	case Medium:
		return fyne.TextStyle{Italic: true} // see houseTheme.Font
	case Strong, SmallStrong, Head, Title, Banner:
		return fyne.TextStyle{Bold: true}
	}
	return fyne.TextStyle{}
}

// lineHeight is the distance from line to line.
func (f Face) lineHeight() float32 {
	switch f {
	case Small, SmallStrong, Head:
		return U(16)
	case Title:
		return U(22)
	case Banner:
		return U(32)
	}
	return U(19)
}

// measure gives the width of a text.
func (f Face) measure(s string) float32 {
	if s == "" {
		return 0
	}
	return fyne.MeasureText(s, f.size(), f.style()).Width
}

// Text shows words in one face and one role. Unwrapped text that does not fit
// is shortened with an ellipsis; wrapped text grows downwards.
type Text struct {
	widget.BaseWidget
	text  string
	face  Face
	role  Role
	wrap  bool
	align fyne.TextAlign
	gives bool    // may be shortened
	width float32 // last width given, for the height of wrapped text
}

var (
	_ Tall     = (*Text)(nil)
	_ Yielding = (*Text)(nil)
)

// NewText makes a line of text.
func NewText(text string, face Face, role Role) *Text {
	t := &Text{text: text, face: face, role: role}
	t.ExtendBaseWidget(t)
	return t
}

// NewPara makes text that wraps.
func NewPara(text string, face Face, role Role) *Text {
	t := NewText(text, face, role)
	t.wrap = true
	return t
}

// Right sets the text flush right and gives it back.
func (t *Text) Right() *Text { t.align = fyne.TextAlignTrailing; return t }

// Shrink lets a row shorten the text when there is too little room, and gives
// it back.
func (t *Text) Shrink() *Text { t.gives = true; return t }

// Centre centres the text and gives it back.
func (t *Text) Centre() *Text { t.align = fyne.TextAlignCenter; return t }

// SetText changes the words.
func (t *Text) SetText(s string) {
	if s != t.text {
		t.text = s
		t.Refresh()
	}
}

// Text gives the words as set.
func (t *Text) Text() string { return t.text }

// SetRole changes the colour's role.
func (t *Text) SetRole(r Role) {
	if r != t.role {
		t.role = r
		t.Refresh()
	}
}

// HeightFor gives the height at a width.
func (t *Text) HeightFor(width float32) float32 {
	return float32(len(t.lines(width))) * t.face.lineHeight()
}

// LeastWidth is how narrow a row may make the text.
func (t *Text) LeastWidth() float32 {
	w := t.face.measure(t.text)
	if t.gives {
		return min(w, U(40))
	}
	return w
}

// MinSize is the room for the unwrapped text, or for its longest word.
func (t *Text) MinSize() fyne.Size {
	t.ExtendBaseWidget(t)
	if !t.wrap {
		return fyne.NewSize(t.face.measure(t.text), t.face.lineHeight())
	}
	var w float32
	for _, word := range breakable(t.text) {
		w = max(w, t.face.measure(word))
	}
	return fyne.NewSize(min(w, U(120)), t.HeightFor(max(t.width, w)))
}

// lines breaks the text for a width.
func (t *Text) lines(width float32) []string {
	if !t.wrap {
		return []string{shorten(t.text, t.face, width)}
	}
	var out []string
	for _, para := range strings.Split(t.text, "\n") {
		out = append(out, wrapLine(para, t.face, width)...)
	}
	return out
}

// breakable splits a text where a line may end: at plain spaces only, so that a
// figure and its fraction or unit, joined by a no-break space, stay together.
func breakable(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' })
}

func wrapLine(s string, f Face, width float32) []string {
	var out []string
	line := ""
	for _, word := range breakable(s) {
		try := word
		if line != "" {
			try = line + " " + word
		}
		if line != "" && f.measure(try) > width+0.5 {
			out = append(out, line)
			try = word
		}
		line = try
	}
	return append(out, line)
}

// shorten cuts a text that is too wide and ends it with an ellipsis.
func shorten(s string, f Face, width float32) string {
	if width <= 0 || f.measure(s) <= width+0.5 {
		return s
	}
	rs := []rune(s)
	lo, hi := 0, len(rs)
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if f.measure(strings.TrimRight(string(rs[:mid]), " ")+"…") <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return strings.TrimRight(string(rs[:lo]), " ") + "…"
}

// CreateRenderer implements fyne.Widget.
func (t *Text) CreateRenderer() fyne.WidgetRenderer { return &textRenderer{t: t} }

type textRenderer struct {
	t    *Text
	objs []fyne.CanvasObject
}

func (r *textRenderer) Layout(size fyne.Size) {
	t := r.t
	t.width = size.Width
	lines := t.lines(size.Width)
	for len(r.objs) < len(lines) {
		r.objs = append(r.objs, canvas.NewText("", color.Transparent))
	}
	r.objs = r.objs[:len(lines)]
	lh := t.face.lineHeight()
	y := float32(0)
	if !t.wrap {
		y = (size.Height - lh) / 2
	}
	for i, s := range lines {
		c := r.objs[i].(*canvas.Text)
		col := Colour(t.role)
		// Painting a text anew is dear: only what changed is refreshed.
		if c.Text != s || c.TextSize != t.face.size() || c.TextStyle != t.face.style() || c.Color != col || c.Alignment != t.align {
			c.Text, c.TextSize, c.TextStyle = s, t.face.size(), t.face.style()
			c.Color, c.Alignment = col, t.align
			c.Refresh()
		}
		m := c.MinSize()
		c.Move(fyne.NewPos(0, y+(lh-m.Height)/2))
		c.Resize(fyne.NewSize(size.Width, m.Height))
		y += lh
	}
}

func (r *textRenderer) MinSize() fyne.Size { return r.t.MinSize() }

func (r *textRenderer) Refresh() { r.Layout(r.t.Size()) }

func (r *textRenderer) Objects() []fyne.CanvasObject { return r.objs }

func (r *textRenderer) Destroy() {}
