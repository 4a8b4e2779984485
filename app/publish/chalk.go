package publish

import (
	"io"
	"strings"

	"slipseat/app/export"
	"slipseat/engine/drawing"
	"slipseat/engine/unit"
)

// csv is a list for other programs, with headed columns.
func (k *maker) csv(name string, head []string, rows [][]string) export.File {
	titles := make([]string, len(head))
	for i, h := range head {
		titles[i] = k.say("csv." + h)
	}
	return export.File{Name: name, Write: func(w io.Writer) error { return export.CSV(w, titles, rows) }}
}

// chalkColumns are those of the chalk list.
var chalkColumns = []string{"sheet", "step", "do", "at", "from", "to", "pieces", "motif-along", "motif-across", "front", "back", "left", "right", "template", "points", "note"}

// chalkFile is the chalk list of all cut sheets: every row one step, in order.
func (k *maker) chalkFile() []export.File {
	var rows [][]string
	for i := range k.Plan.Goods {
		g := &k.Plan.Goods[i]
		if g.Lay == nil {
			continue
		}
		n := 0
		for _, l := range k.m.Goods(g, false, "") {
			name := k.m.FileBase(g)
			if l.Title != "" {
				name += ", " + l.Title
			}
			for _, s := range drawing.ChalkSteps(l) {
				n++
				rows = append(rows, k.chalkRow(name, n, s))
			}
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return []export.File{k.csv("chalk-list.csv", chalkColumns, rows)}
}

// chalkRow is one step of the chalk list.
func (k *maker) chalkRow(sheet string, n int, s drawing.ChalkStep) []string {
	l := k.Units.Label
	opt := func(o unit.Opt) string {
		if !o.Set {
			return ""
		}
		return l(o.Value)
	}
	do := s.Op.Code()
	at, from, to := "", "", ""
	switch s.Op {
	case drawing.ChalkOnTable:
		from, to = l(s.From), l(s.To)
	case drawing.ChalkBase, drawing.CutAcross:
		at = l(s.At)
	case drawing.ChalkLineOp:
		do = "along"
		if s.Across {
			do = "across"
		}
		at, from, to = l(s.At), l(s.From), l(s.To)
	case drawing.CutAlong:
		at, from, to = l(s.At), l(s.From), l(s.To)
	}
	var points []string
	for _, p := range s.Points {
		points = append(points, k.say("csv.point", unit.A("along", l(p.Along)), unit.A("across", l(p.Across))))
	}
	note := ""
	switch {
	case s.TooLong:
		note = k.say("draw.chalk-too-long")
	case s.Op == drawing.ChalkSquare:
		note = k.say("draw.chalk-square")
	case s.Op == drawing.ChalkBase:
		note = k.say("draw.chalk-base")
	case s.Op == drawing.ChalkMotif:
		note = k.say("csv.motif-check", unit.A("length", l(motifApart(k.Units))))
	}
	return []string{sheet, k.say("csv.number", unit.A("number", n)), k.say("csv.do-" + do), at, from, to, strings.Join(s.Pieces, " "), opt(s.MotifAlong), opt(s.MotifAcross),
		opt(s.Front), opt(s.Back), opt(s.Left), opt(s.Right), s.Template, strings.Join(points, "; "), note}
}

// motifApart is drawing.MotifApart as it is said in the units: a quarter of an
// inch, or 6 mm.
func motifApart(u unit.Units) unit.Length {
	if u.Size.Metric() {
		return 6
	}
	return drawing.MotifApart
}
