package order

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"slipseat/engine/cloth"
	"slipseat/engine/unit"
)

func TestCompareByHand(t *testing.T) {
	sprig := cloth.Cloth{ID: "s", Name: "Fern sprig", Width: 54 * unit.In, Step: unit.Yd / 8, Price: 3400, PriceUnit: unit.Yd,
		Pattern: cloth.Pattern{Along: 9 * unit.In, Across: 9 * unit.In}}
	plain := cloth.Cloth{ID: "p", Name: "Plain", Width: 60 * unit.In, Step: unit.Yd / 8, Price: 2800, PriceUnit: unit.Yd}
	got, faults := Compare([]Option{
		// 140 in laid -> 4 yd at 34.00 = 136.00; plain it would be 120 in -> 3
		// 3/8 yd = 114.75. Pieces 9 x 23 x 24 in = 4968 in2 of 54 x 144 in.
		{Cloth: sprig, Length: 140 * unit.In, Plain: unit.Some(120 * unit.In), Area: unit.Area(4968 * 25.4 * 25.4), Seats: 9},
		// 118 in -> 3 3/8 yd = 121.5 in at 28.00 = 94.50.
		{Cloth: plain, Length: 118 * unit.In, Area: unit.Area(4968 * 25.4 * 25.4), Seats: 9},
		{Cloth: plain, Pending: true},
	})
	if len(faults) > 0 || len(got) != 3 {
		t.Fatal(faults, len(got))
	}
	a, b := got[0], got[1]
	near(t, "sprig bought, yd", a.Buy.Length().Yd(), 4, 1e-9)
	near(t, "plain bought, yd", b.Buy.Length().Yd(), 3.375, 1e-9)
	near(t, "sprig unused", a.Unused, 1-4968.0/(54*144), 1e-9)
	near(t, "plain unused", b.Unused, 1-4968.0/(60*121.5), 1e-9)
	if a.PerSeat != 1511 || b.PerSeat != 1050 {
		t.Errorf("a seat: got %d and %d, want 1511 and 1050", a.PerSeat, b.PerSeat)
	}
	if !a.HasPattern || a.Pattern != 13600-11475 || b.HasPattern {
		t.Errorf("what the pattern costs: got %d, want 2125", a.Pattern)
	}
	near(t, "and takes, yd", a.PatternLength.Yd(), 0.625, 1e-9)
	if !got[2].Pending || got[2].Cost.Value() != 0 {
		t.Error("a lay that is still looked for has no price")
	}
	if _, faults := Compare(make([]Option, 5)); len(faults) != 1 || faults[0].Code != CodeTooMany {
		t.Errorf("five side by side: got %v", faults)
	}
}

func TestOneMoreChair(t *testing.T) {
	in := readingRoom()
	a, _ := TakeOff(in)
	in.Cloths[0].Length += 24 * unit.In
	in.Staples[0].Seats[0].Count++
	in.Labour[0].Count++
	b, _ := TakeOff(in)
	more, cost := Difference(a, b)
	// 154 in = 4.278 yd -> 4 3/8 yd: 3/4 yd more = 25.50. 734 staples and more
	// still come out of one box.
	if len(more) != 1 || more[0].Code != CodeCover || more[0].Cost != 2550 {
		t.Fatalf("got %+v", more)
	}
	near(t, "more cloth, yd", unit.Length(more[0].Buy).Yd(), 0.75, 1e-9)
	if cost != 2550+4500 {
		t.Errorf("with the work: got %d, want 7050", cost)
	}
	back, cost := Difference(b, a)
	if len(back) != 1 || back[0].Cost != -2550 || cost != -7050 {
		t.Errorf("the other way: got %+v %d", back, cost)
	}
	if none, cost := Difference(a, a); len(none) != 0 || cost != 0 {
		t.Errorf("no difference: got %+v %d", none, cost)
	}
}

