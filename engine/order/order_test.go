package order

import (
	"flag"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"slipseat/engine/cloth"
	"slipseat/engine/unit"
)

var seed = flag.Uint64("seed", 20261124, "seed of the random checks")

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s: got %v, want %v (within %v)", name, got, want, tol)
	}
}

// readingRoom is a small job worked by hand below.
func readingRoom() Input {
	sprig := cloth.New("sprig")
	sprig.Name, sprig.Price = "Fern sprig", 3400
	dust := cloth.New("dust")
	dust.Name, dust.Use, dust.Price, dust.SquareUp, dust.Step = "Black cambric", cloth.DustCloth, 450, 0, unit.Yd/2
	return Input{
		Cloths: []ClothNeed{
			{Cloth: sprig, Length: 129 * unit.In, Pieces: 9},
			{Cloth: dust, Length: 60 * unit.In, Pieces: 8},
		},
		Foam: []SheetNeed{{Sheet: cloth.Sheet{ID: "f1", Name: "Firm", Price: 4800}, Sheets: 2, Pieces: 9, GlueUps: 1}},
		Staples: []StapleNeed{{
			Name: "3/8 in leg", Box: 1000, Each: 650, Spoiled: 10 * unit.Percent,
			Seats: []SeatStaples{{"a", "Side chair", 72, 6}, {"b", "Elbow chair", 75, 2}},
		}},
		Adhesive: []AdhesiveNeed{{Name: "Spray", Faces: 2e6, Joints: 1e5, Coverage: 5e6, Each: 1400}},
		Lengths: []LengthNeed{{
			Code: CodeCord, Name: "5/32 in", Each: 60, PriceUnit: unit.Yd, Step: unit.Yd / 2,
			Terms: unit.Why{Terms: []unit.Term{{Code: WhyLength, Value: (226 * unit.In).MM()}}},
		}},
		Extras: []Extra{{ID: "x", Name: "Screws", Count: 3, Each: 125}},
		Labour: []LabourNeed{
			{Seat: "a", Name: "Side chair", Count: 6, Each: 4500},
			{Seat: "b", Name: "Elbow chair", Count: 2, Minutes: 50, Hourly: 6600},
		},
		Tax:     75 * unit.Percent / 10,
		Deposit: 40 * unit.Percent,
	}
}

func TestReadingRoomByHand(t *testing.T) {
	o, faults := TakeOff(readingRoom())
	if len(faults) != 0 {
		t.Fatal(faults)
	}
	for i, w := range []struct {
		code  string
		buy   float64
		price unit.Money
	}{
		{CodeCover, (3.625 * unit.Yd).MM(), 12325}, // 1 + 129 = 130 in = 3.611 yd -> 3 5/8 yd at 34.00
		{CodeDust, (2 * unit.Yd).MM(), 900},        // 60 in = 1.67 yd -> 2 yd at 4.50
		{CodeFoam, 2, 9600},                        // 2 at 48.00
		{CodeStaples, 1000, 650},                   // 432 + 150 = 582, + 59 spoiled = 641 -> 1 box
		{CodeAdhesive, 1, 1400},                    // 0.4 + 0.02 -> 1 can
		{CodeCord, (6.5 * unit.Yd).MM(), 390},      // 226 in = 6.28 yd -> 6 1/2 yd at 0.60
		{CodeExtra, 3, 375},                        // 3 at 1.25
	} {
		it := o.Items[i]
		if it.Code != w.code || it.Cost() != w.price {
			t.Errorf("line %d: got %s %d, want %s %d", i, it.Code, it.Cost(), w.code, w.price)
		}
		near(t, w.code+" bought", it.Buy.Value(), w.buy, 1e-9)
	}
	near(t, "staples needed", o.Items[3].Needed(), 641, 0)
	near(t, "boxes bought", o.Items[3].Units(), 1, 0)
	near(t, "yards of cord bought", o.Items[5].Units(), 6.5, 1e-12)
	near(t, "cover needed", o.Items[0].Needed(), 130*25.4, 1e-9)
	// 6 x 45.00 = 270.00; 2 x 50 min at 66.00 an hour = 110.00.
	if a, b := o.Labour[0].Cost(), o.Labour[1].Cost(); a != 27000 || b != 11000 {
		t.Errorf("labour: got %d and %d, want 27000 and 11000", a, b)
	}
	tt := o.Totals
	for _, c := range []struct {
		name string
		w    unit.Why
		want unit.Money
	}{
		{"materials", tt.Materials, 25640},
		{"labour", tt.Labour, 38000},
		{"net", tt.Net, 63640},
		{"tax", tt.Tax, 4773}, // 7.5 % of 636.40 is 47.73
		{"total", tt.Total, 68413},
		{"deposit", tt.Deposit, 27365}, // 40 % of 684.13 is 273.652
		{"balance", tt.Balance, 41048},
	} {
		if got := money(c.w); got != c.want {
			t.Errorf("%s: got %d, want %d", c.name, got, c.want)
		}
	}
	if tt.Pending {
		t.Error("nothing is pending")
	}
}

