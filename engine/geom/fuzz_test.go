package geom

import (
	"encoding/binary"
	"math"
	"testing"
)

// FuzzPath reads bytes as a path and an amount: whatever they are, nothing
// panics; a path that is taken as valid keeps the laws.
func FuzzPath(f *testing.F) {
	add := func(d int16, v ...int16) {
		b := binary.LittleEndian.AppendUint16(nil, uint16(d))
		for _, x := range v {
			b = binary.LittleEndian.AppendUint16(b, uint16(x))
		}
		f.Add(b)
	}
	add(100, 0, 0, 0, 4000, 0, 0, 4000, 4000, 0, 0, 4000, 0)
	add(-100, 0, 0, 1000, 4000, 0, 0, 4000, 4000, -1000, 0, 4000, 0)
	add(300, 0, 0, 8192, 4000, 0, 8192)
	add(700, 0, 0, 0, 1000, 0, 0, 1000, 1000, 0, 600, 1000, 0, 600, 500, 0, 400, 500, 0, 400, 1000, 0, 0, 1000, 0)
	add(50, 0, 0, 0, 100, 1, 0, 50, 0, -3, 90, 80, 32000)
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 2+6*24 {
			b = b[:2+6*24]
		}
		next := func() float64 {
			if len(b) < 2 {
				return 0
			}
			x := int16(binary.LittleEndian.Uint16(b))
			b = b[2:]
			if x == math.MinInt16 {
				return math.NaN()
			}
			return float64(x)
		}
		d := next() / 10
		var p Path
		for len(b) >= 6 {
			p = append(p, V(next()/10, next()/10, next()/8192))
		}
		if fault := p.Validate(); fault != nil {
			if fault.Code == "" {
				t.Fatal("a fault without a code")
			}
			p.Flatten(ChordTol)
			return
		}
		if p.Area() <= 0 || p.Length() <= 0 || p.Reverse().Validate() == nil {
			t.Fatalf("area %v, length %v, or valid both ways: %v", p.Area(), p.Length(), p)
		}
		q, err := Offset(p, func(int) float64 { return d })
		switch {
		case err != nil && d >= 0:
			t.Fatalf("%v: %v by %v", err, p, d)
		case err != nil:
			return
		case q.Validate() != nil:
			t.Fatalf("%v by %v is not valid: %v", p, d, q)
		}
		slack := unionSlack*p.Length() + 1e-6
		if d > 0 && q.Area() < p.Area()-slack || d < 0 && q.Area() > p.Area()+slack+ChordTol*p.Length() {
			t.Fatalf("area %v became %v by %v: %v", p.Area(), q.Area(), d, p)
		}
	})
}
