package caution

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/lay"
	"slipseat/engine/order"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// sound is a job with nothing to be cautious about but the general advice.
func sound(t *testing.T) Facts {
	t.Helper()
	f := Facts{Purpose: OwnUse}
	f.Seats = []Seat{chair(t, buildup.Start(buildup.PulledOver))}
	c := cloth.New("sprig")
	c.Name = "Fern sprig"
	w, d := size(f.Seats[0], buildup.PartCover)
	f.Cloths = []Cloth{{Cloth: c, Needed: 3000, Blanks: []Blank{{Seat: "a", Name: "Side chair", Piece: "A", Part: buildup.PartCover, W: w, D: d}}}}
	w, d = size(f.Seats[0], buildup.PartFoam)
	f.Foams = []Foam{{Sheet: cloth.Sheet{ID: "f", Name: "Firm", Thickness: 25, Length: 1800, Width: 1200},
		Blanks: []Blank{{Seat: "a", Name: "Side chair", Piece: "A", Part: buildup.PartFoam, W: w, D: d}}}}
	return f
}

func chair(t *testing.T, s buildup.Spec) Seat {
	t.Helper()
	o, faults := seat.FromMeasurements(seat.Measurements{FrontWidth: 470, BackWidth: 430, Depth: 440, FrontBow: 15, FrontRadius: 20, BackRadius: 15})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	r, faults := buildup.Make(o, s, unit.SixteenthInch)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	w, d := o.Size()
	return Seat{ID: "a", Name: "Side chair", Count: 6, Spec: s, Result: r, Width: w, Depth: d}
}

func size(s Seat, p buildup.Part) (w, d unit.Length) {
	b, _ := s.Result.Blank(p)
	return b.Size()
}

// respec rebuilds the only seat with a changed build-up.
func respec(t *testing.T, f *Facts, change func(*buildup.Spec)) {
	t.Helper()
	s := f.Seats[0].Spec
	change(&s)
	f.Seats[0] = chair(t, s)
}

func find(list []Caution, code string) []Caution {
	var out []Caution
	for _, c := range list {
		if c.Code == code {
			out = append(out, c)
		}
	}
	return out
}

