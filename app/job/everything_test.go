package job

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// everything is a job in which every key of every object is set to something
// that is not its empty value, with a key of tomorrow in every object.
func everything(t testing.TB) Job {
	t.Helper()
	j := New(random(9), testNames, UnitsInches)
	s := &j.Seats[0]
	s.Build.Layers = []Layer{{ID: "layer00001", Foam: j.Foams[0].ID, Thickness: "1 in", Extra: tomorrow("layer")}}
	j.Cloths[0].Flaws = []Flaw{{ID: "flaw000001", From: "1 in", To: "2 in", Near: "0 in", Far: "3 in", Extra: tomorrow("flaw")}}
	j.Locked = []Lock{{Goods: j.Cloths[0].ID, Seat: s.ID, Part: PartCover, Piece: 1, Sub: 2, State: Cut, Sheet: 1, Turn: 3, Along: "12.5 in", Over: "0.25 in", On: j.Cloths[0].ID, Extra: tomorrow("lock")}}
	s.Own = []OwnSeat{{ID: "own0000001", Number: 1, Extra: tomorrow("own")}}
	s.Outline.Holes = []Hole{{ID: "hole000001", Across: "1 in", FromFront: "2 in", Extra: tomorrow("hole")}}
	s.Outline.Points = []TracePoint{{Across: "1 in", Left: true, Back: "2 in", Before: true, Bow: "3 mm", Hollow: true, Radius: "4 mm", Edge: EdgeLeft, Extra: tomorrow("point")}}
	j.Cloths[0].Offcuts = []Offcut{{ID: "offcut0001", Shelf: "shelf00001", Length: "1 yd", Width: "20 in", Extra: tomorrow("offcut")}}
	j.Cloths[0].Made = []Offcut{{ID: "offcut0002", Shelf: "shelf00002", Length: "1 yd", Width: "20 in"}}
	j.Foams[0].Offcuts = []Offcut{{ID: "offcut0003", Shelf: "shelf00003", Length: "1 yd", Width: "20 in"}}
	j.Foams[0].Made = []Offcut{{ID: "offcut0004", Shelf: "shelf00004", Length: "1 yd", Width: "20 in"}}
	j.Cloths[0].CutDone, j.Foams[0].CutDone = true, true
	j.GlueUps = []GlueUp{{ID: "glue000001", Seat: s.ID, Layer: 1, Joint: JointSideToSide, First: "9 in", Extra: tomorrow("glue")}}
	j.Extras = []ExtraLine{{ID: "extra00001", Name: "Castors", Count: 4, Extra: tomorrow("extra")}}
	j.Changes = []AgreedChange{{ID: "change0001", Text: "Two more", Extra: tomorrow("change")}}
	j.Actuals = []Actual{{ID: "actual0001", Line: "cover", Goods: string(j.Cloths[0].ID), Extra: tomorrow("actual")}}
	j.Dismissed = []Dismissal{{ID: "dismiss001", Caution: "knives////", Note: "known", Extra: tomorrow("dismissal")}}
	j.Terms.Extra = tomorrow("terms")
	j.Extra, j.Prices.Extra, s.Extra, s.Outline.Extra, s.Build.Extra = tomorrow("job"), tomorrow("prices"), tomorrow("seat"), tomorrow("outline"), tomorrow("build")
	j.Cloths[0].Swatch.Extra = tomorrow("swatch")
	j.Cloths[0].Extra, j.Foams[0].Extra = tomorrow("cloth"), tomorrow("foam")
	objects := map[string]ID{"job": j.ID, "seat": s.ID, "layer": "layer00001", "cloth": j.Cloths[0].ID, "flaw": "flaw000001", "foam": j.Foams[0].ID,
		"own": "own0000001", "hole": "hole000001", "offcut": "offcut0001", "glue-up": "glue000001", "extra": "extra00001", "change": "change0001",
		"actual": "actual0001", "dismissal": "dismiss001"}
	for _, f := range Fields() {
		text := map[FieldKind]string{TakesText: "Ærø “x” <&>\\", TakesLength: "0.375 in", TakesShare: "12.5 %", TakesMoney: "3.50", TakesNumber: "2",
			TakesSwitch: "true", TakesGoods: string(j.Cloths[0].ID)}[f.Kind]
		switch f.Path {
		case "note":
			if f.Object != "flaw" && f.Object != "hole" {
				text = "two\n\tlines"
			}
		case "country":
			text = "US"
		case "currency":
			text = "USD"
		case "firmness":
			text = "35 lbf"
		case "density":
			text = "2.5 lb/ft3"
		case "swatch.ground", "swatch.figure":
			text = "#2f7f78"
		case "swatch.picture":
			text = string(PictureIDOf([]byte("a picture")))
		case "swatch.corners", "swatch.motif":
			text = "0.1 0.2, 0.9 0.25"
		case "foam":
			text = string(j.Foams[0].ID)
		}
		if words := j.Choices(objects[f.Object], f.Path); words != nil {
			text = words[len(words)-1]
		}
		k, flt := j.Set(objects[f.Object], f.Path, text)
		if flt != nil {
			t.Fatalf("%s %s: %v", f.Object, f.Path, flt)
		}
		j = k
	}
	return j
}

