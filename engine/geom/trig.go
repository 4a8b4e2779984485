package geom

import "math"

// The functions of angles are written out here because math's differ in the
// last digit between processors, and a lay's identity hangs on every digit.
// Each product is rounded on its own.

// mul is the rounded product; without the conversion a processor that can may
// fuse it with the sum it goes into.
func mul(a, b float64) float64 { return float64(a * b) }

// Half a right angle in two parts, the first with 30 trailing zero bits so that
// small multiples of it are exact.
const (
	quarterHi = 0x1.921fb4p+0
	quarterLo = 0x1.4442d18469899p-24
)

// sincos gives the sine and cosine of an angle of at most a few turns, to
// within two units of the last digit.
func sincos(a float64) (sin, cos float64) {
	n := math.Round(a / (math.Pi / 2))
	r := a - mul(n, quarterHi) - mul(n, quarterLo) // |r| <= pi/4
	q := mul(r, r)
	// Taylor's series to r¹⁷ and r¹⁸; what is left out is under 1e-19.
	s, c := 1.0, 1.0
	for k := 16.0; k >= 2; k -= 2 {
		s = 1 - mul(q/(k*(k+1)), s)
	}
	for k := 17.0; k >= 1; k -= 2 {
		c = 1 - mul(q/(k*(k+1)), c)
	}
	s = mul(r, s)
	switch int64(n) & 3 {
	case 1:
		return c, -s
	case 2:
		return -s, -c
	case 3:
		return -c, s
	}
	return s, c
}

// tan is the tangent of an angle.
func tan(a float64) float64 {
	s, c := sincos(a)
	return s / c
}

// cosine is the cosine of an angle.
func cosine(a float64) float64 {
	_, c := sincos(a)
	return c
}

// atan is the arc tangent, in [-pi/2, pi/2].
func atan(x float64) float64 {
	switch {
	case x < 0:
		return -atan(-x)
	case x > 1:
		return math.Pi/2 - atan(1/x)
	}
	// Halving the angle twice brings x under tan(pi/16) = 0.199.
	for range 2 {
		x /= 1 + math.Sqrt(1+mul(x, x))
	}
	q, s := mul(x, x), 0.0
	for k := 25.0; k >= 1; k -= 2 { // Gregory's series; the rest is under 1e-19
		s = 1/k - mul(q, s)
	}
	return mul(4*x, s)
}

// atan2 is the direction of (x, y), in (-pi, pi].
func atan2(y, x float64) float64 {
	switch {
	case x == 0 && y == 0:
		return 0
	case math.Abs(y) > math.Abs(x):
		return math.Copysign(math.Pi/2, y) - atan(x/y)
	case x > 0:
		return atan(y / x)
	case y < 0:
		return atan(y/x) - math.Pi
	}
	return atan(y/x) + math.Pi
}

// asin is the arc sine of 0 <= x <= 1.
func asin(x float64) float64 { return atan2(x, math.Sqrt((1-x)*(1+x))) }

// signedAngle is the angle from v to w, in (-pi, pi].
func signedAngle(v, w Pt) float64 { return atan2(v.Cross(w), v.Dot(w)) }
