package order

import (
	"slices"

	"slipseat/engine/unit"
)

// Change is something agreed after the quote.
type Change struct {
	ID     string
	Text   string
	Amount unit.Money // before tax; below 0 for something taken off
}

// Actual is the quantity of goods that was really used, for the bill: a length
// for goods by length, else a count of what the price is for (boxes, sheets,
// cans).
type Actual struct {
	Code, Goods string
	Length      unit.Length
	Units       int
}

// WhyActual is the words' code of a quantity as it was really used.
const WhyActual = "order.actual"

// BillInput is what a bill is made from.
type BillInput struct {
	Order    Order // as quoted
	Actual   []Actual
	Changes  []Change
	Tax      unit.Share
	Received unit.Money // deposit and payments so far
}

// Bill is what the customer owes.
type Bill struct {
	Items   []Item
	Labour  []Item
	Changes []Change
	Totals  Totals   // Deposit is what was received, Balance what is due
	Changed unit.Why // sum of the changes
}

// MakeBill makes the bill: the quoted order with the quantities really used,
// the agreed changes, tax on the sum of all, less what was received. A line
// without an Actual stays as quoted. Rounding is that of an order. The balance
// is negative when too much was received.
func MakeBill(in BillInput) (Bill, []unit.Fault) {
	k := &checker{}
	b := Bill{Items: slices.Clone(in.Order.Items), Labour: in.Order.Labour, Changes: in.Changes}
	for i, it := range b.Items {
		for _, a := range in.Actual {
			if a.Code == it.Code && a.Goods == it.Goods && k.length(a.Goods, "actual", a.Length) && k.counts(a.Goods, a.Units) {
				b.Items[i] = really(it, a)
			}
		}
	}
	b.Changed = unit.Why{Kind: unit.KindMoney}
	for _, c := range in.Changes {
		if c.Amount < -MaxPrice || c.Amount > MaxPrice {
			k.fail(CodePrice, c.ID, "change", unit.A("got", c.Amount), unit.A("most", unit.Money(MaxPrice)))
			continue
		}
		b.Changed.Add(WhyChange, float64(c.Amount), unit.A("text", c.Text))
	}
	if in.Received < 0 || in.Received > MaxPrice {
		k.fail(CodePrice, "", "received", unit.A("got", in.Received), unit.A("most", unit.Money(MaxPrice)))
		in.Received = 0
	}
	if !k.share("tax", in.Tax) {
		in.Tax = 0
	}
	t := sum(b.Items, b.Labour, 0, 0)
	t.Net.Terms = append(t.Net.Terms, b.Changed.Terms...)
	b.Totals = t.taxed(in.Tax)
	b.Totals.Deposit = unit.Why{Kind: unit.KindMoney}
	if in.Received > 0 {
		b.Totals.Deposit.Add(WhyReceived, float64(in.Received))
		b.Totals.Balance.Add(WhyReceived, -float64(in.Received))
	}
	return b, k.faults
}

// WhyReceived is the words' code of what was paid so far.
const WhyReceived = "total.received"

// really prices a line by what was used. Goods by length are charged by the
// length used, to the millimetre.
func really(it Item, a Actual) Item {
	if it.Buy.Kind == unit.KindLength {
		it.Buy = unit.Why{Kind: unit.KindLength}
		it.Buy.Add(WhyActual, a.Length.MM())
		it.Price = priceOf(it, whole(a.Length), whole(it.Per), unit.A("length", a.Length))
	} else {
		it.Buy = unit.Why{Kind: it.Buy.Kind}
		it.Buy.Add(WhyActual, float64(a.Units*max(it.Pack, 1)))
		it.Price = priceOf(it, int64(a.Units), 1)
	}
	it.Pending = false
	return it
}