// Every code has a case that raises it and one, close beside it, that does
// not.
func TestEveryCode(t *testing.T) {
	cases := []struct {
		code       string
		raise, not func(*Facts)
		seat       bool // names the seat
		goods      bool // names the goods
	}{
		// The computed wrap of the sound seat is 3 in; its path to the staples'
		// line is 3 - 1/2 - 1 + 1/2 = 2 in, without the pull it is 2 1/2 in.
		{CannotReach, fixWrap(t, 1.99), fixWrap(t, 2), true, false},
		{WrapShort, fixWrap(t, 2.49), fixWrap(t, 2.5), true, false},
		{LessPull, fixWrap(t, 2.99), fixWrap(t, 3), true, false},
		{DustShort, func(f *Facts) { respec(t, f, func(s *buildup.Spec) { s.Dust.Inset = unit.In / 2 }) },
			func(f *Facts) { respec(t, f, func(s *buildup.Spec) { s.Dust.Inset = 7 * unit.In / 16 }) }, true, false},
		{FoamSmall, func(f *Facts) { respec(t, f, func(s *buildup.Spec) { s.Oversize = -2 }) },
			func(f *Facts) { respec(t, f, func(s *buildup.Spec) { s.Oversize = 0 }) }, true, false},
		{StaplesThrough, leg(t, 0.5), leg(t, 0.4375), true, false},
		{StaplesLoose, leg(t, 0.18), leg(t, 0.1875), true, false},
		{Binds, inFrame(t, 2.9), inFrame(t, 3), true, false},
		{PackEdge, inFrame(t, 4.59), inFrame(t, 4.58), true, false},
		{OverOldCover, func(f *Facts) { f.Seats[0].OverOldCover = true }, func(f *Facts) {}, true, false},
		{NotFlipped, func(f *Facts) { f.Seats[0].TracedBelow = true },
			func(f *Facts) { f.Seats[0].TracedBelow, f.Seats[0].Flipped = true, true }, true, false},
		{TracedOff, func(f *Facts) { f.Seats[0].Known, f.Seats[0].Traced = 400, 398.4 }, // 1.6 mm, more than 1/16 in
			func(f *Facts) { f.Seats[0].Known, f.Seats[0].Traced = 400, 401.58 }, true, false},
		{JointInFront, func(f *Facts) { f.Seats[0].FrontJoint = true }, func(f *Facts) {}, true, false},
		{BlankTooWide, func(f *Facts) { f.Cloths[0].Cloth.Direction, f.Cloths[0].Cloth.Usable = cloth.OneWay, unit.Some(600) },
			func(f *Facts) { f.Cloths[0].Cloth.Usable = unit.Some(600) }, true, true},
		{FoamTooLarge, func(f *Facts) { f.Foams[0].Sheet.Width = 460 },
			func(f *Facts) { f.Foams[0].Sheet.Width, f.Foams[0].Glued = 460, []string{"a"} }, true, true},
		{TurningAllowed, func(f *Facts) { f.Cloths[0].Cloth.Direction, f.Cloths[0].Cloth.Turning = cloth.OneWay, cloth.AllowHalf },
			func(f *Facts) { f.Cloths[0].Cloth.Turning = cloth.AllowHalf }, false, true},
		{PatternStart, pattern(lay.Centred, true), pattern(lay.Alike, true), false, true},
		{NoRepeatSpare, pattern(lay.Centred, false), pattern(lay.Centred, true), false, true},
		{PhaseAcross, func(f *Facts) { f.Cloths[0].Worst, f.Cloths[0].Best = 3001, 3000 }, func(f *Facts) { f.Cloths[0].Worst, f.Cloths[0].Best = 3000, 3000 }, false, true},
		{MayNotFit, func(f *Facts) { f.Cloths[0].NoRoom = true }, func(f *Facts) {}, false, true},
		{PieceTooShort, func(f *Facts) { f.Cloths[0].Cloth.AtHand, f.Cloths[0].Missing = 2999, 1 }, func(f *Facts) { f.Cloths[0].Cloth.AtHand = 2999 }, false, true},
		{DifferentRolls, func(f *Facts) { f.Seats[0].Lots = []string{"17", "18"} }, func(f *Facts) { f.Seats[0].Lots = []string{"17"} }, true, false},
		{OldFilling, func(f *Facts) { f.KeepOldFilling = true }, func(f *Facts) {}, false, false},
		{Adhesive, func(f *Facts) { f.Adhesive = true }, func(f *Facts) {}, false, false},
		{Stapler, func(f *Facts) {}, func(f *Facts) { f.Seats[0].Result.Staples = unit.Why{} }, false, false},
		{Knives, func(f *Facts) {}, func(f *Facts) { f.Seats[0].Count = 0 }, false, false},
		{FireGeneral, country(""), country("GB"), false, false},
		{FireUK, country("GB"), func(f *Facts) { f.Country, f.Purpose = "GB", Contract }, false, false},
		{FireUKContract, func(f *Facts) { f.Country, f.Purpose = "GB", Contract }, country("GB"), false, false},
		{FireUS, country("US"), country("CA"), false, false},
		{FireEurope, country("FR"), country("US"), false, false},
	}
	texts := words(t)
	tested := map[string]bool{}
	for _, c := range cases {
		tested[c.code] = true
		f := sound(t)
		c.raise(&f)
		got := find(All(f), c.code)
		if len(got) != 1 {
			t.Errorf("%s: raised %d times, want once", c.code, len(got))
			continue
		}
		w := got[0].Where
		if (w.Seat != "") != c.seat || (w.Goods != "") != c.goods {
			t.Errorf("%s: place is %+v", c.code, w)
		}
		if got[0].Key() == "" || !strings.HasPrefix(got[0].Key(), c.code+"/") {
			t.Errorf("%s: key %q", c.code, got[0].Key())
		}
		for _, part := range []string{"title", "text", "remedy"} {
			checkWords(t, texts, "caution."+c.code+"."+part, got[0].Args)
		}
		for _, a := range got[0].Args {
			if l, ok := a.Value.(unit.Length); ok && (math.IsNaN(l.MM()) || l < 0) {
				t.Errorf("%s: %s is %v", c.code, a.Name, l)
			}
		}
		f = sound(t)
		c.not(&f)
		if got := find(All(f), c.code); len(got) != 0 {
			t.Errorf("%s: raised all the same: %+v", c.code, got)
		}
	}
	for _, code := range Codes() {
		if !tested[code] {
			t.Errorf("%s has no test", code)
		}
	}
	if len(All(Facts{})) != 0 {
		t.Errorf("an empty job raises %v", All(Facts{}))
	}
}

