package job

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"strings"
	"testing"

	"slipseat/engine/unit"
)

func random(seed uint64) func([]byte) {
	r := rand.New(rand.NewPCG(seed, 1))
	return func(b []byte) {
		for i := range b {
			b[i] = byte(r.IntN(256))
		}
	}
}

var testNames = Names{Job: "Reading room", Seat: "Side chair", Cover: "Cover cloth", DustCloth: "Dust cloth", Foam: "Foam"}

func TestRoundTrip(t *testing.T) {
	for _, u := range []Units{UnitsInches, UnitsCM} {
		j := New(random(1), testNames, u)
		data := Encode(j)
		k, err := Decode(data)
		if err != nil {
			t.Fatal(err)
		}
		if again := Encode(k); !bytes.Equal(again, data) {
			t.Errorf("written again it differs:\n%s\n%s", data, again)
		}
		if !json.Valid(data) {
			t.Errorf("not JSON: %s", data)
		}
	}
}

func TestUnknownKeysAreKept(t *testing.T) {
	j := New(random(1), testNames, UnitsInches)
	data := string(Encode(j))
	data = strings.Replace(data, `"from": "measured"`, `"from": "measured", "zz_later": {"a": [1, 2.50, "x"]}`, 1)
	data = strings.Replace(data, `"format": 1`, `"format": 1, "aa_new": null`, 1)
	k, err := Decode([]byte(data))
	if err != nil {
		t.Fatal(err)
	}
	k, f := k.Set(k.Seats[0].ID, "outline.depth", "17")
	if f != nil {
		t.Fatal(f)
	}
	out := string(Encode(k))
	for _, want := range []string{`"zz_later"`, `2.50`, `"aa_new": null`, `"depth": "17 in"`} {
		if !strings.Contains(out, want) {
			t.Errorf("%s is lost:\n%s", want, out)
		}
	}
	again, err := Decode([]byte(out))
	if err != nil || string(Encode(again)) != out {
		t.Errorf("not stable: %v", err)
	}
}

func TestDecodeRefuses(t *testing.T) {
	good := string(Encode(New(random(1), testNames, UnitsInches)))
	for _, c := range []struct{ name, data, code, where string }{
		{"empty", "", CodeNotJSON, ""},
		{"text", "hello", CodeNotJSON, ""},
		{"list", "[]", CodeNotJSON, ""},
		{"two values", good + "{}", CodeNotJSON, ""},
		{"cut short", good[:len(good)/2], CodeNotJSON, ""},
		{"newer", strings.Replace(good, `"format": 1`, `"format": 2`, 1), CodeNewer, ""},
		{"number for a length", strings.Replace(good, `"15 1/2 in"`, `16`, 1), CodeType, "seats[0].outline.back_width"},
		{"length that is none", strings.Replace(good, `"15 1/2 in"`, `"wide"`, 1), unit.CodeJunk, "seats[0].outline.back_width"},
		{"unknown choice", strings.Replace(good, `"pulled-over"`, `"throne"`, 1), CodeChoice, "seats[0].kind"},
		{"missing key", strings.Replace(good, `"seats"`, `"seets"`, 1), CodeMissing, "seats"},
		{"null for a count", strings.Replace(good, `"count": 1`, `"count": null`, 1), CodeType, "seats[0].count"},
		{"object for a list", strings.Replace(good, `"prices": {`, `"locked": {}, "prices": {`, 1), CodeType, "locked"},
		{"format missing", strings.Replace(good, `"format": 1`, `"Format": 1`, 1), CodeNoFormat, ""},
		{"format 0", strings.Replace(good, `"format": 1`, `"format": 0`, 1), CodeNoFormat, ""},
		{"format as text", strings.Replace(good, `"format": 1`, `"format": "1"`, 1), CodeNoFormat, ""},
		{"key twice", strings.Replace(good, `"count": 1`, `"count": 1, "count": 2`, 1), CodeTwice, "seats[0].count"},
		{"count of 0", strings.Replace(good, `"count": 1`, `"count": 0`, 1), CodeFileRange, "seats[0].count"},
		{"count with a fraction", strings.Replace(good, `"count": 1`, `"count": 1.5`, 1), CodeType, "seats[0].count"},
		{"count beyond all", strings.Replace(good, `"count": 1`, `"count": 1e99`, 1), CodeType, "seats[0].count"},
		{"length without its unit", strings.Replace(good, `"15 1/2 in"`, `"15 1/2"`, 1), CodeType, "seats[0].outline.back_width"},
		{"six metres of chair", strings.Replace(good, `"15 1/2 in"`, `"6 m"`, 1), CodeTooLarge, "seats[0].outline.back_width"},
		{"share of 120 %", strings.Replace(good, `"10 %"`, `"120 %"`, 1), CodeShare, "prices.staples_spoiled"},
		{"bad ID", strings.Replace(good, `"id": "`, `"id": "../`, 1), CodeBadID, "id"},
		{"no ID", strings.Replace(good, string(New(random(1), testNames, UnitsInches).ID), "", 1), CodeMissing, "id"},
		{"sign in a name", strings.Replace(good, `"Side chair"`, `"Side\u0007chair"`, 1), CodeSign, "seats[0].name"},
		{"too deep", `{"format":1,"a":` + strings.Repeat("[", 40) + strings.Repeat("]", 40) + `}`, CodeTooDeep, ""},
		{"broken letters", strings.Replace(good, "Side chair", "Side\xffchair", 1), CodeNotJSON, ""},
	} {
		_, err := Decode([]byte(c.data))
		f, ok := err.(unit.Fault)
		if !ok || f.Code != c.code || c.where != "" && f.Where.Field != c.where {
			t.Errorf("%s: got %v, want %s at %s", c.name, err, c.code, c.where)
		}
	}
	j, err := Decode([]byte(good))
	if err != nil {
		t.Fatal(err)
	}
	j.Foams[0].ID = j.Seats[0].ID
	if _, err := Decode(Encode(j)); err == nil || err.(unit.Fault).Code != CodeSameID {
		t.Errorf("one ID twice: got %v", err)
	}
}

