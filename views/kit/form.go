package kit

import (
	"strconv"

	"fyne.io/fyne/v2"
)

// Kind is what an entry of a form is.
type Kind uint8

// Kinds of entries.
const (
	AField   Kind = iota // a label and a field
	AReading             // a label and a figure that only shows
	AChoice              // a label and a list to choose from
	ASwitch              // a switch over the whole width
	ACaution             // a caution box
	AGood                // a good box
	AButton              // a secondary button over the whole width
	AnAction             // the one thing to do next, over the whole width
	ANote                // words in the second ink
	ACard                // a card without a picture
	AnArea               // a field of several lines
)

// Entry is one line of a form, as data. Words come in ready to show.
type Entry struct {
	Kind  Kind
	Name  string // stable; scripts find the widget by it
	Label string // or title
	Hint  string // or words
	Tip   string
	Text  string // the committed text of a field, the figure of a reading
	Empty string // shown while a field is empty

	Strong bool // a figure that matters
	Wide   bool // a field for words
	Off    bool // cannot be used now

	Words  []string // of a choice or a switch
	Chosen int

	Problem string // what is wrong with the committed value, or ""
	Check   func(text string) string
	Commit  func(text string) string
	Step    func(text string, dir int, coarse bool) string
	Choose  func(i int)
	Tap     func()
}

// Group is a section of a form.
type Group struct {
	Head    string
	Entries []Entry
}

// Form shows groups of entries in a scrolling column. Setting new groups keeps
// the widgets whose name and kind stay, so that typing and focus survive.
type Form struct {
	*Scroll
	column *fyne.Container
	menu   FieldMenu
	live   map[string]*liveEntry
	shape  string // of the groups shown: names and kinds in order
	height float32
}

// liveEntry is an entry with its widgets.
type liveEntry struct {
	entry  Entry
	obj    fyne.CanvasObject
	field  *Field
	choice *Choice
	sw     *Switch
	button *Button
	row    *Row
	title  *Text
	words  *Text
	card   *Card
	area   *Area
}

// NewForm makes an empty form. The menu holds the words of the fields' menu.
func NewForm(menu FieldMenu) *Form {
	f := &Form{menu: menu, live: map[string]*liveEntry{}}
	f.column = NewColumn(Gap12)
	f.Scroll = newScroll(Inset(f.column, 14, 16, 18, 16))
	f.Scroll.ExtendBaseWidget(f)
	return f
}

// Set shows other groups.
func (f *Form) Set(groups []Group) {
	shape := ""
	for _, g := range groups {
		shape += "\n" + g.Head
		for _, e := range g.Entries {
			shape += "|" + string(rune('a'+e.Kind)) + e.Name
		}
	}
	old := f.live
	if shape != f.shape {
		f.live = map[string]*liveEntry{}
	}
	var objs []fyne.CanvasObject
	for i, g := range groups {
		if i > 0 {
			objs = append(objs, NewRule())
		}
		if g.Head != "" {
			objs = append(objs, NewText(g.Head, Head, Ink2))
		}
		for _, e := range g.Entries {
			l := old[e.Name]
			if l == nil || l.entry.Kind != e.Kind || e.Kind == ASwitch && len(l.entry.Words) != len(e.Words) {
				l = f.build(e)
			}
			l.update(e)
			f.live[e.Name] = l
			objs = append(objs, l.obj)
		}
	}
	if shape != f.shape {
		f.shape = shape
		f.column.Objects = objs
		f.height = -1
	}
	// Refreshing paints every text anew; while the height stays, what changed
	// has refreshed itself.
	if h := f.column.Layout.(tallLayout).HeightFor(f.column.Objects, f.column.Size().Width); h != f.height {
		f.height = h
		f.Scroll.Refresh()
	}
}

// Field gives the field of a name, or nil.
func (f *Form) Field(name string) *Field {
	if l := f.live[name]; l != nil {
		return l.field
	}
	return nil
}

// Find gives the widget of an entry's name: its button, or else the whole
// entry; nil when it is not in the form.
func (f *Form) Find(name string) fyne.CanvasObject {
	l := f.live[name]
	switch {
	case l == nil:
		return nil
	case l.button != nil:
		return l.button
	}
	return l.obj
}

// FocusField puts the keyboard into a field, with a first character typed if r
// is not 0.
func (f *Form) FocusField(name string, r rune) bool {
	field := f.Field(name)
	if field == nil {
		return false
	}
	c := fyne.CurrentApp().Driver().CanvasForObject(field)
	if c == nil {
		return false
	}
	c.Focus(field)
	if r != 0 {
		field.TypedRune(r)
	}
	return true
}

