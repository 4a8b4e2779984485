package drawing

import "slipseat/engine/geom"

// Outlines are the bare lines of a seat's pieces for cutters, each on a layer
// of its own: board, foam, cover, wadding, dust-cloth, holes, centre line. No
// fills and no dashes, millimetres, the seat's frame; name stands inside the
// front edge.
func Outlines(in SeatIn, name string) Drawing {
	var d Drawing
	add := func(layer string, p geom.Path, r Role) {
		if len(p) > 1 {
			d.Append(Drawing{Bounds: p.Bounds(), Items: []Item{Shape{Layer: layer, Path: p, Stroke: r, Width: Thin}}})
		}
	}
	add("board", in.Board, BoardLine)
	add("foam", in.Foam.Path, FoamLine)
	add("cover", in.Cover.Path, CoverLine)
	add("wadding", in.Wadding.Path, WaddingLine)
	add("dust-cloth", in.DustCloth.Path, DustLine)
	for _, h := range in.Holes {
		add("holes", h, BoardLine)
	}
	if len(in.Board) > 1 {
		b := in.Board.Bounds()
		x := b.Center().X
		if m := in.Measures; m != nil {
			x = (m.FrontLeft.X + m.FrontRight.X) / 2
		}
		d.Add(line("centre", geom.P(x, b.Min.Y), geom.P(x, b.Max.Y), Ink2, Thin, Solid))
		if name != "" {
			d.Add(Text{Layer: "name", S: name, At: geom.P(x, b.Min.Y+b.H()*0.08), Size: max(b.W()/30, 4), Anchor: BaseCentre, Role: Ink2})
		}
	}
	return d
}