func tomorrow(where string) Extra {
	return Extra{"tomorrow": json.RawMessage(`{"in":"` + where + `","of":[1,2.50,-0,1e400,null,"\u00e9\ud83d\ude00",{}]}`), "also": json.RawMessage(`[]`)}
}

// TestEverythingIsKept writes and reads a job with every key and unknown keys
// in every object.
func TestEverythingIsKept(t *testing.T) {
	j := everything(t)
	data := Encode(j)
	back, err := Decode(data)
	if err != nil {
		t.Fatal(err)
	}
	if again := Encode(back); !bytes.Equal(again, data) {
		t.Errorf("written again it differs:\n%s\n%s", data, again)
	}
	if !reflect.DeepEqual(back, j) {
		t.Error("read back it is another job")
	}
	for _, where := range []string{"job", "prices", "seat", "outline", "build", "layer", "cloth", "flaw", "foam", "lock", "own", "hole", "offcut", "point",
		"glue", "extra", "change", "actual", "dismissal", "terms", "swatch"} {
		if !strings.Contains(string(data), `"in": "`+where+`"`) {
			t.Errorf("the unknown keys of %s are lost", where)
		}
	}
	if !strings.Contains(string(data), "1e400") || !strings.Contains(string(data), "2.50") {
		t.Error("unknown numbers were changed")
	}
	// The parts of a history hold as much.
	x, chunks := Split(j)
	g := &Joiner{Get: func(id ChunkID) ([]byte, error) {
		for _, c := range chunks {
			if c.ID == id {
				return c.Data, nil
			}
		}
		return nil, unit.Fault{Code: CodeChunk}
	}}
	if k, err := g.Join(x); err != nil || !reflect.DeepEqual(k, j) {
		t.Errorf("taken apart and put together it is another job: %v", err)
	}
	for _, c := range chunks {
		g.Get = func(ChunkID) ([]byte, error) { return bytes.ToUpper(c.Data), nil }
		g.made = nil
		if _, err := g.Join(x); err == nil {
			t.Error("chunks that are not what their names say were taken")
		}
	}
}

