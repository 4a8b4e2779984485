package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Field is a single line that takes any text. What is typed is committed with
// Return or when the focus leaves, and given up with Escape. A commit that
// Check refuses stays in the field, marked, until it is right or given up.
type Field struct {
	widget.BaseWidget
	// Check, if set, says in words what is wrong with a text, or "".
	Check func(text string) string
	// OnCommit is called with a text that differs from the committed one and
	// that Check lets pass. It returns what is wrong with it after all, or "".
	OnCommit func(text string) string
	// OnProblem is told the words to show beside the field, "" for none.
	OnProblem func(problem string)
	// OnStep, if set, is called for the arrow keys up and down: dir is 1 or
	// -1, coarse with Shift. It returns the new text, or "" to do nothing.
	OnStep func(text string, dir int, coarse bool) string
	// OnType, if set, hears of every change while it is typed.
	OnType func(text string)
	// OnShortcut gets what the field has no use for.
	OnShortcut func(fyne.Shortcut)

	name     string
	edit     typing
	held     string // the committed text
	hint     string // shown while empty
	problem  string
	align    fyne.TextAlign
	readOnly bool
	face     Face
	menu     FieldMenu
	quiet    bool // no border until pointed at: the job's name
	hugLeast float32
	hugMost  float32

	focused, hovered bool
	scroll           float32 // how far the text is moved to the left
	dragging         bool
	clicks           clicker
}

// FieldMenu holds the words of a field's own menu.
type FieldMenu struct{ Cut, Copy, Paste, SelectAll string }

var (
	_ fyne.Focusable         = (*Field)(nil)
	_ fyne.Shortcutable      = (*Field)(nil)
	_ fyne.Tappable          = (*Field)(nil)
	_ fyne.SecondaryTappable = (*Field)(nil)
	_ fyne.Draggable         = (*Field)(nil)
	_ desktop.Mouseable      = (*Field)(nil)
	_ desktop.Hoverable      = (*Field)(nil)
	_ desktop.Cursorable     = (*Field)(nil)
	_ Named                  = (*Field)(nil)
)

// NewField makes an empty field with a name for scripts.
func NewField(name string) *Field {
	f := &Field{name: name}
	f.ExtendBaseWidget(f)
	return f
}

// Right sets figures flush right and gives the field back.
func (f *Field) Right() *Field { f.align = fyne.TextAlignTrailing; return f }

// ReadOnly makes a field that only shows, and gives it back.
func (f *Field) ReadOnly() *Field { f.readOnly = true; return f }

// Quiet leaves the border out until the field is pointed at or has the focus.
func (f *Field) Quiet(face Face) *Field { f.quiet, f.face = true, face; return f }

// Hug makes the field as wide as its text, between two widths, and gives it
// back.
func (f *Field) Hug(least, most float32) *Field { f.hugLeast, f.hugMost = least, most; return f }

// LeastWidth implements Yielding.
func (f *Field) LeastWidth() float32 {
	if f.hugMost > 0 {
		return U(f.hugLeast)
	}
	return f.MinSize().Width
}

// MinSize implements fyne.CanvasObject.
func (f *Field) MinSize() fyne.Size {
	f.ExtendBaseWidget(f)
	w := U(60)
	if f.hugMost > 0 {
		text := f.edit.String()
		if text == "" {
			text = f.hint
		}
		w = min(max(f.face.measure(text)+2*fieldPad+4, U(f.hugLeast)), U(f.hugMost))
	}
	return fyne.NewSize(w, FieldHeight())
}

// Strong sets the value semi-bold, for the figure that matters.
func (f *Field) Strong() *Field { f.face = Strong; return f }

// SetHint sets the text shown while the field is empty.
func (f *Field) SetHint(s string) *Field { f.hint = s; return f }

// SetMenu sets the words of the field's own menu.
func (f *Field) SetMenu(m FieldMenu) *Field { f.menu = m; return f }

// ProbeName implements Named.
func (f *Field) ProbeName() string { return f.name }

// ProbeValue implements Valued.
func (f *Field) ProbeValue() (value, problem string) { return f.edit.String(), f.problem }