func TestQuote(t *testing.T) {
	o, _ := TakeOff(readingRoom())
	in := QuoteInput{
		Order: o, ValidDays: 30, Purpose: ForSale, Country: "GB",
		Seats: []QuoteSeat{
			{Seat: "a", Name: "Side chair", Count: 6, Foam: 25.4, Dust: true},
			{Seat: "c", Name: "Window bench", Count: 1, Foam: 50.8, Welt: true, Pad: true},
		},
		Cloths: []QuoteCloth{{Name: "Fern sprig", Width: 54 * unit.In, Along: 9 * unit.In, Across: 9 * unit.In, Buy: 4 * unit.Yd}},
		Own:    []Note{{Kind: Excluded, Text: "Polishing the frames"}},
	}
	q := MakeQuote(in)
	kind := Included
	codes := map[string]Note{}
	for _, n := range q.Notes {
		if n.Kind < kind {
			t.Errorf("%s stands after a later kind", n.Code)
		}
		kind = n.Kind
		codes[n.Code+n.Text] = n
	}
	for _, want := range []string{NoteStrip, NoteFoam, NoteCover, NoteWelt, NoteDust, NoteRefit, NoteMeasured, NoteBoards, NoteClothRepeat,
		NoteFire, NoteFrames, NoteTransport, NoteHidden, "Polishing the frames", NoteOtherCloth, NoteLayers, NoteDamage} {
		if _, ok := codes[want]; !ok {
			t.Errorf("%s is missing", want)
		}
	}
	for _, not := range []string{NoteWadding, NoteCustomerCloth, NoteFlaws, NoteClothWidth} {
		if _, ok := codes[not]; ok {
			t.Errorf("%s does not belong here", not)
		}
	}
	if money(q.Totals.Total) != 68413 {
		t.Errorf("total: got %d", money(q.Totals.Total))
	}
	in.Cloths[0].CustomersOwn, in.Cloths[0].Along, in.Cloths[0].Across = true, 0, 0
	in.Leave = []string{NoteTransport}
	codes = map[string]Note{}
	for _, n := range MakeQuote(in).Notes {
		codes[n.Code] = n
	}
	for _, want := range []string{NoteCustomerCloth, NoteFlaws, NoteClothWidth} {
		if _, ok := codes[want]; !ok {
			t.Errorf("%s is missing for the customer's own plain cloth", want)
		}
	}
	if _, ok := codes[NoteTransport]; ok {
		t.Error("the user took the transport out")
	}
}

func TestBillByHand(t *testing.T) {
	o, _ := TakeOff(readingRoom())
	b, faults := MakeBill(BillInput{
		Order: o,
		Actual: []Actual{
			{Code: CodeCover, Goods: "sprig", Length: 3.5 * unit.Yd}, // 119.00 instead of 123.25
			{Code: CodeStaples, Units: 2},                            // 13.00 instead of 6.50
		},
		Changes:  []Change{{ID: "1", Text: "New webbing", Amount: 4000}, {ID: "2", Text: "Goodwill", Amount: -1000}},
		Tax:      75 * unit.Percent / 10,
		Received: 27365,
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for _, c := range []struct {
		name string
		w    unit.Why
		want unit.Money
	}{
		{"materials", b.Totals.Materials, 25640 - 425 + 650},
		{"labour", b.Totals.Labour, 38000},
		{"changes", b.Changed, 3000},
		{"net", b.Totals.Net, 66865},
		{"tax", b.Totals.Tax, 5015}, // 7.5 % of 668.65 is 50.14875
		{"total", b.Totals.Total, 71880},
		{"received", b.Totals.Deposit, 27365},
		{"due", b.Totals.Balance, 44515},
	} {
		if got := money(c.w); got != c.want {
			t.Errorf("%s: got %d, want %d", c.name, got, c.want)
		}
	}
	if o.Items[0].Cost() != 12325 {
		t.Error("the quoted order was changed")
	}
	_, faults = MakeBill(BillInput{Order: o, Received: -1, Tax: -1, Changes: []Change{{Amount: MaxPrice + 1}},
		Actual: []Actual{{Code: CodeCover, Goods: "sprig", Length: unit.Length(math.NaN())}}})
	if len(faults) != 4 {
		t.Errorf("four wrong figures: got %v", faults)
	}
}

// A bill's sums agree with exact rationals whatever was agreed.
func TestBillLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 6))
	t.Logf("-seed %d", *seed)
	o, _ := TakeOff(readingRoom())
	for range 2000 {
		in := BillInput{Order: o, Tax: unit.Share(r.IntN(1_000_001)), Received: unit.Money(r.IntN(200_000))}
		length := unit.Length(r.IntN(100_000)) / 10
		in.Actual = []Actual{{Code: CodeCover, Goods: "sprig", Length: length}}
		net := big.NewRat(int64(money(o.Totals.Net))-12325, 1)
		p := new(big.Rat).Mul(big.NewRat(3400, 1), rat(length))
		net.Add(net, big.NewRat(halfAway(p.Quo(p, rat(unit.Yd))), 1))
		for range r.IntN(4) {
			c := int64(r.IntN(60_000) - 30_000)
			in.Changes = append(in.Changes, Change{Amount: unit.Money(c)})
			net.Add(net, big.NewRat(c, 1))
		}
		b, faults := MakeBill(in)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		tax := halfAway(new(big.Rat).Mul(net, big.NewRat(int64(in.Tax), 1_000_000)))
		want := halfAway(net) + tax - int64(in.Received)
		if got := b.Totals.Balance.Value(); got != float64(want) {
			t.Fatalf("%+v: due %v, want %d", in, got, want)
		}
	}
}