// TestEveryKeyIsStrict walks the keys of a full file and puts something of the
// wrong kind at each: the file is refused, with that place named.
func TestEveryKeyIsStrict(t *testing.T) {
	var whole any
	dec := json.NewDecoder(bytes.NewReader(Encode(everything(t))))
	dec.UseNumber()
	if err := dec.Decode(&whole); err != nil {
		t.Fatal(err)
	}
	tried := 0
	var walk func(at any, path string)
	try := func(set func(any), old any, path string) {
		for _, bad := range []any{nil, []any{1}, map[string]any{"a": 1}, -1.5, "\u0007", true} {
			switch old.(type) {
			case bool:
				if _, is := bad.(bool); is {
					continue
				}
			case string:
				if s, is := bad.(string); is && s != "\u0007" {
					continue
				}
			}
			if _, is := old.(map[string]any); is {
				if _, is := bad.(map[string]any); is && (path == "prices" || path == "terms" || strings.HasSuffix(path, "build_up") || strings.HasSuffix(path, "swatch")) {
					continue // an object of unknown keys is an object
				}
			}
			set(bad)
			data, err := json.Marshal(whole)
			if err != nil {
				t.Fatal(err)
			}
			tried++
			_, err = Decode(data)
			f, ok := err.(unit.Fault)
			if !ok || path != "format" && !strings.HasPrefix(f.Where.Field, path) {
				t.Errorf("%v at %s: got %v", bad, path, err)
			}
		}
		set(old)
	}
	walk = func(at any, path string) {
		m, ok := at.(map[string]any)
		if !ok {
			return
		}
		for k, v := range m {
			if k == "tomorrow" || k == "also" {
				continue
			}
			here := join(path, k)
			try(func(x any) { m[k] = x }, v, here)
			if list, ok := v.([]any); ok {
				for i, item := range list[:min(1, len(list))] {
					try(func(x any) { list[i] = x }, item, here+"[0]")
					walk(item, here+"[0]")
				}
			}
			walk(v, here)
		}
	}
	walk(whole, "")
	if tried < 800 {
		t.Errorf("only %d wrong values tried", tried)
	}
}

func TestChoicesMeanTheEnginesConstants(t *testing.T) {
	for _, c := range []struct {
		word string
		got  int
		want int
	}{
		{"use cover", indexOf(UseCover), int(cloth.Cover)}, {"use contrast", indexOf(UseContrast), int(cloth.Contrast)},
		{"use dust cloth", indexOf(UseDustCloth), int(cloth.DustCloth)}, {"use wadding", indexOf(UseWadding), int(cloth.Wadding)},
		{"use lining", indexOf(UseLining), int(cloth.Lining)}, {"use fire barrier", indexOf(UseFireBarrier), int(cloth.FireBarrier)},
		{"plain", indexOf(PlainCloth), int(cloth.Plain)}, {"set direction", indexOf(SetDirection), int(cloth.SetDirection)}, {"one way", indexOf(OneWay), int(cloth.OneWay)},
		{"as the cloth", indexOf(TurnAsCloth), int(cloth.AsTheCloth)}, {"never", indexOf(TurnNever), int(cloth.NeverTurn)},
		{"half turns", indexOf(TurnHalf), int(cloth.AllowHalf)}, {"quarter turns", indexOf(TurnQuarters), int(cloth.AllowQuarter)},
		{"up the roll", indexOf(UpTheRoll), int(cloth.UpTheRoll)}, {"top at cut end", indexOf(TopAtCutEnd), int(cloth.TopAtCutEnd)},
		{"railroaded left", indexOf(RailroadedLeft), int(cloth.RailroadedLeft)}, {"railroaded right", indexOf(RailroadedRight), int(cloth.RailroadedRight)},
		{"free", indexOf(RuleFree), int(lay.Free)}, {"alike", indexOf(RuleAlike), int(lay.Alike)}, {"centred", indexOf(RuleCentred), int(lay.Centred)},
		{"between columns", indexOf(BetweenColumns), int(cloth.BetweenColumns)}, {"on one level", indexOf(OnOneLevel), int(cloth.OnOneLevel)},
		{"pulled over", int(PulledOver.EngineKind()), int(buildup.PulledOver)}, {"drop-in", int(DropIn.EngineKind()), int(buildup.DropIn)},
		{"boxed pad", int(BoxedPad.EngineKind()), int(buildup.BoxedPad)}, {"stool", int(Stool.EngineKind()), int(buildup.Stool)},
	} {
		if c.got != c.want {
			t.Errorf("%s: the engine's constant %d, want %d", c.word, c.got, c.want)
		}
	}
}