// Text gives what stands in the field now.
func (f *Field) Text() string { return f.edit.String() }

// Problem gives the words of what is wrong now, or "".
func (f *Field) Problem() string { return f.problem }

// SetText puts a committed text in. It does not disturb somebody who is
// typing, nor a text that was refused: then the new one is only what Escape
// goes back to.
func (f *Field) SetText(s string) {
	now := f.edit.String()
	dirty := now != f.held
	f.held = s
	if now == s || dirty && (f.focused || f.problem != "") {
		return
	}
	f.edit.set(s)
	if f.focused {
		f.edit.selectAll()
	}
	f.Refresh()
}

// SetProblem shows words beside the field; "" takes them away.
func (f *Field) SetProblem(p string) { f.setProblem(p) }

func (f *Field) setProblem(p string) {
	if p == f.problem {
		return
	}
	f.problem = p
	if f.OnProblem != nil {
		f.OnProblem(p)
	}
	f.Refresh()
}

// Commit takes what is typed, if it can be used.
func (f *Field) Commit() {
	s := f.edit.String()
	if s == f.held {
		f.setProblem("")
		return
	}
	if f.Check != nil {
		if p := f.Check(s); p != "" {
			f.setProblem(p)
			return
		}
	}
	old := f.held
	f.held = s
	f.setProblem("")
	if f.OnCommit != nil {
		// What the commit sets in motion may itself say what is wrong.
		p := ""
		Guard(func() { p = f.OnCommit(s) })
		if p != "" {
			f.held = old
			f.setProblem(p)
		}
	}
}

// GiveUp goes back to the committed text.
func (f *Field) GiveUp() {
	f.edit.set(f.held)
	f.edit.selectAll()
	f.setProblem("")
	f.Refresh()
}

// Dirty tells whether something is typed that is not committed.
func (f *Field) Dirty() bool { return f.edit.String() != f.held }

func (f *Field) changed() {
	if f.OnType != nil {
		f.OnType(f.edit.String())
	}
	if f.problem != "" && f.Check != nil {
		f.setProblem(f.Check(f.edit.String()))
	} else if f.problem != "" {
		f.setProblem("")
	}
	f.Refresh()
}

// FocusGained implements fyne.Focusable. Coming by keyboard selects all, so
// that typing replaces the value.
func (f *Field) FocusGained() {
	f.focused = true
	if !f.dragging {
		f.edit.selectAll()
	}
	reveal(f)
	f.Refresh()
}

// FocusLost implements fyne.Focusable.
func (f *Field) FocusLost() {
	f.focused = false
	f.edit.moveTo(len(f.edit.text), false)
	f.Commit()
	f.scroll = 0
	f.Refresh()
}

// TypedRune implements fyne.Focusable.
func (f *Field) TypedRune(r rune) {
	if f.readOnly {
		return
	}
	f.edit.insert(string(r), true)
	f.changed()
}

// TypedKey implements fyne.Focusable.
func (f *Field) TypedKey(e *fyne.KeyEvent) {
	shift := modifiers()&fyne.KeyModifierShift != 0
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		f.Commit()
		if f.problem == "" {
			f.edit.selectAll()
		}
	case fyne.KeyEscape:
		if f.Dirty() || f.problem != "" {
			f.GiveUp()
		} else if c := fyne.CurrentApp().Driver().CanvasForObject(f); c != nil {
			c.Unfocus()
		}
	case fyne.KeyLeft:
		f.edit.step(-1, shift)
	case fyne.KeyRight:
		f.edit.step(1, shift)
	case fyne.KeyHome:
		f.edit.moveTo(0, shift)
	case fyne.KeyEnd:
		f.edit.moveTo(len(f.edit.text), shift)
	case fyne.KeyUp, fyne.KeyDown:
		f.stepValue(e.Name == fyne.KeyUp, shift)
	case fyne.KeyBackspace, fyne.KeyDelete:
		if !f.readOnly {
			to := f.edit.caret - 1
			if e.Name == fyne.KeyDelete {
				to = f.edit.caret + 1
			}
			f.edit.remove(to)
			f.changed()
		}
	}
	f.Refresh()
}

