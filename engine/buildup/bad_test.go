package buildup

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"slipseat/engine/unit"
)

// numbers lists every float and integer inside v, however deep.
func numbers(v reflect.Value) []reflect.Value {
	switch v.Kind() {
	case reflect.Struct:
		var out []reflect.Value
		for i := range v.NumField() {
			out = append(out, numbers(v.Field(i))...)
		}
		return out
	case reflect.Slice:
		var out []reflect.Value
		for i := range v.Len() {
			out = append(out, numbers(v.Index(i))...)
		}
		return out
	case reflect.Float64, reflect.Int, reflect.Bool:
		return []reflect.Value{v}
	}
	return nil
}

// Whatever is typed, Make answers with faults or with valid blanks, and never
// panics.
func TestAnyFigure(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 31))
	t.Logf("-seed %d", *seed)
	bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e-9, 250, 4999, 5001, 1e9, -1e9, 1e300}
	faulty := 0
	for i := range 1000 {
		o, s, ok := random(r)
		if !ok {
			continue
		}
		s.Foam = append([]Layer(nil), s.Foam...)
		fields := numbers(reflect.ValueOf(&s).Elem())
		for range 1 + r.IntN(3) {
			f := fields[r.IntN(len(fields))]
			switch f.Kind() {
			case reflect.Float64:
				f.SetFloat(bad[r.IntN(len(bad))])
			case reflect.Int:
				f.SetInt(int64(r.IntN(2000) - 1000))
			case reflect.Bool:
				f.SetBool(!f.Bool())
			}
		}
		res, faults := Make(o, s, unit.SixteenthInch)
		if len(faults) > 0 {
			faulty++
			for _, f := range faults {
				if f.Code == "" || f.Where.Field == "" {
					t.Fatalf("%d: a fault without code or field: %+v", i, f)
				}
			}
			if len(res.Blanks) != 0 {
				t.Fatalf("%d: faults and blanks", i)
			}
			continue
		}
		for _, b := range res.Blanks {
			if f := b.Path.Validate(); f != nil || b.Count < 1 {
				t.Fatalf("%d %s: %v, count %d\n%+v", i, b.Part.Code(), f, b.Count, s)
			}
			w, d := b.Size()
			if !(w > 0 && d > 0 && w < 100*unit.M && d < 100*unit.M) {
				t.Fatalf("%d %s: %v x %v\n%+v", i, b.Part.Code(), w, d, s)
			}
		}
		for _, w := range res.Whys() {
			if v := w.Why.Value(); math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%d %s: %v\n%+v", i, w.Name, v, s)
			}
		}
	}
	t.Logf("%d of 1000 with faults", faulty)
	if faulty < 100 {
		t.Errorf("only %d with faults: the figures are not bad enough", faulty)
	}
}