func fixWrap(t *testing.T, in float64) func(*Facts) {
	return func(f *Facts) {
		respec(t, f, func(s *buildup.Spec) { s.Cover.Fixed.All = unit.Some(unit.Length(in) * unit.In) })
	}
}

func leg(t *testing.T, in float64) func(*Facts) {
	return func(f *Facts) { respec(t, f, func(s *buildup.Spec) { s.Staples.Leg = unit.Length(in) * unit.In }) }
}

// inFrame sets a gap of the given millimetres on each side; a cover 1 mm thick
// needs 3, and up to 1/16 in more is left alone.
func inFrame(t *testing.T, gap float64) func(*Facts) {
	return func(f *Facts) {
		respec(t, f, func(s *buildup.Spec) {
			s.Kind, s.Cover.Thickness = buildup.DropIn, 1
			s.Frame.Depth = f.Seats[0].Depth + 2*unit.Length(gap)
		})
	}
}

func pattern(rule lay.Phase, spare bool) func(*Facts) {
	return func(f *Facts) {
		c := &f.Cloths[0]
		c.Cloth.Pattern = cloth.Pattern{Along: 200, Across: 200, RuleAlong: rule, RuleAcross: rule}
		c.RepeatSpare = spare
	}
}

func country(code string) func(*Facts) { return func(f *Facts) { f.Country = code } }

func TestPatternMeasuredIsQuiet(t *testing.T) {
	f := sound(t)
	pattern(lay.Centred, true)(&f)
	p := &f.Cloths[0].Cloth.Pattern
	p.FirstAlong = unit.Some(10)
	if got := find(All(f), PatternStart); len(got) != 1 || got[0].Where.Field != "first_across" {
		t.Errorf("across is still unknown: got %+v", got)
	}
	p.FirstAcross = unit.Some(10)
	if got := find(All(f), PatternStart); len(got) != 0 {
		t.Errorf("both measured: got %+v", got)
	}
}

func TestRailroadedWidth(t *testing.T) {
	f := sound(t)
	c := &f.Cloths[0]
	c.Blanks[0].W, c.Blanks[0].D = 1500, 600 // a bench, on 1346 mm
	c.Cloth.Direction = cloth.OneWay
	if len(find(All(f), BlankTooWide)) != 1 {
		t.Error("up the roll the bench does not fit across")
	}
	c.Cloth.Lie = cloth.RailroadedLeft
	if len(find(All(f), BlankTooWide)) != 0 {
		t.Error("railroaded it does")
	}
	c.Cloth.Lie, c.Cloth.Direction = cloth.UpTheRoll, cloth.Plain
	if len(find(All(f), BlankTooWide)) != 0 {
		t.Error("plain cloth may be turned")
	}
}

