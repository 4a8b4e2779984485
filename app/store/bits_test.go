package store_test

import (
	"bytes"
	"flag"
	"testing"

	"slipseat/app/store"
)

var bitStride = flag.Int("bit-stride", 97, "of the bits of the first two pages, how far apart those are that are tried; 1 for all")
var bitFirst = flag.Int("bit-first", 0, "the first of them")

// TestHeaderBits flips bits of the first two pages, one at a time. The file is
// refused, or opened at the other header, which is one save older, and that is
// said, or the bit meant nothing: what is read is then what was written.
func TestHeaderBits(t *testing.T) {
	s := newShop(t, 1)
	size := pageSize(s.data)
	h := header(s.data)
	now := store.Print(s.data)
	without := bytes.Clone(s.data)
	clear(without[h : h+64])
	other := store.Print(without)
	if now == other {
		t.Fatal("both headers name the same state")
	}
	var refused, older, nothing, tried int
	for bit := *bitFirst; bit < 2*size*8; bit += *bitStride {
		bad := bytes.Clone(s.data)
		bad[bit/8] ^= 1 << (bit % 8)
		r, err := store.ExamineBytes(bad)
		if err != nil {
			t.Fatal(err)
		}
		tried++
		switch {
		case r.Fault != nil:
			refused++
		case store.Print(bad) == now:
			nothing++
		case r.OneHeader && store.Print(bad) == other:
			older++
		default:
			t.Errorf("bit %d: neither refused nor said, and what is read is another", bit)
		}
	}
	t.Logf("figures: bits=%d refused=%d older_and_said=%d unharmed=%d", tried, refused, older, nothing)
	if *bitFirst == 0 && (older == 0 || nothing == 0) {
		t.Error("a kind of outcome never came: the trial is too tame")
	}
}
