package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// CardEntry is one card of a list, as data.
type CardEntry struct {
	ID         string
	Name       string // for scripts
	Title, Sub string
	Picture    Picture
	// Key tells pictures apart: one with the key of the one shown is not
	// painted again.
	Key    string
	Chosen bool
}

// CardList is a column of cards of which one may be chosen. The arrow keys go
// from card to card.
type CardList struct {
	widget.BaseWidget
	name  string
	tap   func(id string)
	menu  func(id string, at fyne.Position)
	ids   []string
	cards []*Card
	box   *fyne.Container
}

var (
	_ Tall   = (*CardList)(nil)
	_ Holder = (*CardList)(nil)
)

// NewCardList makes an empty list. Scripts find a card by the list's name and
// the entry's own, as in seat:A.
func NewCardList(name string, tap func(id string), menu func(id string, at fyne.Position)) *CardList {
	l := &CardList{name: name, tap: tap, menu: menu, box: NewColumn(Gap10)}
	l.ExtendBaseWidget(l)
	return l
}

// Set shows other entries; cards that are there already are kept.
func (l *CardList) Set(entries []CardEntry) {
	l.ids = l.ids[:0]
	changed := len(entries) != len(l.cards)
	for i, e := range entries {
		l.ids = append(l.ids, e.ID)
		if i == len(l.cards) {
			c := NewCard(l.name+":"+e.Name, e.Title, e.Sub, e.Picture, func() { l.tap(l.ids[i]) })
			if l.menu != nil {
				c.OnMenu = func(at fyne.Position) { l.menu(l.ids[i], at) }
			}
			c.OnKey = func(k fyne.KeyName) bool { return l.key(i, k) }
			l.cards = append(l.cards, c)
			l.box.Add(c)
		}
		c := l.cards[i]
		c.name = l.name + ":" + e.Name
		changed = c.update(e) || changed
		c.SetChosen(e.Chosen)
	}
	l.cards = l.cards[:len(entries)]
	l.box.Objects = l.box.Objects[:len(entries)]
	if changed {
		l.Refresh()
	}
}

func (l *CardList) key(i int, k fyne.KeyName) bool {
	switch k {
	case fyne.KeyUp:
		i--
	case fyne.KeyDown:
		i++
	default:
		return false
	}
	if i >= 0 && i < len(l.cards) {
		if c := fyne.CurrentApp().Driver().CanvasForObject(l); c != nil {
			c.Focus(l.cards[i])
		}
		l.tap(l.ids[i])
	}
	return true
}

// HeightFor implements Tall.
func (l *CardList) HeightFor(width float32) float32 { return HeightFor(l.box, width) }

// Held implements Holder.
func (l *CardList) Held() []fyne.CanvasObject { return []fyne.CanvasObject{l.box} }

// CreateRenderer implements fyne.Widget.
func (l *CardList) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(l.box) }
