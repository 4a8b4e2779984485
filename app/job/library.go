package job

import (
	"reflect"

	"slipseat/engine/unit"
)

// The user's own cloths, foams and prices, and the pieces on the shelf, are
// kept one by one in the form that they have in a job file. A job holds copies:
// editing the library never changes a job.

var (
	clothSchema  = jobSchema.list("cloths")
	foamSchema   = jobSchema.list("foams")
	pricesSchema = jobSchema.field("prices").object
)

// EncodeCloth writes a cloth of the library as JSON.
func EncodeCloth(c Cloth) []byte { return encodeOne(clothSchema, c) }

// DecodeCloth reads what EncodeCloth wrote, under the rules of Decode.
func DecodeCloth(data []byte) (Cloth, error) { return decodeOne[Cloth](clothSchema, data) }

// EncodeFoam writes a foam of the library as JSON.
func EncodeFoam(f Foam) []byte { return encodeOne(foamSchema, f) }

// DecodeFoam reads what EncodeFoam wrote.
func DecodeFoam(data []byte) (Foam, error) { return decodeOne[Foam](foamSchema, data) }

// EncodePrices writes the user's prices and labour times as JSON.
func EncodePrices(p Prices) []byte { return encodeOne(pricesSchema, p) }

// DecodePrices reads what EncodePrices wrote.
func DecodePrices(data []byte) (Prices, error) { return decodeOne[Prices](pricesSchema, data) }

// EncodeShelfPiece writes a piece of the shelf as JSON.
func EncodeShelfPiece(p ShelfPiece) []byte { return encodeOne(shelfSchema, p) }

// DecodeShelfPiece reads what EncodeShelfPiece wrote.
func DecodeShelfPiece(data []byte) (ShelfPiece, error) {
	return decodeOne[ShelfPiece](shelfSchema, data)
}

func encodeOne[T any](o *object, v T) []byte {
	w := writer{}
	w.object(o, reflect.ValueOf(v))
	w.b.WriteByte('\n')
	return w.b.Bytes()
}

func decodeOne[T any](o *object, data []byte) (T, error) {
	var v, none T
	if f := checkSyntax(data); f != nil {
		return none, *f
	}
	r := reader{}
	r.object(o, data, reflect.ValueOf(&v).Elem(), "")
	if r.fault != nil {
		return none, *r.fault
	}
	return v, nil
}

// CheckShelfPiece tests the values of a piece of the shelf.
func (p ShelfPiece) Check() []unit.Fault {
	v := validator{}
	v.values(shelfSchema, reflect.ValueOf(p), unit.Where{}, "")
	return v.faults
}

// ForLibrary is a job's cloth as an entry of the library: what belongs to one
// roll or one job alone is left out.
func (c Cloth) ForLibrary(id ID) Cloth {
	c.ID, c.Library = id, ""
	c.FirstAlong, c.FirstAcross, c.Flaws, c.AtHand, c.RollLength, c.RepeatsOver, c.RepeatsCount = "", "", nil, "", "", "", 0
	c.Offcuts, c.Made, c.CutDone, c.RollChecked, c.Lot, c.CustomersOwn = nil, nil, false, false, "", false
	return c
}

// ForJob is an entry of the library as a job's own copy.
func (c Cloth) ForJob(id ID) Cloth {
	c.Library, c.ID = c.ID, id
	return c
}

// ForLibrary is a job's foam as an entry of the library.
func (f Foam) ForLibrary(id ID) Foam {
	f.ID, f.Library, f.Offcuts, f.Made, f.CutDone, f.SheetsThere = id, "", nil, nil, false, 0
	return f
}

// ForJob is an entry of the library as a job's own copy.
func (f Foam) ForJob(id ID) Foam {
	f.Library, f.ID = f.ID, id
	return f
}

// StartLibrary is what an empty library begins with: one cloth for every use
// and two foams, with starting figures and without makers. name gives the words
// for a use, and for a foam of a thickness.
func StartLibrary(random func([]byte), units Units, name func(use ClothUse) string, foam func(thickness Measure) string) ([]Cloth, []Foam) {
	var cloths []Cloth
	for _, use := range ClothUse("").Choices() {
		cloths = append(cloths, NewCloth(NewID(random), units, ClothUse(use), name(ClothUse(use))))
	}
	var foams []Foam
	for _, t := range [...]Measure{start(units, 1, 25), start(units, 2, 50)} {
		f := NewFoam(NewID(random), units, foam(t))
		f.Thickness = t
		foams = append(foams, f)
	}
	return cloths, foams
}