// TestConversions: a known job comes out in millimetres, minor units and
// parts per million. Worked by hand: 1 in = 25.4 mm.
func TestConversions(t *testing.T) {
	j := New(random(1), testNames, UnitsInches)
	s := j.Seats[0]
	s.Outline.FrontWidth, s.Outline.Depth = "17 1/2 in", "44,5 cm"
	s.Build.FixedFront, s.Build.Compression, s.Build.EdgeSize, s.Build.FoamEdge, s.Build.FoamSmaller = "5 in", "10 %", "3/8 in", RoundedEdge, true
	s.Build.Layers = []Layer{{ID: "layer00001", Foam: "foam000002", Thickness: "1 in", Inset: "2 in", Tapered: true}}
	m := s.Outline.Measurements()
	if math.Abs(m.FrontWidth.MM()-444.5) > 1e-9 || math.Abs(m.Depth.MM()-445) > 1e-9 {
		t.Errorf("front %v, depth %v", m.FrontWidth.MM(), m.Depth.MM())
	}
	b := s.Spec()
	if f := b.Cover.Fixed.Front; !f.Set || math.Abs(f.Value.MM()-127) > 1e-9 || b.Cover.Fixed.All.Set || b.Compression != 0.1 ||
		b.Edge != buildup.RoundedEdge || math.Abs(b.EdgeSize.MM()-9.525) > 1e-9 || math.Abs(b.Oversize.MM()+12.7) > 1e-9 {
		t.Errorf("build-up %+v", b)
	}
	if len(b.Foam) != 2 || b.Foam[1].Goods != "foam000002" || !b.Foam[1].Tapered || b.Foam[0].Goods != string(j.Foams[0].ID) {
		t.Errorf("foam %+v", b.Foam)
	}
	c := j.Cloths[0]
	c.Spare, c.Price, c.Drop, c.RepeatAlong = "7.5 %", "34,5", ThirdDrop, "27 in"
	c.Flaws = []Flaw{{ID: "flaw000001", From: "1 in", To: "3 in", Near: "2 in", Far: "4 in"}}
	g := c.Goods()
	if g.Spare != 75_000 || g.Price != 3450 || g.Pattern.Drop != 1.0/3 || math.Abs(g.UsableWidth().In()-53) > 1e-9 || math.Abs(g.Step.Yd()-0.125) > 1e-12 {
		t.Errorf("cloth %+v", g)
	}
	if b := g.Flaws[0].Box; math.Abs(b.Min.X-25.4) > 1e-9 || math.Abs(b.Max.Y-101.6) > 1e-9 {
		t.Errorf("flaw %+v", b)
	}
	f := j.Foams[0]
	f.Firmness, f.FirmnessAt, f.Density = "35 lbf", 25, "2,5 lb/ft3"
	// NIST SP 811, appendix B: 1 lbf = 4.448222 N, 1 lb/ft3 = 16.01846 kg/m3.
	if sh := f.Sheet(); math.Abs(float64(sh.Firmness.Force)-35*4.448222) > 1e-4 || math.Abs(float64(sh.Density)-2.5*16.01846) > 1e-4 || sh.Firmness.Percent != 25 {
		t.Errorf("foam %+v", f.Sheet())
	}
}