func TestSetKeepsWhatWasTyped(t *testing.T) {
	j := New(random(1), testNames, UnitsInches)
	id := j.Seats[0].ID
	for _, c := range []struct{ field, typed, want string }{
		{"outline.front_width", "18 1/2", "18 1/2 in"},
		{"outline.front_width", "47 cm", "47 cm"},
		{"outline.front_width", "18½", "18½ in"},
		{"build_up.compression", "10", "10 %"},
		{"count", "6", "6"},
		{"name", "  Side chair ", "Side chair"},
		{"build_up.wadding_covers_board_edge", "true", "true"},
		{"kind", "drop-in", "drop-in"},
		{"build_up.fixed_wrap", "", ""},
	} {
		k, f := j.Set(id, c.field, c.typed)
		if f != nil {
			t.Errorf("%s %q: %v", c.field, c.typed, f)
			continue
		}
		if got, ok := k.Get(id, c.field); !ok || got != c.want {
			t.Errorf("%s %q: got %q, want %q", c.field, c.typed, got, c.want)
		}
	}
	if w, _ := j.Get(id, "outline.front_width"); w != "17 1/2 in" {
		t.Errorf("the first snapshot changed to %q", w)
	}
	for _, c := range []struct{ field, typed, code string }{
		{"outline.front_width", "wide", unit.CodeJunk}, {"count", "-1", CodeRange}, {"count", "many", CodeNumber},
		{"kind", "throne", CodeChoice}, {"no.such", "1", CodeNoField}, {"id", "x", CodeNoField},
	} {
		if _, f := j.Set(id, c.field, c.typed); f == nil || f.Code != c.code {
			t.Errorf("%s %q: got %v, want %s", c.field, c.typed, f, c.code)
		}
	}
	if _, f := j.Set("nobody", "name", "x"); f == nil || f.Code != CodeNoObject {
		t.Errorf("got %v", f)
	}
}

func TestAmounts(t *testing.T) {
	for text, want := range map[Amount]unit.Money{"34": 3400, "34.5": 3450, "34,05": 3405, "": 0, "0.01": 1} {
		if m, err := text.Money(); err != nil || m != want {
			t.Errorf("%q: got %d %v, want %d", text, m, err, want)
		}
	}
	for _, text := range []Amount{"1.234", "x", "-3", "1.2.3", "99999999999999"} {
		if m, err := text.Money(); err == nil {
			t.Errorf("%q passes as %d", text, m)
		}
	}
	if s, err := Percent("7.5 %").Share(); err != nil || s != 75_000 {
		t.Errorf("7.5 %%: got %d %v", s, err)
	}
}

func TestLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA"} {
		if got := Letter(i); got != want {
			t.Errorf("%d: got %s, want %s", i, got, want)
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add(Encode(New(random(1), testNames, UnitsInches)))
	f.Add(Encode(New(random(2), testNames, UnitsCM)))
	f.Add(Encode(everything(f)))
	f.Add(EncodeFile(File{Job: New(random(3), testNames, UnitsMM), Lays: []SavedLay{{}}}))
	f.Add([]byte(`{"format":1}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		j, err := DecodeFile(data)
		if err != nil {
			if _, ok := err.(unit.Fault); !ok {
				t.Fatalf("error is no fault: %v", err)
			}
			return
		}
		if bad := j.Job.Check(); len(bad) > 0 {
			t.Fatalf("read, but its form is wrong: %v", bad)
		}
		j.Job.Validate() // whatever it says
		once := EncodeFile(j)
		k, err := DecodeFile(once)
		if err != nil {
			t.Fatalf("what was written is refused: %v\n%s", err, once)
		}
		if !bytes.Equal(EncodeFile(k), once) {
			t.Fatalf("written twice it differs:\n%s\n%s", once, EncodeFile(k))
		}
	})
}
