package publish

import (
	"strings"

	"slipseat/app/export"
	"slipseat/app/words"
	"slipseat/engine/buildup"
	"slipseat/engine/drawing"
	"slipseat/engine/order"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// amount writes money with the job's currency.
func (k *maker) amount(m unit.Money) string {
	s := words.Money(m)
	if c := string(k.Job.Currency); c != "" {
		s += " " + c
	}
	return s
}

func (k *maker) sum(w unit.Why) string { return words.Money(unit.Money(w.Value())) }

// Quantity writes how much of an item is needed or bought, in its unit.
func Quantity(w *words.Words, u unit.Units, it order.Item, v float64) string {
	switch {
	case it.Pending:
		return w.Label("order.pending")
	case it.Buy.Kind == unit.KindLength:
		return u.ClothLabel(unit.Length(v))
	}
	return w.Label("order.count-"+it.Unit.Code(), unit.A("count", int(v+0.5)))
}

// ItemName is an item as it is listed: the goods' own name with its width, or
// the usual word.
func ItemName(w *words.Words, u unit.Units, it order.Item) string {
	name := it.Name
	if name == "" {
		name = w.Label("item." + it.Code)
	} else if it.Code == order.CodeLabour {
		name = w.Label("item.labour-for", unit.A("name", it.Name))
	}
	if it.Width > 0 {
		name += ", " + u.Label(it.Width)
	}
	return name
}

func (k *maker) quantity(it order.Item, v float64) string { return Quantity(k.Words, k.Units, it, v) }
func (k *maker) itemName(it order.Item) string            { return ItemName(k.Words, k.Units, it) }

// packs is what is bought as it is asked for in the shop: boxes rather than
// the staples in them.
func (k *maker) packs(it order.Item) string {
	s := k.quantity(it, it.Buy.Value())
	if it.Pack > 1 && !it.Pending {
		s = k.say("order.packs", unit.A("count", int(it.Units()+0.5)), unit.A("unit", k.say("order.unit-"+it.Unit.Code())), unit.A("pieces", s))
	}
	return s
}

// orderFile is the order as a list for other programs.
func (k *maker) orderFile() []export.File {
	var rows [][]string
	for _, it := range append(append([]order.Item{}, k.Plan.Order.Items...), k.Plan.Order.Labour...) {
		rows = append(rows, []string{k.itemName(it), k.m.WhyLine(it.Buy), k.quantity(it, it.Needed()),
			k.quantity(it, it.Buy.Value()), k.say("order.unit-" + it.Unit.Code()), words.Money(it.Each), words.Money(it.Cost())})
	}
	if len(rows) == 0 {
		return nil
	}
	return []export.File{k.csv("order.csv", []string{"item", "why", "need", "buy", "unit", "each", "price"}, rows)}
}

// money are the papers about what is bought and what it costs.
func (k *maker) money() []Paper {
	o := k.Plan.Order
	if len(o.Items) == 0 && len(o.Labour) == 0 {
		return nil
	}
	var out []Paper
	if len(o.Items) > 0 {
		out = append(out, k.document("order", k.order))
	}
	if !o.Totals.Pending && o.Totals.Total.Value() > 0 {
		out = append(out, k.document("quote", k.quote), k.document("bill", k.bill))
	}
	return out
}

// who is the job and the customer in one line.
func (k *maker) who() string {
	s := k.Job.Name
	if c := strings.TrimSpace(k.Job.Customer); c != "" {
		s = k.say("paper.for", unit.A("job", s), unit.A("customer", c))
	}
	return s
}

// order is the list to buy by.
func (k *maker) order() drawing.DocumentIn {
	say, o := k.say, k.Plan.Order
	t := drawing.List{Tick: true, Fill: 1, Columns: []drawing.Column{
		{Head: say("order.col.item"), Bold: true, Wrap: true}, {Head: say("order.col.why"), Wrap: true}, {Head: say("order.col.need"), Right: true},
		{Head: say("order.col.buy"), Right: true, Bold: true, Wrap: true}, {Head: say("order.col.each"), Right: true}, {Head: say("order.col.price"), Right: true},
	}}
	owned := false
	for _, it := range o.Items {
		if it.Pending {
			t.Rows = append(t.Rows, []string{k.itemName(it), say("order.looking"), "", "", words.Money(it.Each), ""})
			continue
		}
		price := words.Money(it.Cost())
		if it.Owned {
			price, owned = say("order.owned"), true
		}
		t.Rows = append(t.Rows, []string{k.itemName(it), k.Words.WhySentence(it.Buy, k.Units), k.quantity(it, it.Needed()), k.packs(it), words.Money(it.Each), price})
	}
	t.Sums = [][]string{{say("order.materials-sum"), "", "", "", "", k.sum(o.Totals.Materials)}}
	notes := []string{say("paper.order-lots"), say("paper.order-check")}
	if owned {
		notes = append(notes, say("paper.order-owned"))
	}
	if k.hasFireRule() {
		notes = append(notes, say("paper.order-certificates"))
	}
	in := drawing.DocumentIn{Right: k.amount(unit.Money(o.Totals.Materials.Value())), Sub: k.who(), SubRight: k.Day,
		Blocks: []drawing.Block{t, drawing.Bullets{Items: notes}}}
	return in
}

// hasFireRule tells that a caution points to a country's fire rules.
func (k *maker) hasFireRule() bool {
	for _, c := range k.Plan.Cautions {
		if strings.HasPrefix(c.Code, "fire-rules") {
			return true
		}
	}
	return false
}

// quoted is the quote as the engine makes it.
func (k *maker) quoted() order.Quote {
	p := k.Plan
	t := k.Job.Terms
	in := order.QuoteInput{Order: p.Order, ValidDays: t.ValidDays, Leave: strings.Fields(t.LeftOut), Purpose: order.Purpose(p.In.Purpose), Country: p.In.Country, Before1950: p.In.MadeBefore1950}
	for _, s := range p.Seats {
		if !s.OK() || s.Count <= 0 {
			continue
		}
		q := order.QuoteSeat{Seat: s.ID, Name: s.Name, Count: s.Count, Wadding: s.Build.Wadding.Thickness > 0, Welt: s.Build.Welt.Rows > 0,
			Dust: !s.Build.Dust.None, Drop: s.Build.Kind == buildup.DropIn, Pad: s.Build.Kind == buildup.BoxedPad}
		for _, l := range s.Build.Foam {
			q.Foam += l.Thickness
		}
		in.Seats = append(in.Seats, q)
	}
	for i := range p.Goods {
		g := &p.Goods[i]
		if g.Roll == nil || !usedForCovers(p, g) {
			continue
		}
		in.Cloths = append(in.Cloths, order.QuoteCloth{Name: g.Roll.Name, Width: g.Roll.Width, Along: g.Roll.Pattern.Along, Across: g.Roll.Pattern.Across,
			Buy: g.Buy.Length(), CustomersOwn: g.Roll.CustomersOwn})
	}
	for _, l := range strings.Split(t.QuoteNotes, "\n") {
		if l = strings.TrimSpace(l); l != "" {
			in.Own = append(in.Own, order.Note{Kind: order.Assumed, Text: l})
		}
	}
	return order.MakeQuote(in)
}

func usedForCovers(p *plan.Plan, g *plan.GoodsPlan) bool {
	for _, kind := range g.Kinds {
		switch kind.Blank.Part {
		case buildup.PartCover, buildup.PartTop:
			return true
		}
	}
	return false
}

// priced lists goods and work with their prices, and what it all comes to.
func (k *maker) priced(items, labour []order.Item, more [][]string, sums [][]string) drawing.List {
	say := k.say
	t := drawing.List{Fill: 1, Columns: []drawing.Column{{Head: say("paper.col.what"), Wrap: true}, {Head: say("paper.col.quantity"), Right: true},
		{Head: say("order.col.each"), Right: true}, {Head: say("order.col.price"), Right: true}}, Sums: sums}
	for _, it := range append(append([]order.Item{}, items...), labour...) {
		price := words.Money(it.Cost())
		if it.Owned {
			price = say("order.owned")
		}
		t.Rows = append(t.Rows, []string{k.itemName(it), k.packs(it), words.Money(it.Each), price})
	}
	t.Rows = append(t.Rows, more...)
	return t
}

// totals are the rows under a list of prices.
func (k *maker) totals(t order.Totals) [][]string {
	row := func(key string, w unit.Why) []string { return []string{k.say("paper.sum." + key), "", "", k.sum(w)} }
	rows := [][]string{row("materials", t.Materials), row("labour", t.Labour)}
	if t.Tax.Value() != 0 {
		rows = append(rows, row("net", t.Net))
		for _, term := range t.Tax.Terms {
			rows = append(rows, []string{k.Words.Text("why."+term.Code, k.Units, term.Args...), "", "", words.Money(unit.Money(term.Value))})
		}
	}
	rows = append(rows, []string{k.say("paper.sum.total"), "", "", k.amount(unit.Money(t.Total.Value()))})
	return rows
}

// quote is the offer to the customer.
func (k *maker) quote() drawing.DocumentIn {
	say, q := k.say, k.quoted()
	sums := k.totals(q.Totals)
	if q.Totals.Deposit.Value() > 0 {
		for _, term := range q.Totals.Deposit.Terms {
			sums = append(sums, []string{say("paper.sum.deposit", argOf(term.Args, "share")), "", "", words.Money(unit.Money(term.Value))})
		}
		sums = append(sums, []string{say("paper.sum.balance"), "", "", k.sum(q.Totals.Balance)})
	}
	seats := drawing.List{Fill: 1, Columns: []drawing.Column{{Head: say("paper.col.seat"), Bold: true}, {Head: say("paper.col.kind")}, {Head: say("paper.col.size"), Right: true},
		{Head: say("paper.col.count"), Right: true}}}
	for i, s := range k.Plan.Seats {
		if !s.OK() || i >= len(k.Job.Seats) {
			continue
		}
		w, d := s.Outline.Size()
		seats.Rows = append(seats.Rows, []string{s.Letter + "  " + s.Name, k.Words.Term("seat-kind." + string(k.Job.Seats[i].Kind)), k.Units.PairLabel(w, d), say("order.count-seat", unit.A("count", s.Count))})
	}
	day := k.Day
	if d := strings.TrimSpace(k.Job.Terms.QuoteDate); d != "" {
		day = d
	}
	until := day
	if q.ValidDays > 0 {
		until = strings.TrimPrefix(day+", ", ", ") + say("paper.valid-days", unit.A("days", q.ValidDays))
	}
	in := drawing.DocumentIn{Right: k.amount(unit.Money(q.Totals.Total.Value())), Sub: k.who(), SubRight: until,
		Blocks: []drawing.Block{seats, k.priced(q.Items, q.Labour, nil, sums)}}
	in.Blocks = append(in.Blocks, k.notes(q.Notes)...)
	blanks := []string{say("paper.blank.accepted")}
	if q.ValidDays == 0 {
		blanks = append([]string{say("paper.blank.valid")}, blanks...)
	}
	if day == "" {
		blanks = append([]string{say("paper.blank.date")}, blanks...)
	}
	in.Blocks = append(in.Blocks, drawing.Blanks{Labels: blanks})
	return in
}

// notes are the lines of a quote under their headings.
func (k *maker) notes(list []order.Note) []drawing.Block {
	var out []drawing.Block
	for kind, head := range [...]string{order.Included: "included", order.Assumed: "assumed", order.Excluded: "excluded", order.Trigger: "triggers"} {
		var lines []string
		for _, n := range list {
			if n.Kind != order.NoteKind(kind) {
				continue
			}
			if n.Code == "" {
				lines = append(lines, n.Text)
				continue
			}
			lines = append(lines, k.Words.Text("quote."+n.Code, k.Units, n.Args...))
		}
		if len(lines) > 0 {
			out = append(out, drawing.Heading{Text: k.say("paper.quote-" + head)}, drawing.Bullets{Items: lines})
		}
	}
	return out
}

func argOf(args []unit.Arg, name string) unit.Arg {
	for _, a := range args {
		if a.Name == name {
			return a
		}
	}
	return unit.A(name, "")
}

// billed is the bill as the engine makes it.
func (k *maker) billed() order.Bill {
	in := order.BillInput{Order: k.Plan.Order, Tax: k.Plan.In.Tax}
	in.Received, _ = k.Job.Terms.Received.Money()
	for _, c := range k.Job.Changes {
		m, _ := c.Amount.Money()
		if c.Off {
			m = -m
		}
		in.Changes = append(in.Changes, order.Change{ID: string(c.ID), Text: c.Text, Amount: m})
	}
	for _, a := range k.Job.Actuals {
		in.Actual = append(in.Actual, order.Actual{Code: a.Line, Goods: a.Goods, Length: a.Length.Or(0), Units: a.Units})
	}
	bill, _ := order.MakeBill(in) // what cannot be used is told at its field and left out here
	return bill
}

// bill is what the customer owes after the work: agreed changes, quantities as
// they were used, what was received and what is due. What the job does not
// know, such as its number, is left to be filled in.
func (k *maker) bill() drawing.DocumentIn {
	say, b, t := k.say, k.billed(), k.Job.Terms
	var changes [][]string
	for _, c := range b.Changes {
		changes = append(changes, []string{say("paper.change", unit.A("text", c.Text)), "", "", words.Money(c.Amount)})
	}
	sums := k.totals(b.Totals)
	received := b.Totals.Deposit.Value() > 0
	if received {
		sums = append(sums, []string{say("paper.sum.received"), "", "", words.Money(unit.Money(-b.Totals.Deposit.Value()))},
			[]string{say("paper.sum.due"), "", "", k.amount(unit.Money(b.Totals.Balance.Value()))})
	}
	day := k.Day
	if d := strings.TrimSpace(t.BillDate); d != "" {
		day = d
	}
	var blanks []string
	number := strings.TrimSpace(t.BillNumber)
	if number != "" {
		day = strings.TrimSuffix(say("paper.bill-number", unit.A("number", number))+", "+day, ", ")
	} else {
		blanks = append(blanks, say("paper.blank.number"))
	}
	if k.Day == "" && t.BillDate == "" {
		blanks = append(blanks, say("paper.blank.date"))
	}
	if !received {
		blanks = append(blanks, say("paper.blank.received"), say("paper.blank.due"))
	}
	in := drawing.DocumentIn{Right: k.amount(unit.Money(b.Totals.Total.Value())), Sub: k.who(), SubRight: day,
		Blocks: []drawing.Block{k.priced(b.Items, b.Labour, changes, sums)}}
	if len(b.Changes) == 0 {
		in.Blocks = append(in.Blocks, drawing.Para{Text: say("paper.no-changes")})
	}
	if len(blanks) > 0 {
		in.Blocks = append(in.Blocks, drawing.Blanks{Labels: blanks})
	}
	in.Blocks = append(in.Blocks, drawing.Para{Text: say("paper.bill-fire")})
	return in
}
