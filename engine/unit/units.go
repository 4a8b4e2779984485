package unit

// Units are the units that a job is shown in: Size for seats, pieces and
// everything measured on the bench, Cloth for cloth as it is sold.
type Units struct{ Size, Cloth Unit }

// UnitsFor gives the units that go with sizes in u: yards of cloth with
// inches, metres with centimetres and millimetres.
func UnitsFor(u Unit) Units {
	if u.Metric() {
		return Units{Size: u, Cloth: Metres}
	}
	return Units{Size: u, Cloth: Yards}
}

// Figure writes a size without its unit: "17½".
func (u Units) Figure(l Length) string { return Figure(l, u.Size) }

// Label writes a size with its unit: "17½ in".
func (u Units) Label(l Length) string { return Label(l, u.Size) }

// ClothLabel writes a length of cloth as it is sold: "3¾ yd", "3.4 m".
func (u Units) ClothLabel(l Length) string { return Label(l, u.Cloth) }

// AreaLabel writes an area in square feet or square metres.
func (u Units) AreaLabel(a Area) string { return AreaLabel(a, u.Size.Metric()) }

// Pair writes a size of two measures, width × depth, without a unit:
// "18½ × 17¼".
func (u Units) Pair(width, depth Length) string { return u.Figure(width) + " × " + u.Figure(depth) }

// PairLabel writes a size of two measures with its unit: "18½ × 17¼ in".
func (u Units) PairLabel(width, depth Length) string {
	return u.Pair(width, depth) + " " + u.Size.Symbol()
}