func TestValidateNamesThePlace(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(j *Job)
		code  string
		field string
		seat  bool
	}{
		{"a bow deeper than half the width", func(j *Job) { j.Seats[0].Outline.FrontBow = "9 in" }, "seat.bow-too-big", "outline.front_bow", true},
		{"no depth", func(j *Job) { j.Seats[0].Outline.Depth = "" }, "", "outline.depth", true},
		{"a radius as large as the foam is not", func(j *Job) { j.Seats[0].Build.FoamEdge, j.Seats[0].Build.EdgeSize = RoundedEdge, "2 in" }, "buildup.radius-too-big", "build_up.edge_size", true},
		{"no board", func(j *Job) { j.Seats[0].Build.Board = "" }, "buildup.missing", "build_up.board", true},
		{"a layer without thickness", func(j *Job) {
			j.Seats[0].Build.Layers = []Layer{{ID: "layer00001", Foam: j.Foams[0].ID}}
		}, "buildup.missing", "build_up.layers[0].thickness", true},
		{"cloth gone", func(j *Job) { j.Seats[0].Cover = "nobody0000" }, CodeNoGoods, "cover", true},
		{"no cover", func(j *Job) { j.Seats[0].Cover = "" }, CodeNoCover, "cover", true},
		{"no foam", func(j *Job) { j.Seats[0].Foam = "" }, CodeNoFoam, "foam", true},
		{"a cloth of selvedges", func(j *Job) { j.Cloths[0].SelvedgeNear = "60 in" }, "goods.no-width-left", "selvedge_near", false},
		{"a flaw backwards", func(j *Job) {
			j.Cloths[0].Flaws = []Flaw{{ID: "flaw000001", From: "3 in", To: "2 in", Near: "0 in", Far: "3 in"}}
		}, "", "flaws", false},
		{"a value that cannot be read", func(j *Job) { j.Cloths[0].Width = "wide" }, unit.CodeJunk, "width", false},
		{"a count of none", func(j *Job) { j.Seats[0].Count = 0 }, CodeRange, "count", true},
		{"one ID twice", func(j *Job) { j.Foams[0].ID = j.Seats[0].ID }, CodeSameID, "foams[0].id", false},
		{"a lock without its seat", func(j *Job) {
			j.Locked = []Lock{{Goods: j.Cloths[0].ID, Seat: "nobody0000", Part: PartCover, Piece: 1, State: Locked, Along: "0 in", Over: "0 in"}}
		}, CodeLockSeat, "locked[0]", false},
		{"no seats", func(j *Job) { j.Seats = nil }, CodeNoSeats, "seats", false},
	} {
		j := New(random(1), testNames, UnitsInches)
		if bad := j.Validate(); len(bad) > 0 {
			t.Fatalf("a new job has a fault: %v", bad)
		}
		c.spoil(&j)
		bad := j.Validate()
		if len(bad) == 0 || c.code != "" && bad[0].Code != c.code || bad[0].Where.Field != c.field || (bad[0].Where.Seat == string(j.seatID())) != c.seat {
			t.Errorf("%s: got %v at %+v, want %s at %s", c.name, bad, first(bad), c.code, c.field)
		}
	}
}

func (j Job) seatID() ID {
	if len(j.Seats) == 0 {
		return "none"
	}
	return j.Seats[0].ID
}

func first(f []unit.Fault) unit.Where {
	if len(f) == 0 {
		return unit.Where{}
	}
	return f[0].Where
}

func TestNewJobsAreWell(t *testing.T) {
	for _, u := range []Units{UnitsInches, UnitsDecimal, UnitsCM, UnitsMM} {
		j := New(random(1), testNames, u)
		for _, k := range []SeatKind{PulledOver, DropIn, BoxedPad, Stool} {
			j.Seats[0] = j.Seats[0].WithKind(k, u)
			if bad := j.Validate(); len(bad) > 0 {
				t.Errorf("%s, %s: %v", u, k, bad)
			}
		}
		if w := j.Seats[0].Outline.FrontWidth; !strings.HasSuffix(string(w), " "+u.Unit().Symbol()) {
			t.Errorf("%s: the front width is %q", u, w)
		}
		if j.Step.Length() <= 0 || (j.Step == StepMillimetre) != u.Metric() {
			t.Errorf("%s: marking step %s", u, j.Step)
		}
	}
}

