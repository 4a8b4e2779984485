package drawing

import "slipseat/engine/geom"

// SeatKey explains the lines of a seat's overlays: a sample of each line that
// is drawn, with its name. It is in millimetres of paper: show it at the scale
// of paper. Its bounds hold all of it.
func SeatKey(in SeatIn, st Style) Drawing {
	st.PaperPerModel = 1
	const long, row, gap = 13.0, 7.2, 3.5
	type entry struct {
		path  geom.Path
		key   string
		role  Role
		width float64
		line  Line
	}
	all := []entry{
		{in.Cover.Path, "key-cover", CoverLine, Medium, LongDash},
		{in.Wadding.Path, "key-wadding", WaddingLine, Thin, Dot},
		{in.Foam.Path, "key-foam", FoamLine, Medium, DashDot},
		{in.Board, "key-board", BoardLine, Thick, Solid},
		{in.DustCloth.Path, "key-dust-cloth", DustLine, Thin, Dash},
	}
	var d Drawing
	y := 0.0
	for _, e := range all {
		if len(e.path) < 2 {
			continue
		}
		t := Text{Layer: "key", S: st.word(e.key), At: geom.P(long+gap, y), Size: st.text(Normal), Anchor: MidLeft, Role: Ink}
		d.Add(line("key", geom.P(0, y), geom.P(long, y), e.role, e.width, e.line), t)
		box := textBox(t, st).Include(geom.P(0, y))
		if d.Bounds == (geom.Rect{}) {
			d.Bounds = box
		}
		d.Bounds = d.Bounds.Union(box)
		y -= row
	}
	return d
}
