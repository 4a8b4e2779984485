package lay

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
)

// ProblemID names a problem by the SHA-256 of its canonical bytes: equal
// problems have equal IDs on every machine.
type ProblemID [sha256.Size]byte

// String is the ID in hexadecimal.
func (id ProblemID) String() string { return hex.EncodeToString(id[:]) }

// ID is the problem's name. The order of kinds, bins and fixed places counts.
func (p Problem) ID() ProblemID { return sha256.Sum256(p.canonical()) }

// canonical writes every field in a fixed order with fixed widths. The first
// byte is the version of this writing: a change of meaning must change it, so
// that stored lays are not taken for answers to another question.
func (p Problem) canonical() []byte {
	w := writer{1}
	w.int(len(p.Kinds))
	for _, k := range p.Kinds {
		w.text(k.ID)
		w.int(len(k.Shape))
		for _, q := range k.Shape {
			w.float(q.X)
			w.float(q.Y)
		}
		w.int(k.Count)
		w = append(w, byte(k.Turns), flag(k.Square), byte(k.Along), byte(k.Across))
		w.float(k.Motif.X)
		w.float(k.Motif.Y)
		w.int(k.Group)
	}
	w.int(len(p.Bins))
	for _, b := range p.Bins {
		w.text(b.ID)
		w.float(float64(b.Width))
		w.float(float64(b.Length))
		w.int(b.Sheets)
		w.int(len(b.Flaws))
		for _, f := range b.Flaws {
			w.int(len(f))
			for _, q := range f {
				w.float(q.X)
				w.float(q.Y)
			}
		}
		l := b.Lattice
		for _, v := range [...]float64{float64(l.Along), float64(l.Across), l.Drop, l.Phase.X, l.Phase.Y} {
			w.float(v)
		}
	}
	w.float(float64(p.Gap))
	w.float(float64(p.Step))
	w = append(w, flag(p.RowsOnly))
	w.int(len(p.Fixed))
	for _, f := range p.Fixed {
		for _, v := range [...]int{f.Kind, f.Copy, f.Bin, f.Sheet, int(f.Turn)} {
			w.int(v)
		}
		w.float(f.At.X)
		w.float(f.At.Y)
	}
	return w
}

type writer []byte

func (w *writer) int(n int) { *w = binary.BigEndian.AppendUint64(*w, uint64(int64(n))) }

func (w *writer) float(v float64) {
	if v == 0 {
		v = 0 // minus zero is zero
	}
	*w = binary.BigEndian.AppendUint64(*w, math.Float64bits(v))
}

func (w *writer) text(s string) {
	w.int(len(s))
	*w = append(*w, s...)
}

func flag(b bool) byte {
	if b {
		return 1
	}
	return 0
}
