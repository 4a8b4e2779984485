package publish

import (
	"io"
	"strings"

	"slipseat/app/export"
	"slipseat/engine/drawing"
)

// csv is a list for other programs, with headed columns.
func (k *maker) csv(name string, head []string, rows [][]string) export.File {
	titles := make([]string, len(head))
	for i, h := range head {
		titles[i] = k.say("csv." + h)
	}
	return export.File{Name: name, Write: func(w io.Writer) error { return export.CSV(w, titles, rows) }}
}

// chalkFile is the chalk list of all cut sheets.
func (k *maker) chalkFile() []export.File {
	var rows [][]string
	for i := range k.Plan.Goods {
		g := &k.Plan.Goods[i]
		if g.Lay == nil {
			continue
		}
		for _, l := range k.m.Goods(g, false, "") {
			for _, c := range drawing.ChalkLines(l) {
				dir := k.say("csv.along")
				if c.Across {
					dir = k.say("csv.across")
				}
				rows = append(rows, []string{k.m.FileBase(g), dir, k.Units.Label(c.At), k.Units.Label(c.From), k.Units.Label(c.To), strings.Join(c.Pieces, " ")})
			}
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return []export.File{k.csv("chalk-list.csv", []string{"sheet", "line", "at", "from", "to", "pieces"}, rows)}
}
