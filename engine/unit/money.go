package unit

import "math/bits"

// Money is an amount in the minor units of the job's currency (cents, pence,
// or whole units where a currency has no smaller one). It may be an argument
// of a fault, a caution or a term.
type Money int64

// Share is a share in parts per million, so that 7.5 % (75,000) and 0.25 %
// are whole numbers. It may be an argument of a fault, a caution or a term.
type Share int64

// Percent is one hundredth as a Share.
const Percent Share = 10_000

// Whole is all of it, 100 %.
const Whole Share = 1_000_000

// Of gives the share of m, rounded half away from zero to a minor unit.
func (s Share) Of(m Money) Money { return m.Times(int64(s), int64(Whole)) }

// Float gives the share as a plain number, 1 for 100 %.
func (s Share) Float() float64 { return float64(s) / float64(Whole) }

// Times gives m * num / den, rounded half away from zero to a minor unit. The
// product is formed in 128 bits, so nothing is lost on the way. It panics when
// den is 0; a result beyond the int64 range is clamped to its ends.
func (m Money) Times(num, den int64) Money {
	if den == 0 {
		panic("unit: Money.Times by a denominator of 0")
	}
	neg := (m < 0) != (num < 0) != (den < 0)
	a, b, d := magnitude(int64(m)), magnitude(num), magnitude(den)
	hi, lo := bits.Mul64(a, b)
	lo, carry := bits.Add64(lo, d/2, 0)
	hi += carry
	const most = 1<<63 - 1
	q := uint64(most)
	if hi < d {
		// An odd d has no exact halves, so d/2 rounded down serves there too.
		q, _ = bits.Div64(hi, lo, d)
		q = min(q, most)
	}
	if neg {
		return -Money(q)
	}
	return Money(q)
}

func magnitude(v int64) uint64 {
	if v < 0 {
		return -uint64(v)
	}
	return uint64(v)
}