func (f *Field) stepValue(up, coarse bool) {
	if f.OnStep == nil || f.readOnly {
		return
	}
	dir := -1
	if up {
		dir = 1
	}
	if s := f.OnStep(f.edit.String(), dir, coarse); s != "" {
		f.edit.set(s)
		f.edit.selectAll()
		f.Commit()
	}
}

// TypedShortcut implements fyne.Shortcutable.
func (f *Field) TypedShortcut(s fyne.Shortcut) {
	clip := fyne.CurrentApp().Clipboard()
	switch v := s.(type) {
	case *fyne.ShortcutSelectAll:
		f.edit.selectAll()
	case *fyne.ShortcutCopy:
		if t := f.edit.selected(); t != "" {
			clip.SetContent(t)
		}
	case *fyne.ShortcutCut:
		if t := f.edit.selected(); t != "" && !f.readOnly {
			clip.SetContent(t)
			f.edit.remove(f.edit.caret)
			f.changed()
		}
	case *fyne.ShortcutPaste:
		if !f.readOnly {
			f.edit.insert(clip.Content(), false)
			f.changed()
		}
	case *fyne.ShortcutUndo:
		if f.Dirty() && f.edit.canUndo() {
			f.edit.undo()
			f.changed()
		} else {
			f.pass(s)
		}
	case *fyne.ShortcutRedo:
		if f.edit.canRedo() {
			f.edit.redo()
			f.changed()
		} else {
			f.pass(s)
		}
	case *desktop.CustomShortcut:
		if !f.customKey(v) {
			f.pass(s)
		}
	default:
		f.pass(s)
	}
	f.Refresh()
}

// customKey handles word-wise moves; it returns false for what it does not use.
func (f *Field) customKey(s *desktop.CustomShortcut) bool {
	if s.Modifier&(fyne.KeyModifierShortcutDefault|fyne.KeyModifierAlt) == 0 {
		return false
	}
	keep := s.Modifier&fyne.KeyModifierShift != 0
	switch s.KeyName {
	case fyne.KeyLeft:
		f.edit.moveTo(f.edit.word(f.edit.caret, -1), keep)
	case fyne.KeyRight:
		f.edit.moveTo(f.edit.word(f.edit.caret, 1), keep)
	case fyne.KeyBackspace:
		if f.readOnly {
			return true
		}
		f.edit.remove(f.edit.word(f.edit.caret, -1))
		f.changed()
	case fyne.KeyDelete:
		if f.readOnly {
			return true
		}
		f.edit.remove(f.edit.word(f.edit.caret, 1))
		f.changed()
	default:
		return false
	}
	return true
}

func (f *Field) pass(s fyne.Shortcut) {
	if f.OnShortcut != nil {
		f.OnShortcut(s)
		return
	}
	passShortcut(f, s)
}

// modifiers gives the modifier keys held now; none where the driver cannot say.
func modifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// passShortcut hands a shortcut that a focused widget has no use for to the
// canvas: the toolkit itself stops at the focused widget.
func passShortcut(o fyne.CanvasObject, s fyne.Shortcut) {
	c := fyne.CurrentApp().Driver().CanvasForObject(o)
	if t, ok := c.(interface{ TypedShortcut(fyne.Shortcut) }); ok {
		t.TypedShortcut(s)
	}
}

// Cursor implements desktop.Cursorable.
func (f *Field) Cursor() desktop.Cursor { return desktop.TextCursor }

// CreateRenderer implements fyne.Widget.
func (f *Field) CreateRenderer() fyne.WidgetRenderer {
	r := newFieldRenderer(f)
	r.paint() // a field that nobody has set yet has its border all the same
	return r
}

// fieldPad is the room between border and text.
const fieldPad float32 = 10

type fieldRenderer struct {
	f          *Field
	box        *canvas.Rectangle
	sel, caret *canvas.Rectangle
	text       *canvas.Text
	clip       *fieldClip
	objs       []fyne.CanvasObject
}