func TestMostSeriousFirst(t *testing.T) {
	f := sound(t)
	fixWrap(t, 1.5)(&f)
	f.Seats[0].OverOldCover = true
	f.KeepOldFilling = true
	got := All(f)
	if !slices.IsSortedFunc(got, func(a, b Caution) int { return int(b.Severity) - int(a.Severity) }) {
		t.Errorf("out of order: %+v", got)
	}
	if got[0].Code != OldFilling || got[1].Code != CannotReach {
		t.Errorf("first two: %s, %s", got[0].Code, got[1].Code)
	}
}

// No words may say that anything complies, and all safety words hand the
// question on.
func TestNoStatementOfCompliance(t *testing.T) {
	texts := words(t)
	for _, code := range []string{OldFilling, Adhesive, Stapler, FireGeneral, FireUK, FireUKContract, FireUS, FireEurope} {
		all := texts["caution."+code+".text"] + " " + texts["caution."+code+".remedy"]
		if !strings.Contains(strings.ToLower(all), "local codes") || !strings.Contains(all, "qualified people") {
			t.Errorf("%s does not hand over to local codes and qualified people", code)
		}
	}
	claim := regexp.MustCompile(`(?i)\b(complies with|is compliant|meets the (rules|regulations|standard)|conforms|certified)\b`)
	for key, text := range texts {
		if strings.HasPrefix(key, "caution.") && claim.MatchString(text) {
			t.Errorf("%s makes a claim: %q", key, text)
		}
	}
}

var root = func() string {
	dir, _ := os.Getwd()
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			panic("no go.mod above the test")
		}
		dir = up
	}
}()

