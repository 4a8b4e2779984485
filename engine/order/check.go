package order

import (
	"math"

	"slipseat/engine/unit"
)

// Faults of an order. The words are under "fault.<code>".
const (
	CodeCount       = "order.count"
	CodePrice       = "order.price"
	CodeShare       = "order.share"
	CodeBadLength   = "order.length"
	CodeNoCoverage  = "order.no-coverage"
	CodeBadQuantity = "order.quantity"
)

// Limits beyond which a figure is a slip of the keyboard. They also keep every
// sum far below 2^53 minor units, up to which float64 holds whole numbers.
const (
	MaxCount  = 1_000_000
	MaxPrice  = 1_000_000_000 // minor units for one unit of goods
	MaxLength = 10_000 * unit.M
)

type checker struct{ faults []unit.Fault }

func (k *checker) fail(code, goods, field string, args ...unit.Arg) bool {
	k.faults = append(k.faults, unit.Fault{Code: code, Where: unit.Where{Goods: goods, Field: field}, Args: args})
	return false
}

func (k *checker) counts(goods string, counts ...int) bool {
	for _, n := range counts {
		if n < 0 || n > MaxCount {
			return k.fail(CodeCount, goods, "count", unit.A("got", n), unit.A("most", MaxCount))
		}
	}
	return true
}

func (k *checker) price(goods string, p unit.Money) bool {
	if p < 0 || p > MaxPrice {
		return k.fail(CodePrice, goods, "price", unit.A("got", p), unit.A("most", unit.Money(MaxPrice)))
	}
	return true
}

func (k *checker) share(field string, s unit.Share) bool {
	if s < 0 || s > unit.Whole {
		return k.fail(CodeShare, "", field, unit.A("got", s))
	}
	return true
}

func (k *checker) length(goods, field string, l unit.Length) bool {
	if math.IsNaN(l.MM()) || l < 0 || l > MaxLength {
		return k.fail(CodeBadLength, goods, field, unit.A("got", l))
	}
	return true
}

func (k *checker) cloth(n ClothNeed) bool {
	c := n.Cloth
	return k.length(c.ID, "length", n.Length) && k.length(c.ID, "have", n.Have) && k.length(c.ID, "at_hand", n.Hand) && k.length(c.ID, "roll_length", n.Came) && k.length(c.ID, "step", c.Step) &&
		k.length(c.ID, "square_up", c.SquareUp) && k.length(c.ID, "price_unit", c.PriceUnit) &&
		k.price(c.ID, c.Price) && k.counts(c.ID, n.Pieces) && k.share("spare", c.Spare)
}

func (k *checker) staples(n StapleNeed) bool {
	for _, s := range n.Seats {
		if !k.counts(n.Goods, s.Each, s.Count, s.Each*s.Count) {
			return false
		}
	}
	return k.counts(n.Goods, n.Box, n.Have) && k.price(n.Goods, n.Each) && k.share("spoiled", n.Spoiled)
}

func (k *checker) adhesive(n AdhesiveNeed) bool {
	for _, a := range []float64{float64(n.Faces), float64(n.Joints), n.Have} {
		if math.IsNaN(a) || a < 0 || a > 1e12 {
			return k.fail(CodeBadQuantity, n.Goods, "area")
		}
	}
	if c := float64(n.Coverage); math.IsNaN(c) || c < float64(minCoverage) || c > 1e12 {
		return k.fail(CodeNoCoverage, n.Goods, "coverage")
	}
	return k.price(n.Goods, n.Each)
}

// minCoverage is a square decimetre: a can that covers less is a slip of the
// keyboard.
const minCoverage unit.Area = 100 * 100

func (k *checker) lengths(n LengthNeed) bool {
	for _, t := range n.Terms.Terms {
		if math.IsNaN(t.Value) || math.Abs(t.Value) > MaxLength.MM() {
			return k.fail(CodeBadLength, n.Goods, "length")
		}
	}
	return k.length(n.Goods, "length", n.Terms.Length()) && k.length(n.Goods, "have", n.Have) &&
		k.length(n.Goods, "step", n.Step) && k.length(n.Goods, "price_unit", n.PriceUnit) && k.price(n.Goods, n.Each)
}