func TestLaysTravel(t *testing.T) {
	j := New(random(1), testNames, UnitsInches)
	s := SavedLay{Problem: lay.ProblemID{1, 2, 255}, Extra: tomorrow("lay"), Lay: lay.Lay{Length: 1234.5678901234567, Sheets: 2, Bound: 1000, SheetBound: 1, Proved: true,
		Seed: math.MaxUint64, Evaluations: math.MaxInt64, Places: []lay.Place{{Kind: 1, Copy: 2, Bin: 3, Sheet: 4, Turn: 3, At: geom.P(1.0/3, -1e-9)}, {}}}}
	data := EncodeFile(File{Job: j, Lays: []SavedLay{s}})
	f, err := DecodeFile(data)
	if err != nil || !reflect.DeepEqual(f.Lays, []SavedLay{s}) || !bytes.Equal(EncodeFile(f), data) {
		t.Errorf("got %+v %v", f.Lays, err)
	}
	if k, err := Decode(data); err != nil || !reflect.DeepEqual(k, f.Job) {
		t.Errorf("the job alone: %v", err)
	}
	one, err := DecodeLay(EncodeLay(s))
	if err != nil || !reflect.DeepEqual(one, s) {
		t.Errorf("one lay: %+v %v", one, err)
	}
	good := string(data)
	for _, c := range []struct{ name, from, to, field string }{
		{"problem of another length", `"problem": "0102ff`, `"problem": "02ff`, "lays[0].problem"},
		{"problem in capitals", `"problem": "0102ff`, `"problem": "0102FF`, "lays[0].problem"},
		{"a length of miles", `"length_mm": 1234`, `"length_mm": 1234567891234`, "lays[0]"},
		{"a negative count", `"sheets": 2`, `"sheets": -2`, "lays[0]"},
		{"no seed", `"seed"`, `"sead"`, "lays[0].seed"},
		{"a turn too many", "4, 3, 0.333", "4, 4, 0.333", "lays[0].places[0]"},
		{"a place cut short", "[1, 2, 3,", "[1, 2,", "lays[0].places[0]"},
		{"a text for proved", `"proved": true`, `"proved": "yes"`, "lays[0].proved"},
	} {
		bad := strings.Replace(good, c.from, c.to, 1)
		if bad == good {
			t.Fatalf("%s: nothing replaced", c.name)
		}
		_, err := DecodeFile([]byte(bad))
		if f, ok := err.(unit.Fault); !ok || f.Where.Field != c.field {
			t.Errorf("%s: got %v", c.name, err)
		}
	}
}

func TestIDs(t *testing.T) {
	r := random(1)
	seen := map[ID]bool{}
	for range 20_000 {
		id := NewID(r)
		if !id.Valid() || seen[id] {
			t.Fatalf("%q is no ID, or came twice", id)
		}
		seen[id] = true
	}
	a, b := NewID(r), NewID(r)
	if c := a.Child(b); !c.Valid() || c != a.Child(b) || c == b.Child(a) || c == a.Nth(1) || a.Nth(1) == a.Nth(2) {
		t.Errorf("children of %s: %s %s", a, a.Child(b), a.Nth(1))
	}
	for _, id := range []ID{"", "short", "toolongtoolong", "UPPERCASE0", "with space", "../../../e", "ümlautümla"} {
		if id.Valid() {
			t.Errorf("%q passes as an ID", id)
		}
	}
}

func TestExactly(t *testing.T) {
	for _, l := range []unit.Length{0, 1, 12.7, 1.0 / 3, 1234.56789012345, 25.4 * 17.5} {
		if got, err := Exactly(l).Length(); err != nil || math.Abs(float64(got-l)) > 1e-9 {
			t.Errorf("%v written as %q reads %v %v", l, Exactly(l), got, err)
		}
	}
}

func benchJob(b *testing.B) Job {
	j := New(random(1), testNames, UnitsInches)
	for len(j.Seats) < 24 {
		s := j.Seats[0]
		s.ID = NewID(random(uint64(100 + len(j.Seats))))
		j.Seats = append(j.Seats, s)
	}
	return j
}

func BenchmarkEncode24(b *testing.B) {
	j := benchJob(b)
	for b.Loop() {
		Encode(j)
	}
}

func BenchmarkDecode24(b *testing.B) {
	data := Encode(benchJob(b))
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Decode(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkValidate24(b *testing.B) {
	j := benchJob(b)
	for b.Loop() {
		j.Validate()
	}
}

func BenchmarkSet24(b *testing.B) {
	j := benchJob(b)
	for b.Loop() {
		j.Set(j.Seats[7].ID, "outline.depth", "17 1/2")
	}
}