func TestWhatIsThereAlready(t *testing.T) {
	in := readingRoom()
	in.Cloths[0].Have = 2 * unit.Yd
	in.Cloths[1].Have = 5 * unit.Yd
	in.Foam[0].Have = 1
	in.Staples[0].Have = 641
	in.Lengths[0].Have = 226 * unit.In
	o, _ := TakeOff(in)
	near(t, "cover: 130 - 72 = 58 in -> 1 5/8 yd", o.Items[0].Buy.Length().Yd(), 1.625, 1e-9)
	if got := o.Items[0].Cost(); got != 5525 {
		t.Errorf("1 5/8 yd at 34.00: got %d, want 5525", got)
	}
	for _, i := range []int{1, 3, 5} {
		if it := o.Items[i]; math.Abs(it.Buy.Value()) > 1e-9 || it.Cost() != 0 {
			t.Errorf("%s is there already: buys %v for %d", it.Code, it.Buy.Value(), it.Cost())
		}
	}
	if it := o.Items[2]; it.Buy.Value() != 1 || it.Cost() != 4800 {
		t.Errorf("one sheet of two there: buys %v for %d", it.Buy.Value(), it.Cost())
	}
	near(t, "need stays in sight", o.Items[1].Needed(), 60*25.4, 1e-9)
}

func TestPendingAndOwned(t *testing.T) {
	in := readingRoom()
	in.Cloths[0].Pending = true
	in.Cloths[1].Cloth.CustomersOwn = true
	o, _ := TakeOff(in)
	if !o.Totals.Pending || !o.Items[0].Pending || o.Items[0].Cost() != 0 {
		t.Error("a lay that is still looked for must leave the sums pending")
	}
	if it := o.Items[1]; it.Cost() != 0 || it.Buy.Length() != 2*unit.Yd || !it.Owned {
		t.Errorf("the customer's own cloth: buys %v for %d", it.Buy.Value(), it.Cost())
	}
}

// every hands every Why of an order to f.
func every(o Order, f func(name string, w unit.Why)) {
	for _, list := range [][]Item{o.Items, o.Labour} {
		for _, it := range list {
			f(it.Code+" buy", it.Buy)
			f(it.Code+" price", it.Price)
		}
	}
	t := o.Totals
	for i, w := range []unit.Why{t.Materials, t.Labour, t.Net, t.Tax, t.Total, t.Deposit, t.Balance} {
		f([]string{"materials", "labour", "net", "tax", "total", "deposit", "balance"}[i], w)
	}
}

// Money agrees with exact rationals, bought covers the need by less than a
// step, and a longer lay never costs less.
func TestOrderLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 5))
	t.Logf("-seed %d", *seed)
	steps := []unit.Length{unit.Yd / 8, unit.Yd / 2, unit.M / 10, unit.M, unit.CM}
	pers := []unit.Length{unit.Yd, unit.M}
	for range 3000 {
		c := cloth.Cloth{
			ID: "c", Step: steps[r.IntN(len(steps))], PriceUnit: pers[r.IntN(2)],
			Price: unit.Money(r.IntN(20000)), SquareUp: unit.Length(r.IntN(40)), Spare: unit.Share(r.IntN(200_000)),
		}
		need := ClothNeed{Cloth: c, Length: unit.Length(1 + r.Float64()*20000), Have: unit.Length(r.IntN(3) * 500)}
		in := Input{Cloths: []ClothNeed{need}, Tax: unit.Share(r.IntN(300_000)), Deposit: unit.Share(r.IntN(1_000_001))}
		o, faults := TakeOff(in)
		if len(faults) != 0 {
			t.Fatal(faults)
		}
		it := o.Items[0]
		want := max(0, it.Needed()-need.Have.MM())
		if got := it.Buy.Value(); got < want-2e-6 || got-want >= c.Step.MM() {
			t.Fatalf("need %v, step %v: bought %v", want, c.Step, got)
		}
		n := int64(math.Round(it.Buy.Value() / c.Step.MM()))
		price := new(big.Rat).SetInt64(int64(c.Price) * n)
		price.Mul(price, rat(c.Step))
		price.Quo(price, rat(c.PriceUnit))
		net := halfAway(price)
		tax := halfAway(new(big.Rat).Mul(big.NewRat(net, 1), big.NewRat(int64(in.Tax), 1_000_000)))
		deposit := halfAway(new(big.Rat).Mul(big.NewRat(net+tax, 1), big.NewRat(int64(in.Deposit), 1_000_000)))
		for _, x := range []struct {
			name string
			got  unit.Why
			want int64
		}{
			{"price", it.Price, net}, {"tax", o.Totals.Tax, tax}, {"total", o.Totals.Total, net + tax},
			{"deposit", o.Totals.Deposit, deposit}, {"balance", o.Totals.Balance, net + tax - deposit},
		} {
			if x.got.Value() != float64(x.want) {
				t.Fatalf("%s of %d steps of %v at %d per %v: got %v, want %d", x.name, n, c.Step, c.Price, c.PriceUnit, x.got.Value(), x.want)
			}
		}
		longer := need
		longer.Length += unit.Length(r.IntN(1000))
		o2, _ := TakeOff(Input{Cloths: []ClothNeed{longer}})
		if o2.Items[0].Cost() < it.Cost() {
			t.Fatalf("a longer lay costs less: %d after %d", o2.Items[0].Cost(), it.Cost())
		}
	}
}

