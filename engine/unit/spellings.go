package unit

// vulgarFractions are the fraction characters of Unicode's Latin-1 and Number
// Forms blocks that name a share of a unit.
var vulgarFractions = [...]struct {
	char        rune
	over, under int
}{
	{'½', 1, 2}, {'¼', 1, 4}, {'¾', 3, 4}, {'⅛', 1, 8}, {'⅜', 3, 8}, {'⅝', 5, 8}, {'⅞', 7, 8},
	{'⅓', 1, 3}, {'⅔', 2, 3}, {'⅕', 1, 5}, {'⅖', 2, 5}, {'⅗', 3, 5}, {'⅘', 4, 5}, {'⅙', 1, 6},
	{'⅚', 5, 6}, {'⅐', 1, 7}, {'⅑', 1, 9}, {'⅒', 1, 10}, {'↉', 0, 3},
}

// unitNames are tried in order: longer names before their beginnings.
var unitNames = [...]struct {
	name string
	unit Unit
}{
	{"inches", Inches}, {"inch", Inches}, {"in.", Inches}, {"in", Inches},
	{"feet", Feet}, {"foot", Feet}, {"ft.", Feet}, {"ft", Feet},
	{"yards", Yards}, {"yard", Yards}, {"yds", Yards}, {"yd.", Yards}, {"yd", Yards},
	{"millimetres", Millimetres}, {"millimeters", Millimetres}, {"millimetre", Millimetres}, {"millimeter", Millimetres}, {"mm", Millimetres},
	{"centimetres", Centimetres}, {"centimeters", Centimetres}, {"centimetre", Centimetres}, {"centimeter", Centimetres}, {"cm", Centimetres},
	{"metres", Metres}, {"meters", Metres}, {"metre", Metres}, {"meter", Metres}, {"m", Metres},
	{"''", Inches}, {"′′", Inches}, {"\"", Inches}, {"″", Inches}, {"”", Inches}, {"“", Inches},
	{"'", Feet}, {"′", Feet}, {"’", Feet},
}
