package drawing

import (
	"fmt"
	"strconv"
	"strings"

	"slipseat/engine/geom"
)

// Dump writes a drawing as text, one item a line, for goldens and for reading
// a change in review. Positions are rounded to 0.01 mm, so the text is the
// same on all machines.
func Dump(d Drawing) string {
	var b strings.Builder
	fmt.Fprintf(&b, "bounds %s %s\n", pt(d.Bounds.Min), pt(d.Bounds.Max))
	for _, it := range d.Items {
		switch it := it.(type) {
		case Shape:
			b.WriteString("shape " + word(it.Layer))
			if it.Fill != None {
				b.WriteString(" fill=" + it.Fill.String())
			}
			if it.Through != 0 {
				b.WriteString(" through=" + num(it.Through))
			}
			if it.Hatch != Plain {
				fmt.Fprintf(&b, " hatch=%d", it.Hatch)
			}
			b.WriteString(stroke(it.Stroke, it.Width, it.Line))
			b.WriteString(" " + pathText(it.Path, it.Open))
		case Text:
			fmt.Fprintf(&b, "text %s %q at %s", word(it.Layer), it.S, pt(it.At))
			if it.Off != (geom.Pt{}) {
				b.WriteString(" off " + pt(it.Off))
			}
			fmt.Fprintf(&b, " %s size %s", [...]string{"base-left", "base-centre", "base-right", "mid-left", "mid-centre",
				"mid-right", "top-left", "top-centre", "top-right"}[it.Anchor], num(it.Size))
			if it.Weight == Bold {
				b.WriteString(" bold")
			}
			if it.Turned != 0 {
				b.WriteString(" turned " + num(it.Turned))
			}
			b.WriteString(" " + it.Role.String())
			if it.Plate != None {
				b.WriteString(" plate=" + it.Plate.String())
			}
		case Arrow:
			fmt.Fprintf(&b, "arrow %s %s %s", word(it.Layer), pt(it.From), pt(it.To))
			if it.HeadFrom {
				b.WriteString(" head-from")
			}
			if it.HeadTo {
				b.WriteString(" head-to")
			}
			b.WriteString(stroke(it.Role, it.Width, it.Line))
		case Mark:
			fmt.Fprintf(&b, "mark %s %s at %s", word(it.Layer), [...]string{"disc", "cross", "tick", "edge"}[it.Kind], pt(it.At))
			if it.Off != (geom.Pt{}) {
				b.WriteString(" off " + pt(it.Off))
			}
			fmt.Fprintf(&b, " size %s", num(it.Size))
			if it.Turned != 0 {
				b.WriteString(" turned " + num(it.Turned))
			}
			b.WriteString(" " + it.Role.String())
			if it.Fill != None {
				b.WriteString(" fill=" + it.Fill.String())
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func word(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

func stroke(r Role, width float64, l Line) string {
	if r == None {
		return ""
	}
	s := " line=" + r.String() + " " + num(width)
	if l != Solid {
		s += " " + l.String()
	}
	return s
}

func pathText(p geom.Path, open bool) string {
	var b strings.Builder
	for i, v := range p {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(pt(v.Pt))
		if v.Bulge != 0 && !(open && i == len(p)-1) {
			b.WriteString("~" + strconv.FormatFloat(v.Bulge, 'f', 4, 64))
		}
	}
	if !open {
		b.WriteString(" z")
	}
	return b.String()
}

func pt(p geom.Pt) string { return num(p.X) + "," + num(p.Y) }

func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