func words(t *testing.T) map[string]string {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(root, "assets", "words", "en.json"))
	if err != nil {
		t.Fatal(err)
	}
	var out map[string]string
	if err := json.Unmarshal(raw, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

var holes = regexp.MustCompile(`\{([a-z_0-9]+)[:|}]`)

// checkWords wants a text for the key whose every place has an argument.
func checkWords(t *testing.T, texts map[string]string, key string, args []unit.Arg) {
	t.Helper()
	text, ok := texts[key]
	if !ok || text == "" {
		t.Errorf("%s has no words", key)
		return
	}
	for _, m := range holes.FindAllStringSubmatch(text, -1) {
		if !slices.ContainsFunc(args, func(a unit.Arg) bool { return a.Name == m[1] }) {
			t.Errorf("%s asks for {%s}, which is not among %v", key, m[1], args)
		}
	}
}

// The constants named Code... and Why... of the packages that reckon are all
// in the catalogue.
func TestEveryConstantHasWords(t *testing.T) {
	texts := words(t)
	seen := 0
	for _, pkg := range []string{"cloth", "buildup", "order"} {
		set, err := parser.ParseDir(token.NewFileSet(), filepath.Join(root, "engine", pkg), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range set[pkg].Files {
			ast.Inspect(file, func(n ast.Node) bool {
				v, ok := n.(*ast.ValueSpec)
				if !ok || len(v.Values) != len(v.Names) {
					return true
				}
				for i, name := range v.Names {
					lit, ok := v.Values[i].(*ast.BasicLit)
					if !ok || lit.Kind != token.STRING {
						continue
					}
					text, _ := strconv.Unquote(lit.Value)
					key := ""
					switch {
					case strings.HasPrefix(name.Name, "Why"):
						key = "why." + text
					case strings.HasPrefix(name.Name, "Note"):
						key = "quote." + text
					case strings.HasPrefix(name.Name, "Code") && strings.Contains(text, "."):
						key = "fault." + text
					case strings.HasPrefix(name.Name, "Code"):
						key = "item." + text
					default:
						continue
					}
					seen++
					if texts[key] == "" {
						t.Errorf("%s.%s: no words under %s", pkg, name.Name, key)
					}
				}
				return true
			})
		}
	}
	if seen < 100 {
		t.Errorf("only %d constants read", seen)
	}
}

// The terms of real figures have every argument that their words ask for.
func TestTermsHaveTheirArguments(t *testing.T) {
	texts := words(t)
	check := func(w unit.Why) {
		for _, x := range w.Terms {
			checkWords(t, texts, "why."+x.Code, x.Args)
		}
	}
	for _, kind := range []buildup.Kind{buildup.PulledOver, buildup.DropIn, buildup.BoxedPad} {
		s := buildup.Start(kind)
		s.Foam = append(s.Foam, buildup.Layer{Thickness: 10, Inset: 50})
		s.Edge, s.EdgeSize = buildup.RoundedEdge, 10
		s.Wadding.Thickness, s.Barrier.Use, s.Lining.Use = 6, true, true
		s.Barrier.Thickness, s.Lining.Thickness, s.Cover.Thickness = 1, 1, 1
		s.Staples.Leg, s.Dome = 10, 5
		s.Frame = buildup.Frame{Width: 480, Depth: 450}
		s.Webbing = buildup.Webbing{Across: 2, Along: 2, Fold: 25, Stretch: 1.2}
		s.Welt = buildup.Welt{Rows: 2, Cord: 4, Seam: 12}
		s.Pad.Zip, s.Pad.Ties, s.Pad.TieLength, s.Pad.TieWidth, s.Pad.Squeeze = true, 4, 300, 30, 10
		for _, fixed := range []bool{false, true} {
			if fixed {
				s.Cover.Fixed.All = unit.Some(70)
			}
			for _, w := range chair(t, s).Result.Whys() {
				check(w.Why)
			}
		}
	}
	c := cloth.New("c")
	c.Spare, c.Pattern = 100_000, cloth.Pattern{Along: 200, RuleAlong: lay.Centred}
	check(cloth.Buy(c, 1000))
	w, _ := cloth.PatternedCut(500, 200)
	check(w)
	o, _ := order.TakeOff(order.Input{
		Cloths:   []order.ClothNeed{{Cloth: c, Length: 1000, Have: 500}, {Cloth: cloth.Cloth{CustomersOwn: true}, Length: 5}},
		Foam:     []order.SheetNeed{{Sheets: 2, Pieces: 5, Have: 1}, {Sheets: 2, Pieces: 5, GlueUps: 1, Sheet: cloth.Sheet{Price: 5}}},
		Staples:  []order.StapleNeed{{Seats: []order.SeatStaples{{Each: 70, Count: 6}}, Spoiled: 100_000, Box: 1000, Each: 5, Have: 3}},
		Adhesive: []order.AdhesiveNeed{{Faces: 1e6, Joints: 1e5, Coverage: 5e6, Each: 100}},
		Extras:   []order.Extra{{Count: 2, Each: 100}},
		Labour:   []order.LabourNeed{{Count: 2, Each: 100}, {Count: 2, Minutes: 30, Hourly: 100}},
		Tax:      75_000, Deposit: 400_000,
	})
	for _, list := range [][]order.Item{o.Items, o.Labour} {
		for _, it := range list {
			check(it.Buy)
			check(it.Price)
		}
	}
	for _, n := range order.MakeQuote(order.QuoteInput{
		Seats:  []order.QuoteSeat{{Name: "a", Count: 1, Foam: 25, Wadding: true, Welt: true, Dust: true}},
		Cloths: []order.QuoteCloth{{CustomersOwn: true}, {Along: 100}},
	}).Notes {
		checkWords(t, texts, "quote."+n.Code, n.Args)
	}
	b, _ := order.MakeBill(order.BillInput{Order: o, Actual: []order.Actual{{Code: order.CodeCover, Goods: "c"}},
		Changes: []order.Change{{Text: "x", Amount: 5}}, Received: 5})
	for _, w := range []unit.Why{b.Items[0].Buy, b.Changed, b.Totals.Net, b.Totals.Balance} {
		check(w)
	}
	tt := o.Totals
	for _, w := range []unit.Why{tt.Materials, tt.Labour, tt.Net, tt.Tax, tt.Total, tt.Deposit, tt.Balance} {
		check(w)
	}
}
