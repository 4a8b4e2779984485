package order

import (
	"slipseat/engine/cloth"
	"slipseat/engine/unit"
)

// MaxCompared is how many cloths are set side by side.
const MaxCompared = 4

// CodeTooMany is the fault of comparing more than MaxCompared.
const CodeTooMany = "order.too-many-compared"

// Option is one cloth, or one width of it, with the lay it would take.
type Option struct {
	Cloth  cloth.Cloth
	Length unit.Length // of the lay
	// Plain is the length of the lay with the pattern ignored; unset where
	// there is no pattern or nobody reckoned it.
	Plain   unit.Opt
	Area    unit.Area // of all pieces
	Seats   int
	Pending bool
}

// Compared is one line of a comparison.
type Compared struct {
	Goods, Name string
	Width       unit.Length
	Buy         unit.Why
	Unused      float64 // share of the usable cloth bought that no piece takes
	Cost        unit.Why
	PerSeat     unit.Money
	// Pattern is what the pattern costs: the price of the length bought less
	// that of the length a plain cloth would take.
	Pattern       unit.Money
	PatternLength unit.Length
	HasPattern    bool
	Pending       bool
}

// Compare sets cloths side by side, in the order given.
func Compare(options []Option) ([]Compared, []unit.Fault) {
	if len(options) > MaxCompared {
		return nil, []unit.Fault{{Code: CodeTooMany, Args: []unit.Arg{unit.A("got", len(options)), unit.A("most", MaxCompared)}}}
	}
	k := &checker{}
	var out []Compared
	for _, o := range options {
		if !k.cloth(ClothNeed{Cloth: o.Cloth, Length: o.Length}) || !k.counts(o.Cloth.ID, o.Seats) ||
			o.Plain.Set && !k.length(o.Cloth.ID, "length", o.Plain.Value) {
			continue
		}
		c := Compared{Goods: o.Cloth.ID, Name: o.Cloth.Name, Width: o.Cloth.Width, Pending: o.Pending}
		if !o.Pending {
			it := clothItem(ClothNeed{Cloth: o.Cloth, Length: o.Length})
			c.Buy, c.Cost = it.Buy, it.Price
			if a := float64(c.Buy.Length() * o.Cloth.UsableWidth()); a > 0 {
				c.Unused = 1 - float64(o.Area)/a
			}
			if o.Seats > 0 {
				c.PerSeat = it.Cost().Times(1, int64(o.Seats))
			}
			if o.Plain.Set {
				plain := o.Cloth
				plain.Pattern = cloth.Pattern{}
				p := clothItem(ClothNeed{Cloth: plain, Length: o.Plain.Value})
				c.HasPattern = true
				c.Pattern = it.Cost() - p.Cost()
				c.PatternLength = c.Buy.Length() - p.Buy.Length()
			}
		}
		out = append(out, c)
	}
	return out, k.faults
}

// More is what one order takes beyond another: "one more chair costs ...".
type More struct {
	Goods string
	Code  string
	Buy   float64 // in millimetres for goods by length, else in pieces
	Kind  unit.Kind
	Cost  unit.Money
}

// Difference lists the goods of which b takes more or less than a, in b's
// order, then those that only a has, and gives the difference of the totals
// before tax.
func Difference(a, b Order) ([]More, unit.Money) {
	var out []More
	find := func(list []Item, it Item) (Item, bool) {
		for _, x := range list {
			if x.Code == it.Code && x.Goods == it.Goods {
				return x, true
			}
		}
		return Item{}, false
	}
	for _, it := range b.Items {
		was, _ := find(a.Items, it)
		if buy, cost := it.Buy.Value()-was.Buy.Value(), it.Cost()-was.Cost(); buy > stepNoise || buy < -stepNoise || cost != 0 {
			out = append(out, More{it.Goods, it.Code, buy, it.Buy.Kind, cost})
		}
	}
	for _, it := range a.Items {
		if _, ok := find(b.Items, it); !ok {
			out = append(out, More{it.Goods, it.Code, -it.Buy.Value(), it.Buy.Kind, -it.Cost()})
		}
	}
	return out, money(b.Totals.Net) - money(a.Totals.Net)
}

// stepNoise is far below any step and far above rounding errors.
const stepNoise = 1e-6
