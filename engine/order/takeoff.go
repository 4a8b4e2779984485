package order

import (
	"math"
	"slices"

	"slipseat/engine/cloth"
	"slipseat/engine/unit"
)

// Input is all that a take-off depends on. Lists keep their order.
type Input struct {
	Cloths   []ClothNeed
	Foam     []SheetNeed
	Staples  []StapleNeed
	Adhesive []AdhesiveNeed
	Lengths  []LengthNeed // welt cord, webbing, zips, tape: goods by length that are not laid
	Extras   []Extra
	Labour   []LabourNeed
	Tax      unit.Share // on everything
	Deposit  unit.Share // of the total
}

// ClothNeed is one cloth with its lay.
type ClothNeed struct {
	Cloth  cloth.Cloth
	Length unit.Length // of the lay
	Pieces int
	Have   unit.Length // of the same cloth in one piece, used before buying
	// Hand is how much of a piece at hand the lay takes; it is there already.
	Hand unit.Length
	// Came is the roll as it came for this job: bought, whatever of it the lay
	// takes. Length is then what has to be bought besides.
	Came    unit.Length
	Pending bool
}

// SheetNeed is one kind of foam with its lay.
type SheetNeed struct {
	Sheet   cloth.Sheet
	Sheets  int // whole sheets used
	Pieces  int
	GlueUps int // blanks glued of parts
	Have    int // whole sheets there already
	Pending bool
}

// StapleNeed is one kind of staple.
type StapleNeed struct {
	Goods   string
	Name    string
	Seats   []SeatStaples
	Spoiled unit.Share // bent, lost, pulled again
	Box     int        // staples in a box; 0 reads as sold singly
	Each    unit.Money // price of a box
	Have    int        // staples there already
}

// SeatStaples is the count of one kind of seat.
type SeatStaples struct {
	Seat  string // ID
	Name  string
	Each  int // staples in one seat
	Count int // seats
}

// AdhesiveNeed is spray or brushed adhesive by the area it covers.
type AdhesiveNeed struct {
	Goods    string
	Name     string
	Faces    unit.Area // foam to board, layer to layer
	Joints   unit.Area // of glue-ups
	Coverage unit.Area // of one can
	Each     unit.Money
	Have     float64 // cans there already
}

// LengthNeed is anything bought by length without a lay.
type LengthNeed struct {
	Code      string // CodeCord, CodeWebbing ...
	Goods     string
	Name      string
	Size      unit.Length // of the cord, width of webbing; 0 for none
	Terms     unit.Why    // the lengths needed
	Step      unit.Length
	Each      unit.Money
	PriceUnit unit.Length
	Have      unit.Length
}

// Extra is a line of the user's own.
type Extra struct {
	ID    string
	Name  string
	Count int
	Each  unit.Money
}

// LabourNeed is the work on one kind of seat, at a price a seat; a time, when
// given, goes before the price, at the hourly rate.
type LabourNeed struct {
	Seat    string // ID
	Name    string
	Count   int
	Each    unit.Money // for one seat
	Minutes int        // for one seat; 0 when the price is a fixed one
	Hourly  unit.Money
}

// TakeOff makes the order. The faults name figures that cannot be used; their
// lines are left out.
func TakeOff(in Input) (Order, []unit.Fault) {
	var o Order
	k := &checker{}
	for _, n := range in.Cloths {
		if k.cloth(n) {
			o.Items = append(o.Items, clothItem(n))
		}
	}
	for _, n := range in.Foam {
		if k.counts(n.Sheet.ID, n.Sheets, n.Pieces, n.GlueUps, n.Have) && k.price(n.Sheet.ID, n.Sheet.Price) {
			o.Items = append(o.Items, sheetItem(n))
		}
	}
	for _, n := range in.Staples {
		if k.staples(n) {
			o.Items = append(o.Items, stapleItem(n))
		}
	}
	for _, n := range in.Adhesive {
		if k.adhesive(n) {
			o.Items = append(o.Items, adhesiveItem(n))
		}
	}
	for _, n := range in.Lengths {
		if k.lengths(n) {
			o.Items = append(o.Items, lengthItem(n))
		}
	}
	for _, n := range in.Extras {
		if k.counts(n.ID, n.Count) {
			o.Items = append(o.Items, extraItem(n))
		}
	}
	for _, n := range in.Labour {
		if k.counts(n.Seat, n.Count, n.Minutes) && k.price(n.Seat, n.Each) && k.price(n.Seat, n.Hourly) {
			o.Labour = append(o.Labour, labourItem(n))
		}
	}
	k.share("tax", in.Tax)
	k.share("deposit", in.Deposit)
	o.Totals = sum(o.Items, o.Labour, in.Tax, in.Deposit)
	return o, k.faults
}

func clothItem(n ClothNeed) Item {
	c := n.Cloth
	it := Item{
		Code: useCode(c.Use), Name: c.Name, Goods: c.ID, Width: c.Width,
		Unit: lengthUnit(c.PriceUnit), Per: perUnit(c.PriceUnit), Each: c.Price,
		Pending: n.Pending, Owned: c.CustomersOwn,
	}
	if n.Pending {
		return it
	}
	it.Buy = cloth.Buy(c, n.Length)
	switch {
	case n.Came > 0:
		// The roll was paid for as it is; only what comes besides is sold by
		// the step.
		it.Buy.Terms = append([]unit.Term{{Code: WhyCame, Value: n.Came.MM()}}, it.Buy.Terms...)
		it.Price = priceOf(it, whole(it.Buy.Length()), whole(it.Per), unit.A("length", it.Buy.Length()))
		return it
	case n.Hand > 0:
		w := unit.Why{Kind: unit.KindLength}
		w.Add(WhyHand, n.Hand.MM())
		w.Terms = append(w.Terms, it.Buy.Terms...)
		it.Buy = lessHave(w, n.Hand, c.Step)
	case n.Have > 0:
		it.Buy = lessHave(it.Buy, n.Have, c.Step)
	}
	it.Price = byLength(it, c.Step)
	return it
}

