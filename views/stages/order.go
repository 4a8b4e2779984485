package stages

import (
	"strconv"

	"fyne.io/fyne/v2"

	"slipseat/app/job"
	"slipseat/app/publish"
	"slipseat/app/words"
	ord "slipseat/engine/order"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// order is the fifth stage: what to buy, why, and what it costs.
type order struct {
	desk   *Desk
	form   *kit.Form
	column *fyne.Container
	scroll *kit.Scroll
	all    fyne.CanvasObject
}

// NewOrder makes the stage.
func NewOrder(d *Desk) Stage {
	s := &order{desk: d, form: kit.NewForm(d.Menu), column: kit.NewColumn(kit.Gap24)}
	s.scroll = kit.NewScroll(kit.Inset(s.column, 20, 26, 26, 26))
	s.all = s.scroll
	return s
}

func (s *order) Middle() fyne.CanvasObject { return s.all }
func (s *order) Frames() []float64         { return nil }
func (s *order) OwnSheet() bool            { return false }
func (s *order) Form() *kit.Form           { return s.form }

// Refresh shows the present order.
func (s *order) Refresh() {
	p := s.desk.Plan()
	if p == nil {
		return
	}
	s.column.Objects = []fyne.CanvasObject{s.table(p)}
	if w := s.work(p); w != nil {
		s.column.Objects = append(s.column.Objects, w)
	}
	s.scroll.Refresh()
	s.form.Set(s.desk.withCautions(s.groups(p), "order", "", ""))
}

// table lists the goods.
func (s *order) table(p *plan.Plan) fyne.CanvasObject {
	say := s.desk.say
	cols := []kit.Column{
		{Head: say("order.col.item"), Share: 2.4, Face: kit.Strong},
		{Head: say("order.col.why"), Share: 5, Soft: true, Face: kit.Small},
		{Head: say("order.col.need"), Right: true},
		{Head: say("order.col.buy"), Right: true, Face: kit.Strong},
		{Head: say("order.col.each"), Right: true},
		{Head: say("order.col.price"), Right: true},
	}
	var rows [][]fyne.CanvasObject
	for _, it := range p.Order.Items {
		rows = append(rows, s.row(cols, it))
	}
	totals := p.Order.Totals
	foot := make([]fyne.CanvasObject, len(cols))
	foot[4] = kit.NewText(say("order.materials-sum"), kit.Strong, kit.Ink).Right()
	foot[5] = kit.NewText(s.sum(totals.Materials, totals.Pending), kit.Strong, kit.Ink).Right()
	return kit.NewTable(cols, append(rows, foot))
}

func (s *order) row(cols []kit.Column, it ord.Item) []fyne.CanvasObject {
	u, w := s.desk.Units(), s.desk.Words
	name := publish.ItemName(w, u, it)
	if it.Pending {
		return []fyne.CanvasObject{cols[0].Cell(name), cols[1].Cell(s.desk.say("order.looking")),
			cols[2].Cell("…"), cols[3].Cell("…"), cols[4].Cell(words.Money(it.Each)), cols[5].Cell("…")}
	}
	return []fyne.CanvasObject{
		cols[0].Cell(name), cols[1].Cell(s.desk.pictures().WhyLine(it.Buy)),
		cols[2].Cell(publish.Quantity(w, u, it, it.Needed())), cols[3].Cell(publish.Quantity(w, u, it, it.Buy.Value())),
		cols[4].Cell(words.Money(it.Each)), cols[5].Cell(s.cost(it)),
	}
}

func (s *order) cost(it ord.Item) string {
	if it.Owned {
		return s.desk.say("order.owned")
	}
	return words.Money(it.Cost())
}

// number writes a quantity with at most two decimals.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func (s *order) sum(w unit.Why, pending bool) string {
	text := words.Money(unit.Money(w.Value()))
	if pending {
		return text + " …"
	}
	return text
}

// work lists the labour, if any is charged.
func (s *order) work(p *plan.Plan) fyne.CanvasObject {
	if len(p.Order.Labour) == 0 {
		return nil
	}
	say := s.desk.say
	cols := []kit.Column{
		{Head: say("order.col.work"), Share: 1, Face: kit.Strong},
		{Head: say("order.col.seats"), Right: true}, {Head: say("order.col.each"), Right: true}, {Head: say("order.col.price"), Right: true},
	}
	var rows [][]fyne.CanvasObject
	for _, it := range p.Order.Labour {
		rows = append(rows, []fyne.CanvasObject{cols[0].Cell(it.Name), cols[1].Cell(number(it.Units())),
			cols[2].Cell(words.Money(it.Each)), cols[3].Cell(words.Money(it.Cost()))})
	}
	foot := make([]fyne.CanvasObject, len(cols))
	foot[2] = kit.NewText(say("order.labour-sum"), kit.Strong, kit.Ink).Right()
	foot[3] = kit.NewText(s.sum(p.Order.Totals.Labour, false), kit.Strong, kit.Ink).Right()
	return kit.NewTable(cols, append(rows, foot))
}

func (s *order) groups(p *plan.Plan) []kit.Group {
	m := s.desk.maker()
	id := m.j.ID
	labour := kit.Group{Head: s.desk.say("order.head.labour")}
	for _, k := range []struct {
		kind job.SeatKind
		path string
	}{{job.PulledOver, "labour_pulled_over"}, {job.DropIn, "labour_drop_in"}, {job.BoxedPad, "labour_boxed_pad"}, {job.Stool, "labour_stool"}} {
		for _, st := range m.j.Seats {
			if st.Kind == k.kind {
				labour.Entries = append(labour.Entries, m.plain(id, "prices."+k.path))
				break
			}
		}
	}
	labour.Entries = append(labour.Entries, m.plain(id, "prices.tax"), m.plain(id, "prices.deposit"), m.plain(id, "currency"))
	small := kit.Group{Head: s.desk.say("order.head.small"), Entries: []kit.Entry{
		m.count(id, "prices.staples_in_a_box"), m.plain(id, "prices.staple_box_price"), m.plain(id, "prices.staples_spoiled"),
		m.yesNo(id, "prices.adhesive"),
	}}
	if m.j.Prices.Adhesive {
		small.Entries = append(small.Entries, m.plain(id, "prices.adhesive_price"), m.measure(id, "prices.adhesive_covers_side"))
	}
	t := p.Order.Totals
	read := func(name string, w unit.Why, strong bool) kit.Entry {
		e := m.reading("order."+name, s.sum(w, t.Pending))
		e.Strong = strong
		return e
	}
	sums := kit.Group{Head: s.desk.say("order.head.sums"), Entries: []kit.Entry{
		read("materials", t.Materials, false), read("labour", t.Labour, false), read("tax", t.Tax, false), read("total", t.Total, true),
	}}
	if t.Deposit.Value() > 0 {
		sums.Entries = append(sums.Entries, read("deposit", t.Deposit, false), read("balance", t.Balance, false))
	}
	about := kit.Group{Head: s.desk.say("order.head.job"), Entries: []kit.Entry{
		m.choice(id, "purpose", "purpose"), m.choice(id, "status", "status"),
		m.plain(id, "country"), m.yesNo(id, "made_before_1950"), m.yesNo(id, "keep_old_filling"), m.area(id, "note"),
	}}
	return []kit.Group{labour, small, sums, about}
}