func (f *Form) build(e Entry) *liveEntry {
	l := &liveEntry{}
	switch e.Kind {
	case AField, AReading:
		l.field = NewField(e.Name).SetMenu(f.menu)
		if !e.Wide {
			l.field.Right()
		}
		if e.Kind == AReading {
			l.field.ReadOnly()
		}
		if e.Strong {
			l.field.Strong()
		}
		l.row = l.rowFor(e, l.field)
	case AChoice:
		l.choice = NewChoice(e.Name, e.Words, e.Chosen, func(i int) {
			if l.entry.Choose != nil {
				l.entry.Choose(i)
			}
		})
		l.row = l.rowFor(e, l.choice)
	case ASwitch:
		names := make([]string, len(e.Words))
		for i := range names {
			names[i] = e.Name + ":" + strconv.Itoa(i)
		}
		l.sw = NewSwitch(names, e.Words, e.Chosen, func(i int) {
			if l.entry.Choose != nil {
				l.entry.Choose(i)
			}
		}).Even()
		l.title, l.words = NewPara(e.Label, Body, Ink), NewPara(e.Hint, Small, Ink2)
		l.obj = NewColumn(Gap6, l.title, l.sw, l.words)
	case ACaution, AGood:
		fill, line, ink := Caution, CautionLine, CautionInk
		if e.Kind == AGood {
			fill, line, ink = Good, GoodLine, GoodInk
		}
		l.title, l.words = NewPara(e.Label, Strong, ink), NewPara(e.Hint, Body, ink)
		l.obj = NewPanel(fill, line, 8, Inset(NewColumn(Gap2, l.title, l.words), 9, 11)).Named(e.Name)
	case AButton:
		l.button = NewButton(e.Name, "", e.Label, l.tap).Centred()
		l.obj = l.button
	case AnAction:
		l.button = NewAction(e.Name, "", e.Label, l.tap).Centred()
		l.obj = l.button
	case ANote:
		l.words = NewPara(e.Hint, Small, Ink2)
		l.obj = l.words
	case ACard:
		l.card = NewCard(e.Name, e.Label, e.Hint, nil, l.tap)
		l.obj = l.card
	case AnArea:
		l.area = NewArea(e.Name)
		l.title = NewPara(e.Label, Body, Ink)
		l.words = NewPara(e.Hint, Small, Ink2)
		l.obj = NewColumn(Gap6, l.title, l.area, l.words)
	}
	return l
}

func (l *liveEntry) rowFor(e Entry, field fyne.CanvasObject) *Row {
	r := NewRowFor(e.Label, e.Hint, field)
	if e.Wide {
		r = NewWideRow(e.Label, e.Hint, field)
	}
	l.obj = r
	return r
}

func (l *liveEntry) tap() {
	if l.entry.Tap != nil {
		l.entry.Tap()
	}
}

// update puts the entry's data into the widgets.
func (l *liveEntry) update(e Entry) {
	l.entry = e
	if l.row != nil {
		l.row.SetLabel(e.Label)
		l.row.SetHint(e.Hint)
		l.row.SetTip(e.Tip)
	}
	if l.title != nil {
		l.title.SetText(e.Label)
		setVisible(l.title, e.Label != "")
	}
	if l.words != nil {
		l.words.SetText(e.Hint)
		setVisible(l.words, e.Hint != "")
	}
	switch {
	case l.field != nil:
		l.field.Check, l.field.OnCommit, l.field.OnStep = e.Check, e.Commit, e.Step
		l.field.SetHint(e.Empty)
		l.field.SetText(e.Text)
		if !l.field.Dirty() {
			l.field.SetProblem(e.Problem)
		}
	case l.choice != nil:
		l.choice.SetWords(e.Words, e.Chosen)
		l.choice.SetEnabled(!e.Off)
	case l.sw != nil:
		l.sw.Set(e.Chosen)
		l.sw.SetWords(e.Words)
	case l.button != nil:
		l.button.SetWords(e.Label)
		l.button.SetEnabled(!e.Off)
		l.button.SetTip(e.Tip)
	case l.card != nil:
		l.card.Set(e.Label, e.Hint, nil)
	case l.area != nil:
		l.area.OnCommit = e.Commit
		l.area.SetText(e.Text)
	}
}
