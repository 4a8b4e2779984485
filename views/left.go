package views

import (
	"fyne.io/fyne/v2"

	"slipseat/views/kit"
)

// cardState is one card of the left column.
type cardState struct {
	id, name   string
	title, sub string
	picture    kit.Picture
	key        string // of the picture
	chosen     bool
}

// leftColumn shows the seats of the job and, at the bottom, its cloths and
// foams.
type leftColumn struct {
	content                 *fyne.Container
	seats, goods            *kit.CardList
	seatScroll, goodsScroll *kit.Scroll
}

// leftActions are what the column's cards and buttons do.
type leftActions struct {
	seat, goods         func(id string)
	seatMenu, goodsMenu func(id string, at fyne.Position)
	addSeat, addGoods   func()
}

func newLeftColumn(say func(string) string, do leftActions) *leftColumn {
	l := &leftColumn{}
	l.seats = kit.NewCardList("seat", do.seat, do.seatMenu)
	l.goods = kit.NewCardList("goods", do.goods, do.goodsMenu)
	seats := kit.NewColumn(kit.Gap10, kit.NewText(say("left.seats"), kit.Head, kit.Ink2), l.seats,
		kit.NewButton("button:add-seat", "plus", say("left.add-seat"), do.addSeat))
	goods := kit.NewColumn(kit.Gap10,
		kit.NewRow(kit.Gap4, kit.NewText(say("left.goods"), kit.Head, kit.Ink2), kit.NewSpring(),
			kit.NewBare("button:add-goods", "plus", "", do.addGoods).Tip(say("left.add-goods.tip"))),
		l.goods)
	l.seatScroll, l.goodsScroll = kit.NewScroll(kit.Inset(seats, 14)), kit.NewScroll(kit.Inset(goods, 4, 14, 14, 14))
	l.content = &fyne.Container{Layout: leftLayout{}, Objects: []fyne.CanvasObject{l.seatScroll, l.goodsScroll}}
	return l
}

// leftLayout gives the goods what they need, at most half of the column, and
// the seats the rest.
type leftLayout struct{}

func (leftLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	need := o[1].(*kit.Scroll).Need(s.Width)
	h := min(need, s.Height/2)
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(fyne.NewSize(s.Width, s.Height-h))
	o[1].Move(fyne.NewPos(0, s.Height-h))
	o[1].Resize(fyne.NewSize(s.Width, h))
}

func (leftLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(120, 200) }

func (l *leftColumn) set(seats, goods []cardState) {
	fill := func(list *kit.CardList, cards []cardState) {
		out := make([]kit.CardEntry, len(cards))
		for i, c := range cards {
			out[i] = kit.CardEntry{ID: c.id, Name: c.name, Title: c.title, Sub: c.sub, Picture: c.picture, Key: c.key, Chosen: c.chosen}
		}
		list.Set(out)
	}
	fill(l.seats, seats)
	fill(l.goods, goods)
	l.seatScroll.Refit()
	l.goodsScroll.Refit()
	kit.Relayout(l.content)
}
