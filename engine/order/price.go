package order

import (
	"math"

	"slipseat/engine/cloth"
	"slipseat/engine/unit"
)

// perUnit is the length a price is for; a metre where none was given.
func perUnit(u unit.Length) unit.Length {
	if u <= 0 {
		return unit.M
	}
	return u
}

// lengthUnit is the unit that a price by length is quoted in.
func lengthUnit(u unit.Length) Unit {
	if u == unit.Yd {
		return Yards
	}
	return Metres
}

// lessHave takes what is there already off a length and rounds the rest up to
// the step again. The terms of w keep their order; an earlier rounding is
// dropped.
func lessHave(w unit.Why, have, step unit.Length) unit.Why {
	out := unit.Why{Kind: w.Kind}
	for _, t := range w.Terms {
		if t.Code != WhyCloth && t.Code != WhyRounding {
			out.Terms = append(out.Terms, t)
		}
	}
	if h := math.Min(have.MM(), out.Value()); h > 0 {
		out.Add(WhyHave, -h)
	}
	return cloth.RoundUp(out, step, WhyRounding)
}

// fine counts lengths for money in millionths of a millimetre, in which every
// length that can be typed to a sixteenth of an inch, and every selling step,
// is a whole number.
const fine = 1e6

func whole(l unit.Length) int64 { return int64(math.Round(l.MM() * fine)) }

// byLength prices a line bought by length: the number of steps is exact, so
// the ratio to the unit of the price is one of whole numbers.
func byLength(it Item, step unit.Length) unit.Why {
	amount := it.Buy.Length()
	num := whole(amount)
	if step > 0 {
		num = cloth.Steps(amount, step) * whole(step)
	}
	return priceOf(it, num, whole(it.Per), unit.A("length", amount))
}

// byCount prices a line bought by the piece.
func byCount(it Item) unit.Why { return priceOf(it, int64(math.Round(it.Buy.Value())), 1) }

func priceOf(it Item, num, den int64, args ...unit.Arg) unit.Why {
	return priceOfEach(it, it.Each, num, den, args...)
}

// priceOfEach is num / den times each, rounded half away from zero to a minor
// unit; nothing for goods that are not charged.
func priceOfEach(it Item, each unit.Money, num, den int64, args ...unit.Arg) unit.Why {
	w := unit.Why{Kind: unit.KindMoney}
	if it.Owned {
		w.Add(WhyFree, 0)
		return w
	}
	args = append([]unit.Arg{unit.A("quantity", float64(num)/float64(den)), unit.A("each", each), unit.A("unit", it.Unit.Code())}, args...)
	w.Add(WhyPrice, float64(each.Times(num, den)), args...)
	return w
}

// sum adds up the lines. Tax is taken once, on the net sum.
func sum(items, labour []Item, tax, deposit unit.Share) Totals {
	var t Totals
	add := func(to *unit.Why, lines []Item) {
		to.Kind = unit.KindMoney
		for _, it := range lines {
			t.Pending = t.Pending || it.Pending
			if v := it.Price.Value(); v != 0 {
				to.Add(WhyLine, v, unit.A("name", it.Name), unit.A("code", it.Code))
			}
		}
	}
	add(&t.Materials, items)
	add(&t.Labour, labour)
	return t.finish(tax, deposit)
}

// finish works out everything below materials and labour.
func (t Totals) finish(tax, deposit unit.Share) Totals {
	t.Net = unit.Why{Kind: unit.KindMoney}
	t.Net.Add(WhyMaterials, t.Materials.Value())
	t.Net.Add(WhyLabour, t.Labour.Value())
	t = t.taxed(tax)
	t.Deposit = unit.Why{Kind: unit.KindMoney}
	if deposit > 0 {
		t.Deposit.Add(WhyDeposit, float64(deposit.Of(money(t.Total))), unit.A("share", deposit), unit.A("of", money(t.Total)))
		t.Balance.Add(WhyPaid, -t.Deposit.Value())
	}
	return t
}

// taxed works out tax, total and an unpaid balance from the net sum.
func (t Totals) taxed(tax unit.Share) Totals {
	t.Tax = unit.Why{Kind: unit.KindMoney}
	t.Total = unit.Why{Kind: unit.KindMoney}
	t.Total.Add(WhyNet, t.Net.Value())
	if tax > 0 {
		args := []unit.Arg{unit.A("share", tax), unit.A("of", money(t.Net))}
		t.Tax.Add(WhyTax, float64(tax.Of(money(t.Net))), args...)
		t.Total.Add(WhyTax, t.Tax.Value(), args...)
	}
	t.Balance = unit.Why{Kind: unit.KindMoney}
	t.Balance.Add(WhyTotal, t.Total.Value())
	return t
}
