package drawing

// Line is a style of line. Boards are solid, foam is dash-dot, covers are in
// long dashes.
type Line uint8

// Line styles.
const (
	Solid Line = iota
	DashDot
	LongDash
	Dash
	Dot
	Chain // centre lines: long, short
)

// Dashes gives the lengths of strokes and gaps in turn, paper millimetres; nil
// for a solid line.
func (l Line) Dashes() []float64 {
	switch l {
	case DashDot:
		return []float64{2.3, 0.9, 0.5, 0.9}
	case LongDash:
		return []float64{3.7, 1.5}
	case Dash:
		return []float64{1.2, 0.9}
	case Dot:
		return []float64{0.4, 1.2}
	case Chain:
		return []float64{4, 1, 1, 1}
	}
	return nil
}

// String is the style's name in text dumps.
func (l Line) String() string {
	return [...]string{"solid", "dash-dot", "long-dash", "dash", "dot", "chain"}[min(int(l), 5)]
}

// Hatch is a pattern of thin lines over a shape.
type Hatch uint8

// Hatches, all at 45 degrees.
const (
	Plain   Hatch = iota
	Rising        // lines that rise to the right
	Crossed       // both ways
)

// HatchGap is the distance between the lines of a hatch, paper millimetres.
const HatchGap = 2.2

// Widths of lines, paper millimetres.
const (
	Hair   = 0.18
	Thin   = 0.26
	Medium = 0.4
	Thick  = 0.55
)

// Sizes of text, em height in paper millimetres.
const (
	Small  = 2.9
	Normal = 3.3
	Large  = 3.7
	Title  = 7
)