// rat gives an exact length as a ratio of millimetres.
func rat(l unit.Length) *big.Rat {
	v := new(big.Rat)
	v.SetFrac64(int64(math.Round(l.MM()*10000)), 10000) // 1/8 yd is 114.3 mm, 1 cm is 10 mm
	return v
}

// halfAway rounds an exact ratio half away from zero, by decimal text of
// math/big and not by our own arithmetic.
func halfAway(v *big.Rat) int64 {
	f, _ := new(big.Int).SetString(v.FloatString(0), 10)
	return f.Int64()
}

func TestPlantedRoundingIsCaught(t *testing.T) {
	// A price of x.5 cents must go up, by our own and by math/big alike; half
	// to even would give 12.
	if got := unit.Money(25).Times(1, 2); got != 13 || halfAway(big.NewRat(25, 2)) != 13 {
		t.Errorf("12.5: got %d and %d, want 13", got, halfAway(big.NewRat(25, 2)))
	}
}

func TestFaultsOfAnOrder(t *testing.T) {
	nan := unit.Length(math.NaN())
	for _, c := range []struct {
		name, code string
		spoil      func(*Input)
	}{
		{"lay not a number", CodeBadLength, func(in *Input) { in.Cloths[0].Length = nan }},
		{"have below nothing", CodeBadLength, func(in *Input) { in.Cloths[0].Have = -1 }},
		{"price below nothing", CodePrice, func(in *Input) { in.Cloths[0].Cloth.Price = -1 }},
		{"price beyond reason", CodePrice, func(in *Input) { in.Foam[0].Sheet.Price = MaxPrice + 1 }},
		{"sheets below nothing", CodeCount, func(in *Input) { in.Foam[0].Sheets = -1 }},
		{"staples beyond reason", CodeCount, func(in *Input) { in.Staples[0].Seats[0].Each = 900_000 }},
		{"share beyond all", CodeShare, func(in *Input) { in.Tax = unit.Whole + 1 }},
		{"no coverage", CodeNoCoverage, func(in *Input) { in.Adhesive[0].Coverage = 0 }},
		{"area not a number", CodeBadQuantity, func(in *Input) { in.Adhesive[0].Faces = unit.Area(nan) }},
		{"cord without end", CodeBadLength, func(in *Input) { in.Lengths[0].Terms.Add(WhyLength, math.Inf(1)) }},
		{"work for nobody", CodeCount, func(in *Input) { in.Labour[0].Count = -2 }},
	} {
		in := readingRoom()
		c.spoil(&in)
		o, faults := TakeOff(in)
		if len(faults) != 1 || faults[0].Code != c.code {
			t.Errorf("%s: got %v, want %s", c.name, faults, c.code)
		}
		every(o, func(name string, w unit.Why) {
			if v := w.Value(); math.IsNaN(v) || v < 0 {
				t.Errorf("%s: %s came out as %v", c.name, name, v)
			}
		})
	}
	o, faults := TakeOff(Input{})
	if len(faults) != 0 || len(o.Items) != 0 || o.Totals.Total.Value() != 0 {
		t.Errorf("nothing ordered: got %+v %v", o, faults)
	}
}
