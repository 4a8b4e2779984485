package stages

import (
	"slices"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/views/kit"
)

// colours are the colours that a stand-in can be drawn in, by their plain
// names.
var colours = []struct {
	word string
	c    job.Colour
}{
	{"white", "#f7f4ee"}, {"cream", "#eee4d0"}, {"straw", "#e2cf96"}, {"ochre", "#c8962e"}, {"rust", "#a9552d"}, {"red", "#9b3430"},
	{"rose", "#cf9a97"}, {"plum", "#6b4059"}, {"navy", "#2b3f5f"}, {"blue", "#5a7fa6"}, {"pale-blue", "#c9d7e0"}, {"teal", "#2f7f78"},
	{"moss", "#6d7a45"}, {"pale-green", "#d9e6e0"}, {"brown", "#6e4a29"}, {"grey", "#8c8a85"}, {"charcoal", "#3a3a3c"}, {"black", "#1f1d1b"},
}

// looks is what a cloth looks like: a drawing in two colours, or a picture.
func (s *roll) looks(m maker, c job.Cloth) kit.Group {
	g := kit.Group{Head: s.desk.say("roll.head.look"), Entries: []kit.Entry{m.choice(c.ID, "swatch.look", "look")}}
	switch c.Swatch.Look {
	case job.LookPlain:
		g.Entries = append(g.Entries, s.colour(m, c, edit.SwatchGround, c.Swatch.Ground))
	case job.LookStripe, job.LookCheck, job.LookSprig:
		g.Entries = append(g.Entries, s.colour(m, c, edit.SwatchGround, c.Swatch.Ground), s.colour(m, c, edit.SwatchFigure, c.Swatch.Figure))
	case job.LookPicture:
		g.Entries = append(g.Entries, kit.Entry{Kind: kit.AButton, Name: "button:swatch-picture", Label: s.desk.say("look.choose"), Tap: func() { s.desk.Act("swatch-picture") }})
		if c.Swatch.Picture != "" {
			g.Entries = append(g.Entries, kit.Entry{Kind: kit.AButton, Name: "button:swatch-mark", Label: s.desk.say("look.mark"), Tap: func() { s.desk.Act("swatch-mark") }})
		}
		if f := s.desk.TileFault(string(c.ID)); f != nil {
			g.Entries = append(g.Entries, kit.Entry{Kind: kit.ACaution, Name: "caution:swatch", Label: s.desk.say("look.unseen"), Hint: m.fault(*f)})
		}
	}
	if c.Use == job.UseCover || c.Use == job.UseContrast {
		g.Entries = append(g.Entries, kit.Entry{Kind: kit.AButton, Name: "button:customer", Label: s.desk.say("look.customer"), Tap: func() { s.desk.Act("customer") }})
	}
	return g
}

// colour is a choice of a colour by its name; one of the user's own, from a
// file, stands first.
func (s *roll) colour(m maker, c job.Cloth, path string, now job.Colour) kit.Entry {
	e := m.base(kit.AChoice, path)
	e.Chosen = slices.IndexFunc(colours, func(k struct {
		word string
		c    job.Colour
	}) bool {
		return k.c == now
	})
	for _, k := range colours {
		e.Words = append(e.Words, m.w.Term("colour."+k.word))
	}
	e.Choose = func(i int) { s.desk.Do(edit.Set{Object: c.ID, Field: path, Text: string(colours[i].c)}) }
	return e
}
