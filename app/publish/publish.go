// Package publish makes every file that leaves the program from a job and its
// plan: cut sheets, chalk list, templates, outlines, bench sheet, order, quote
// and bill. The window and the command write the same files from the same code.
package publish

import (
	"image"
	"io"
	"strings"
	"sync"

	"slipseat/app/export"
	"slipseat/app/job"
	"slipseat/app/picture"
	"slipseat/app/raster"
	"slipseat/app/words"
	"slipseat/engine/drawing"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// Options say what is written and how.
type Options struct {
	Plan  *plan.Plan
	Job   job.Job
	Words *words.Words
	Units unit.Units
	Stamp string           // at the foot of every sheet
	Day   string           // on quote and bill, "2026-11-25"; empty leaves a line to fill in
	Paper drawing.PageSize // zero for the usual one of the units
	DPI   float64          // of pictures; 0 for 150
	Only  []string         // beginnings of file names; empty for all
	Kinds []export.Kind    // of cut sheets; empty for PNG, PDF and SVG

	// Picture gives the pictures that the job refers to; nil for none.
	Picture func(job.PictureID) (image.Image, error)

	// Plotter is the width of a roll of paper that templates are printed on as
	// well; 0 for none.
	Plotter unit.Length
	// SquareX and SquareY are what the check square of a first print measured
	// level and upright; 0 for not measured.
	SquareX, SquareY unit.Length
}

// UsualPaper is Letter where sizes are in inches and A4 elsewhere.
func UsualPaper(u unit.Units) drawing.PageSize {
	if u.Size.Metric() {
		return drawing.A4()
	}
	return drawing.Letter()
}

// Paper is one thing that is printed: pages under a name. Pages are made when
// they are first asked for.
type Paper struct {
	Base  string // of the file's name: "cut-sheet-cloth-1"
	Title string
	parts func() []export.Part
	// pictures tells that it is written as PNG and SVG too.
	pictures bool
}

// Parts are the pages, in runs that have bookmarks of their own.
func (p Paper) Parts() []export.Part { return p.parts() }

// Pages are all pages.
func (p Paper) Pages() []drawing.Drawing {
	var out []drawing.Drawing
	for _, part := range p.parts() {
		out = append(out, part.Pages...)
	}
	return out
}

// maker carries the options with their usual values filled in.
type maker struct {
	Options
	m  picture.Maker
	st drawing.Style
}

func newMaker(o Options) *maker {
	if o.Paper == (drawing.PageSize{}) {
		o.Paper = UsualPaper(o.Units)
	}
	if o.DPI == 0 {
		o.DPI = 150
	}
	if len(o.Kinds) == 0 {
		o.Kinds = []export.Kind{export.KindPNG, export.KindPDF, export.KindSVG}
	}
	return &maker{Options: o, m: picture.Maker{Plan: o.Plan, Words: o.Words, Units: o.Units, Table: o.Job.Table.Or(0)},
		st: drawing.Style{PaperPerModel: 1, Metrics: raster.Metrics{}, Words: o.Words, Units: o.Units, Print: true}}
}

// say gives the words of a label with lengths in the units of the papers.
func (k *maker) say(key string, args ...unit.Arg) string {
	return k.Words.LabelIn(key, k.Units, args...)
}

// paper names a thing to print.
func (k *maker) paper(base, title string, parts func() []export.Part) Paper {
	return Paper{Base: base, Title: title, parts: sync.OnceValue(parts)}
}

// one is a paper without parts of its own.
func (k *maker) one(base, title string, pages func() []drawing.Drawing) Paper {
	return k.paper(base, title, func() []export.Part { return []export.Part{{Title: title, Pages: pages()}} })
}

// document is a paper that is read.
func (k *maker) document(base string, in func() drawing.DocumentIn) Paper {
	title := k.say("paper." + base)
	return k.one(base, title, func() []drawing.Drawing {
		d := in()
		d.Title, d.Stamp = title, k.Stamp
		return drawing.Document(d, k.reading(), k.st)
	})
}

// reading is the sheet for papers that are read: upright, and never larger than
// a desk takes.
func (k *maker) reading() drawing.PageSize {
	switch k.Paper.Name {
	case "a4", "letter":
		return k.Paper.Portrait()
	}
	return UsualPaper(k.Units).Portrait()
}

// Papers lists what is printed, in the order of the work; what the job has
// nothing for is absent.
func Papers(o Options) []Paper {
	k := newMaker(o)
	return k.papers()
}

func (k *maker) papers() []Paper {
	out := k.sheets()
	out = append(out, k.templates()...)
	out = append(out, k.bench()...)
	return append(out, k.money()...)
}

// Files lists the files in a fixed order; what the job has nothing for is
// absent.
func Files(o Options) []export.File {
	k := newMaker(o)
	papers := k.papers()
	var all []export.File
	for _, p := range papers {
		kinds := []export.Kind{export.KindPDF}
		if p.pictures {
			kinds = k.Kinds
		}
		all = append(all, k.files(p, kinds)...)
	}
	all = append(all, k.chalkFile()...)
	all = append(all, k.outlines()...)
	all = append(all, k.orderFile()...)
	all = append(all, k.portraits()...)
	if len(papers) > 0 {
		all = append(all, k.everything(papers))
	}
	if len(k.Only) == 0 {
		return all
	}
	var some []export.File
	for _, f := range all {
		for _, p := range k.Only {
			if strings.HasPrefix(f.Name, p) {
				some = append(some, f)
				break
			}
		}
	}
	return some
}

// files are those of one paper: one PDF, and for pictures one a page.
func (k *maker) files(p Paper, kinds []export.Kind) []export.File {
	title := p.Title + ", " + k.Job.Name
	var out []export.File
	for _, kind := range kinds {
		if kind == export.KindPDF {
			out = append(out, export.File{Name: p.Base + ".pdf", Write: func(w io.Writer) error {
				parts := p.Parts()
				if len(parts) == 1 {
					parts = []export.Part{{Pages: parts[0].Pages}} // one bookmark to the only thing there is helps nobody
				}
				return export.PDF(w, title, parts, drawing.Print())
			}})
			continue
		}
		out = append(out, export.PageFiles(p.Base, title, p.Pages(), []export.Kind{kind}, k.DPI, drawing.Print())...)
	}
	return out
}

// everything is one PDF with all papers, each under its own bookmark. Of the
// templates it holds those for the paper that is used.
func (k *maker) everything(papers []Paper) export.File {
	title := k.say("paper.everything")
	other := "templates-" + k.otherTemplates()
	return export.File{Name: "everything.pdf", Write: func(w io.Writer) error {
		var parts []export.Part
		for _, p := range papers {
			if p.Base == other || p.Base == "templates-plotter" {
				continue
			}
			for i, part := range p.Parts() {
				if len(p.Parts()) > 1 {
					part.Under = true
					if i == 0 {
						part.Chapter = p.Title
					}
				} else {
					part.Title = p.Title
				}
				parts = append(parts, part)
			}
		}
		return export.PDF(w, title+", "+k.Job.Name, parts, drawing.Print())
	}}
}
