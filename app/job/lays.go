package job

import (
	"encoding/hex"
	"encoding/json"
	"math"
	"strconv"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// File is what a job file holds: the job, and the lays that travel with it.
// A lay belongs to a problem, not to the job; whoever uses one checks it
// against its problem first.
type File struct {
	Job      Job
	Lays     []SavedLay
	Pictures map[PictureID][]byte // that the job refers to, as far as they are there
}

// SavedLay is a lay with the problem that it answers.
type SavedLay struct {
	Problem lay.ProblemID
	Lay     lay.Lay
	Extra   Extra
}

// maxReach in millimetres bounds every figure of a lay: ten times the longest
// roll.
const maxReach = 1e7

// Check tests that the figures of a lay are numbers within reason. Whether it
// answers its problem is for lay.Check to say.
func (s SavedLay) Check() *unit.Fault {
	ok := reasonable(float64(s.Lay.Length), float64(s.Lay.Bound)) && len(s.Lay.Places) <= maxPlaces
	whole := [...]int{s.Lay.Sheets, s.Lay.SheetBound}
	for _, n := range whole {
		ok = ok && n >= 0 && n <= maxPlaces
	}
	for _, p := range s.Lay.Places {
		ok = ok && reasonable(p.At.X, p.At.Y) && p.Turn < 4
		for _, n := range [...]int{p.Kind, p.Copy, p.Bin, p.Sheet} {
			ok = ok && n >= 0 && n <= maxPlaces
		}
	}
	if !ok || s.Lay.Length < 0 || s.Lay.Bound < 0 || s.Lay.Evaluations < 0 {
		return fault(CodeBadLay)
	}
	return nil
}

func reasonable(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.Abs(v) > maxReach {
			return false
		}
	}
	return true
}

// EncodeLay writes one lay as JSON, as a job file holds it.
func EncodeLay(s SavedLay) []byte {
	w := writer{}
	w.lay(s)
	w.b.WriteByte('\n')
	return w.b.Bytes()
}

// DecodeLay reads what EncodeLay wrote, under the rules of DecodeFile.
func DecodeLay(data []byte) (SavedLay, error) {
	if f := checkSyntax(data); f != nil {
		return SavedLay{}, *f
	}
	r := reader{}
	s := r.lay(data, "")
	if r.fault != nil {
		return SavedLay{}, *r.fault
	}
	return s, nil
}

func (w *writer) lays(all []SavedLay) {
	if len(all) == 0 {
		return
	}
	w.key("lays")
	w.open('[')
	for _, s := range all {
		w.item()
		w.lay(s)
	}
	w.shut(']')
}

func (w *writer) lay(s SavedLay) {
	num := func(key, text string) {
		w.key(key)
		w.b.WriteString(text)
	}
	w.open('{')
	w.key("problem")
	w.text(s.Problem.String())
	num("length_mm", decimalText(float64(s.Lay.Length)))
	num("bound_mm", decimalText(float64(s.Lay.Bound)))
	num("sheets", strconv.Itoa(s.Lay.Sheets))
	num("sheet_bound", strconv.Itoa(s.Lay.SheetBound))
	num("proved", strconv.FormatBool(s.Lay.Proved))
	num("seed", strconv.FormatUint(s.Lay.Seed, 10))
	num("evaluations", strconv.FormatInt(s.Lay.Evaluations, 10))
	w.key("places")
	w.open('[')
	for _, p := range s.Lay.Places {
		w.item()
		w.b.WriteByte('[')
		for _, n := range [...]int{p.Kind, p.Copy, p.Bin, p.Sheet, int(p.Turn)} {
			w.b.WriteString(strconv.Itoa(n) + ", ")
		}
		w.b.WriteString(decimalText(p.At.X) + ", " + decimalText(p.At.Y) + "]")
	}
	w.shut(']')
	w.extra(s.Extra)
	w.shut('}')
}

// decimalText writes a float so that it reads back the same.
func decimalText(v float64) string {
	b, err := json.Marshal(v)
	if err != nil {
		return "0" // NaN and Inf, which Check refuses
	}
	return string(b)
}

func (r *reader) lays(raw []byte, path string) []SavedLay {
	items := r.items(raw, maxLays, path)
	if len(items) == 0 {
		return nil
	}
	all := make([]SavedLay, len(items))
	for i, item := range items {
		all[i] = r.lay(item, path+"["+strconv.Itoa(i)+"]")
	}
	return all
}

// lay reads one lay; every key is required.
func (r *reader) lay(raw []byte, path string) SavedLay {
	keys := r.members(raw, path)
	take := func(key string, into any, well func([]byte) bool) {
		value, ok := keys[key]
		delete(keys, key)
		switch {
		case r.fault != nil:
		case !ok:
			r.fail(fault(CodeMissing), join(path, key))
		case !well(value) || json.Unmarshal(value, into) != nil:
			r.fail(fault(CodeType), join(path, key))
		}
	}
	isList := func(raw []byte) bool { return startsWith(raw, '[') }
	isText := func(raw []byte) bool { return startsWith(raw, '"') }
	isBool := func(raw []byte) bool { return startsWith(raw, 't') || startsWith(raw, 'f') }
	var s SavedLay
	var id string
	var places [][]json.Number
	take("problem", &id, isText)
	take("length_mm", &s.Lay.Length, isNumber)
	take("bound_mm", &s.Lay.Bound, isNumber)
	take("sheets", &s.Lay.Sheets, isNumber)
	take("sheet_bound", &s.Lay.SheetBound, isNumber)
	take("proved", &s.Lay.Proved, isBool)
	take("seed", &s.Lay.Seed, isNumber)
	take("evaluations", &s.Lay.Evaluations, isNumber)
	take("places", &places, isList)
	if n, err := hex.Decode(s.Problem[:], pad(id, len(s.Problem))); err != nil || n != len(s.Problem) || s.Problem.String() != id {
		r.fail(fault(CodeType), join(path, "problem"))
	}
	if len(places) > maxPlaces {
		r.fail(fault(CodeTooMany, unit.A("limit", maxPlaces)), join(path, "places"))
	}
	for i, p := range places {
		if r.fault != nil {
			break
		}
		place, ok := placeOf(p)
		if !ok {
			r.fail(fault(CodeType), join(path, "places["+strconv.Itoa(i)+"]"))
		}
		s.Lay.Places = append(s.Lay.Places, place)
	}
	s.Extra = r.keep(keys, path)
	if r.fault == nil {
		if f := s.Check(); f != nil {
			r.fail(f, path)
		}
	}
	return s
}

// pad gives the text if it has the length of n bytes in hexadecimal, else as
// many zeros, which the caller then finds to be another text.
func pad(s string, n int) []byte {
	if len(s) != 2*n {
		return make([]byte, 2*n)
	}
	return []byte(s)
}

func placeOf(p []json.Number) (lay.Place, bool) {
	if len(p) != 7 {
		return lay.Place{}, false
	}
	var n [5]int
	for i := range n {
		v, err := strconv.Atoi(string(p[i]))
		if err != nil || v < 0 || v > maxPlaces {
			return lay.Place{}, false
		}
		n[i] = v
	}
	x, errX := p[5].Float64()
	y, errY := p[6].Float64()
	if errX != nil || errY != nil || n[4] > 3 {
		return lay.Place{}, false
	}
	return lay.Place{Kind: n[0], Copy: n[1], Bin: n[2], Sheet: n[3], Turn: lay.Turn(n[4]), At: geom.P(x, y)}, true
}
