package job

import (
	"bytes"
	"reflect"
	"slices"
	"testing"
)

// A piece is reserved when a job takes it, taken off the shelf when its cloth is
// cut, and all of that is taken back by undo.
func TestShelfChanges(t *testing.T) {
	plain := New(random(1), testNames, UnitsInches)
	piece := ShelfPiece{ID: "shelf00001", Goods: "Fern sprig", Origin: "Hall chairs", Length: "1 yd", Width: "30 in", Lot: "7"}
	taken := plain
	taken.Cloths = slices.Clone(plain.Cloths)
	taken.Cloths[0].Offcuts = []Offcut{piece.Offcut("offcut0001")}
	cut := taken
	cut.Cloths = slices.Clone(taken.Cloths)
	cut.Cloths[0].CutDone = true
	cut.Cloths[0].Made = []Offcut{{ID: "made000001", Shelf: "shelf00002", Length: "20 in", Width: "53 in"}}
	rest := ShelfPiece{ID: "shelf00002", Goods: plain.Cloths[0].Name, Origin: plain.Name, From: plain.ID, Length: "20 in", Width: "53 in"}
	for _, c := range []struct {
		name          string
		before, after Job
		want          ShelfDiff
	}{
		{"nothing", plain, plain, ShelfDiff{}},
		{"taken", plain, taken, ShelfDiff{Reserve: []ID{"shelf00001"}}},
		{"let go", taken, plain, ShelfDiff{Free: []ID{"shelf00001"}}},
		{"cut", taken, cut, ShelfDiff{Take: []ID{"shelf00001"}, Put: []ShelfPiece{rest}}},
		{"undone", cut, taken, ShelfDiff{Reserve: []ID{"shelf00001"}, Put: []ShelfPiece{piece}, Take: []ID{"shelf00002"}}},
		{"cut and more typed", cut, cut, ShelfDiff{}},
		{"all undone at once", cut, plain, ShelfDiff{Put: []ShelfPiece{piece}, Take: []ID{"shelf00002"}}},
		{"taken and cut at once", plain, cut, ShelfDiff{Take: []ID{"shelf00001"}, Put: []ShelfPiece{rest}}},
	} {
		if got := ShelfChanges(c.before, c.after); !reflect.DeepEqual(got, c.want) || got.Empty() != (c.name == "nothing" || c.name == "cut and more typed") {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
}

func TestShelfPiecesFit(t *testing.T) {
	cloth, foam := Cloth{Name: "x"}, Foam{Thickness: "1 in"}
	for _, c := range []struct {
		p           ShelfPiece
		cloth, foam bool
	}{{ShelfPiece{}, true, false}, {ShelfPiece{Foam: true, Thickness: "25 mm"}, false, true}, {ShelfPiece{Foam: true, Thickness: "2 in"}, false, false}} {
		if c.p.Fits(&cloth, nil) != c.cloth || c.p.Fits(nil, &foam) != c.foam {
			t.Errorf("%+v fits cloth %v, foam %v", c.p, c.p.Fits(&cloth, nil), c.p.Fits(nil, &foam))
		}
	}
}

// Entries of the libraries read back the same, unknown keys kept; a cloth goes
// to the library and comes back without what belongs to one roll.
func TestLibraryEntries(t *testing.T) {
	j := everything(t)
	c, err := DecodeCloth(EncodeCloth(j.Cloths[0]))
	if err != nil || !reflect.DeepEqual(c, j.Cloths[0]) {
		t.Errorf("cloth: %v", err)
	}
	f, err := DecodeFoam(EncodeFoam(j.Foams[0]))
	if err != nil || !reflect.DeepEqual(f, j.Foams[0]) {
		t.Errorf("foam: %v", err)
	}
	p, err := DecodePrices(EncodePrices(j.Prices))
	if err != nil || !reflect.DeepEqual(p, j.Prices) {
		t.Errorf("prices: %v", err)
	}
	s := ShelfPiece{ID: "shelf00001", Foam: true, Goods: "Seat foam", Length: "20 in", Width: "10 in", Thickness: "1 in", Extra: tomorrow("shelf")}
	back, err := DecodeShelfPiece(EncodeShelfPiece(s))
	if err != nil || !reflect.DeepEqual(back, s) || !bytes.Equal(EncodeShelfPiece(back), EncodeShelfPiece(s)) || len(s.Check()) > 0 {
		t.Errorf("shelf piece: %+v %v", back, err)
	}
	s.Length = "6 km"
	if len(s.Check()) == 0 {
		t.Error("six kilometres of offcut pass")
	}
	for _, bad := range []string{"", "{", "[]", `{"id":"cloth00001"}`, `{"id":"cloth00001","name":"x","use":"flag"}`} {
		if _, err := DecodeCloth([]byte(bad)); err == nil {
			t.Errorf("%q was read as a cloth", bad)
		}
	}
	lib := j.Cloths[0].ForLibrary("entry00001")
	mine := lib.ForJob("cloth00009")
	if lib.Lot != "" || lib.Flaws != nil || lib.CutDone || lib.Offcuts != nil || lib.Price != j.Cloths[0].Price || mine.Library != "entry00001" || mine.ID != "cloth00009" {
		t.Errorf("library %+v, back %+v", lib, mine)
	}
	cloths, foams := StartLibrary(random(2), UnitsCM, func(u ClothUse) string { return string(u) }, func(m Measure) string { return "Foam " + string(m) })
	if len(cloths) != 6 || len(foams) != 2 || foams[1].Thickness != "5 cm" {
		t.Errorf("got %d cloths, %+v", len(cloths), foams)
	}
	for _, c := range cloths {
		if bad := c.Goods().Check(); len(bad) > 0 {
			t.Errorf("%s: %v", c.Name, bad)
		}
	}
}