func sheetItem(n SheetNeed) Item {
	s := n.Sheet
	it := Item{Code: CodeFoam, Name: s.Name, Goods: s.ID, Unit: Sheets, Each: s.Price, Pending: n.Pending,
		Foam: &FoamSpec{s.Thickness, s.Length, s.Width, s.Firmness, s.Density}}
	if n.Pending {
		return it
	}
	it.Buy.Kind = unit.KindCount
	code := WhySheets
	if n.GlueUps > 0 {
		code = WhyGlueUps
	}
	it.Buy.Add(code, float64(n.Sheets), unit.A("pieces", n.Pieces), unit.A("glue_ups", n.GlueUps))
	if h := min(n.Have, n.Sheets); h > 0 {
		it.Buy.Add(WhyHave, -float64(h))
	}
	it.Price = byCount(it)
	return it
}

func stapleItem(n StapleNeed) Item {
	it := Item{Code: CodeStaples, Name: n.Name, Goods: n.Goods, Unit: Boxes, Pack: max(n.Box, 1), Each: n.Each}
	it.Buy.Kind = unit.KindCount
	// Reckoned in staples first; a box is a step of so many staples.
	need := 0
	for _, s := range n.Seats {
		if v := s.Each * s.Count; v > 0 {
			need += v
			it.Buy.Add(WhySeats, float64(v), unit.A("seat", s.Name), unit.A("each", s.Each), unit.A("count", s.Count))
		}
	}
	spoiled := int(math.Ceil(float64(need)*n.Spoiled.Float() - wholeTol))
	if spoiled > 0 {
		it.Buy.Add(WhySpoiled, float64(spoiled), unit.A("share", n.Spoiled))
		need += spoiled
	}
	if h := min(n.Have, need); h > 0 {
		it.Buy.Add(WhyHave, -float64(h))
		need -= h
	}
	box := it.Pack
	boxes := (need + box - 1) / box
	if up := boxes*box - need; up > 0 {
		it.Buy.Add(WhyBox, float64(up), unit.A("box", box), unit.A("boxes", boxes))
	}
	if n.Box <= 1 {
		it.Unit = Pieces
	}
	it.Price = priceOf(it, int64(boxes), 1)
	return it
}

// wholeTol keeps 550 staples with a share of exactly 55 from asking for 56.
const wholeTol = 1e-9

func adhesiveItem(n AdhesiveNeed) Item {
	it := Item{Code: CodeAdhesive, Name: n.Name, Goods: n.Goods, Unit: Cans, Each: n.Each}
	it.Buy.Kind = unit.KindCount
	need := 0.0
	for _, p := range []struct {
		code string
		area unit.Area
	}{{WhyCoverage, n.Faces}, {WhyJoints, n.Joints}} {
		if p.area > 0 {
			v := float64(p.area / n.Coverage)
			need += v
			it.Buy.Add(p.code, v, unit.A("area", p.area), unit.A("coverage", n.Coverage))
		}
	}
	if h := min(n.Have, need); h > 0 {
		it.Buy.Add(WhyHave, -h)
		need -= h
	}
	cans := math.Ceil(need - wholeTol)
	if up := cans - need; up != 0 {
		it.Buy.Add(WhyRounding, up)
	}
	it.Price = priceOf(it, int64(cans), 1)
	return it
}

func lengthItem(n LengthNeed) Item {
	it := Item{Code: n.Code, Name: n.Name, Goods: n.Goods, Size: n.Size, Unit: lengthUnit(n.PriceUnit), Per: perUnit(n.PriceUnit), Each: n.Each}
	it.Buy = unit.Why{Kind: unit.KindLength, Terms: slices.Clone(n.Terms.Terms)}
	it.Buy = lessHave(it.Buy, n.Have, n.Step)
	it.Price = byLength(it, n.Step)
	return it
}

func extraItem(n Extra) Item {
	it := Item{Code: CodeExtra, Name: n.Name, Goods: n.ID, Unit: Pieces, Each: n.Each}
	it.Buy.Kind = unit.KindCount
	it.Buy.Add(WhyCount, float64(n.Count))
	it.Price = byCount(it)
	return it
}

func labourItem(n LabourNeed) Item {
	it := Item{Code: CodeLabour, Name: n.Name, Seat: n.Seat, Unit: Seats, Each: n.Each}
	it.Buy.Kind = unit.KindCount
	it.Buy.Add(WhyWork, float64(n.Count), unit.A("seat", n.Name), unit.A("minutes", n.Minutes))
	if n.Minutes > 0 {
		it.Each = n.Hourly.Times(int64(n.Minutes), 60)
		it.Price = priceOfEach(it, n.Hourly, int64(n.Count)*int64(n.Minutes), 60)
		return it
	}
	it.Price = byCount(it)
	return it
}

func useCode(u cloth.Use) string {
	switch u {
	case cloth.Contrast:
		return CodeContrast
	case cloth.DustCloth:
		return CodeDust
	case cloth.Wadding:
		return CodeWadding
	case cloth.Lining:
		return CodeLining
	case cloth.FireBarrier:
		return CodeBarrier
	}
	return CodeCover
}
