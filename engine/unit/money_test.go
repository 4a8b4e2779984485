package unit

import (
	"flag"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

var moneySeed = flag.Uint64("money-seed", 20261124, "seed of the random money checks")

// bigTimes is the slow twin of Money.Times: exact rationals, rounded half away
// from zero, clamped.
func bigTimes(m, num, den int64) Money {
	p := new(big.Int).Mul(big.NewInt(m), big.NewInt(num))
	d := big.NewInt(den)
	if d.Sign() < 0 {
		p.Neg(p)
		d.Neg(d)
	}
	neg := p.Sign() < 0
	p.Abs(p)
	p.Lsh(p, 1)
	p.Add(p, d)
	p.Div(p, new(big.Int).Lsh(d, 1))
	if p.Cmp(big.NewInt(math.MaxInt64)) > 0 {
		p.SetInt64(math.MaxInt64)
	}
	if neg {
		p.Neg(p)
	}
	return Money(p.Int64())
}

func TestTimesAgainstBig(t *testing.T) {
	r := rand.New(rand.NewPCG(*moneySeed, 1))
	t.Logf("-money-seed %d", *moneySeed)
	draw := func(span int) int64 {
		v := r.Int64N(1 << span)
		if r.IntN(2) == 0 {
			v = -v
		}
		return v
	}
	for i := range 50_000 {
		m, num, den := draw(1+r.IntN(62)), draw(1+r.IntN(62)), draw(1+r.IntN(40))
		if i%7 == 0 { // exact halves
			den = 2 * (1 + r.Int64N(500))
			num = den / 2
		}
		if den == 0 {
			continue
		}
		if got, want := Money(m).Times(num, den), bigTimes(m, num, den); got != want {
			t.Fatalf("%d * %d / %d: got %d, want %d", m, num, den, got, want)
		}
	}
}

func TestMoneyByHand(t *testing.T) {
	for _, c := range []struct {
		name        string
		m, num, den int64
		want        Money
	}{
		{"4 yd at 34.00", 3400, 4, 1, 13600},
		{"half a cent goes up", 1, 1, 2, 1},
		{"half a cent below nothing goes down", -1, 1, 2, -1},
		{"just under half", 1, 49, 100, 0},
		{"a third", 100, 1, 3, 33},
		{"two thirds", 100, 2, 3, 67},
		{"two minus signs", -100, -1, 4, 25},
		{"too much is clamped", math.MaxInt64, 2, 1, math.MaxInt64},
	} {
		if got := Money(c.m).Times(c.num, c.den); got != c.want {
			t.Errorf("%s: got %d, want %d", c.name, got, c.want)
		}
	}
	if got := (75 * Percent / 10).Of(70540); got != 5291 { // 5290.50
		t.Errorf("7.5 %% of 705.40: got %d, want 5291", got)
	}
	if got := (75 * Percent / 10).Float(); got != 0.075 {
		t.Errorf("7.5 %% as a number: got %v", got)
	}
}

func TestOpt(t *testing.T) {
	var none Opt
	if got := none.Or(5 * MM); got != 5*MM {
		t.Errorf("unset: got %v", got)
	}
	if got := Some(0).Or(5 * MM); got != 0 {
		t.Errorf("set to nothing: got %v", got)
	}
}
