// Command cutsheet does the window's work without a window.
//
//	cutsheet make JOB -o DIR [-only a,b] [-paper a4|a3|letter|tabloid|long] [-units in|cm|mm] [-seconds N] [-f]
//	cutsheet figures JOB [-units in|cm|mm] [-seconds N]
//	cutsheet store check|salvage|backup [FILE]
//
// JOB is a .slipseat file or "demo". Options may stand before or after it. Exit
// status: 0 done, 1 the job is faulty (the message says where), 2 wrong use.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"image"
	"io"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"time"

	"slipseat/app/export"
	"slipseat/app/figures"
	"slipseat/app/job"
	"slipseat/app/picture"
	"slipseat/app/publish"
	"slipseat/app/session"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/caution"
	"slipseat/engine/drawing"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// Exit statuses.
const (
	done     = 0
	faulty   = 1
	wrongUse = 2
)

const usage = `usage:
  cutsheet make JOB -o DIR     write every file the job has: cut sheets, chalk list, outlines, order
  cutsheet figures JOB         print the derived figures as JSON
  cutsheet store check [FILE]  look the file with all jobs over (the usual one if none is named)
  cutsheet store salvage [FILE] recover a damaged one; it is set aside untouched
  cutsheet store backup [FILE] make a backup of it now
JOB is a .slipseat file, or demo.
options (before or after JOB):
  -o DIR          folder to write into (make)
  -only A,B       only files whose names begin so, for example cut-sheet,order
  -paper NAME     a4, a3, letter, tabloid, or long for one page as long as the roll asks for
  -plotter WIDTH  templates for a roll of paper this wide too, for example 36in
  -square L,U     what the 100 mm check square of a print measured, level and upright: 99.4mm,99.8mm
  -units NAME     in, cm or mm instead of the job's own
  -seconds N      search so long for each lay; the result then depends on the machine
  -f              replace files that are there already
`

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

type options struct {
	out, only, paper, units string
	plotter, square         string
	seconds                 float64
	force                   bool
}

func run(args []string, out, errw io.Writer) int {
	if len(args) == 0 {
		fmt.Fprint(errw, usage)
		return wrongUse
	}
	w, err := words.New(assets.WordsEN)
	if err != nil {
		fmt.Fprintln(errw, "cutsheet:", err)
		return faulty
	}
	if args[0] == "store" {
		return storeCommand(args[1:], out, errw, w)
	}
	var o options
	name, err := parse(&o, args[1:])
	if err != nil || name == "" || args[0] != "make" && args[0] != "figures" || args[0] == "make" && o.out == "" {
		if err != nil {
			fmt.Fprintln(errw, "cutsheet:", err)
		}
		fmt.Fprint(errw, usage)
		return wrongUse
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	f, code := load(name, errw, w)
	if code != done {
		return code
	}
	u := f.Job.Shown()
	switch o.units {
	case "":
	case "in":
		u = unit.UnitsFor(unit.Inches)
	case "cm":
		u = unit.UnitsFor(unit.Centimetres)
	case "mm":
		u = unit.UnitsFor(unit.Millimetres)
	default:
		fmt.Fprintf(errw, "cutsheet: -units %s is not known; choose in, cm or mm\n", o.units)
		return wrongUse
	}
	var paper drawing.PageSize
	if o.paper != "" {
		var ok bool
		if paper, ok = drawing.PageOf(o.paper); !ok {
			fmt.Fprintf(errw, "cutsheet: -paper %s is not known; choose a4, a3, letter, tabloid or long\n", o.paper)
			return wrongUse
		}
	}
	plotter, squareX, squareY, err := o.printer(u)
	if err != nil {
		if said, ok := w.Error(err, u); ok {
			err = errors.New(said)
		}
		fmt.Fprintln(errw, "cutsheet:", err)
		return wrongUse
	}
	p := session.Settle(ctx, f, session.Budget{For: time.Duration(o.seconds * float64(time.Second)), Workers: runtime.GOMAXPROCS(0)},
		func(n, total int, goods string) { fmt.Fprintf(errw, "laying %d of %d\n", n+1, total) })
	if ctx.Err() != nil {
		fmt.Fprintln(errw, "cutsheet: stopped; nothing was written")
		return faulty
	}
	if args[0] == "figures" {
		data, err := figures.JSON(p, string(f.Job.Currency), func(c caution.Caution) (where, text, remedy string) {
			t := w.Caution(c.Code, u, c.Args...)
			return place(f.Job, c.Where), t.Title + ". " + t.Text, t.Remedy
		})
		if err != nil {
			fmt.Fprintln(errw, "cutsheet:", err)
			return faulty
		}
		fmt.Fprintf(out, "%s\n", data)
		return complain(p, f.Job, w, u, errw)
	}
	files := publish.Files(publish.Options{Plan: p, Job: f.Job, Words: w, Units: u, Paper: paper, Only: split(o.only), Day: time.Now().Format(time.DateOnly),
		Picture: pictures(f), Plotter: plotter, SquareX: squareX, SquareY: squareY,
		Stamp: w.Label("sheet.made", unit.A("name", f.Job.Name))})
	names, err := export.WriteAll(ctx, o.out, files, export.Options{Overwrite: o.force, Report: func(n, total int, name string) {
		if name != "" {
			fmt.Fprintf(errw, "writing %d of %d: %s\n", n+1, total, name)
		}
	}})
	var there *export.ExistsError
	switch {
	case errors.As(err, &there):
		fmt.Fprintf(errw, "cutsheet: already there: %s. Choose another folder, or -f to replace them\n", strings.Join(there.Names, ", "))
		return faulty
	case err != nil:
		if s, ok := w.Error(err, u); ok {
			fmt.Fprintln(errw, "cutsheet:", s)
		} else {
			fmt.Fprintln(errw, "cutsheet:", err)
		}
		return faulty
	}
	summary(out, p, w, u, f.Job.Name, len(names), o.out)
	return complain(p, f.Job, w, u, errw)
}

// printer reads the options about the printer: the width of a roll of paper, in
// the job's unit unless it has its own, and the measured check square, in
// millimetres unless it says otherwise.
func (o options) printer(u unit.Units) (plotter, squareX, squareY unit.Length, err error) {
	if o.plotter != "" {
		if plotter, err = unit.Parse(o.plotter, u.Size); err != nil {
			return 0, 0, 0, fmt.Errorf("-plotter %s: %w", o.plotter, err)
		}
	}
	if o.square == "" {
		return plotter, 0, 0, nil
	}
	level, upright, two := strings.Cut(o.square, ",")
	if !two {
		upright = level
	}
	if squareX, err = unit.Parse(level, unit.Millimetres); err == nil {
		squareY, err = unit.Parse(upright, unit.Millimetres)
	}
	if err != nil {
		return 0, 0, 0, fmt.Errorf("-square %s: %w", o.square, err)
	}
	return plotter, squareX, squareY, nil
}

// parse reads options before and after the job's name.
func parse(o *options, args []string) (string, error) {
	fs := flag.NewFlagSet("cutsheet", flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.StringVar(&o.out, "o", "", "")
	fs.StringVar(&o.only, "only", "", "")
	fs.StringVar(&o.paper, "paper", "", "")
	fs.StringVar(&o.units, "units", "", "")
	fs.StringVar(&o.plotter, "plotter", "", "")
	fs.StringVar(&o.square, "square", "", "")
	fs.Float64Var(&o.seconds, "seconds", 0, "")
	fs.BoolVar(&o.force, "f", false, "")
	name := ""
	for {
		if err := fs.Parse(args); err != nil {
			return "", err
		}
		rest := fs.Args()
		if len(rest) == 0 {
			if o.seconds < 0 || o.seconds > 3600 {
				return "", errors.New("-seconds must be between 0 and 3600")
			}
			return name, nil
		}
		if name != "" {
			return "", fmt.Errorf("one job at a time: %s and %s", name, rest[0])
		}
		name, args = rest[0], rest[1:]
	}
}

// pictures gives those that travel in a job's file.
func pictures(f job.File) func(job.PictureID) (image.Image, error) {
	return func(id job.PictureID) (image.Image, error) { return session.Unpack(f.Pictures[id]) }
}

func load(name string, errw io.Writer, w *words.Words) (job.File, int) {
	data := assets.Demo
	if name != "demo" {
		info, err := os.Stat(name)
		if err == nil && info.Size() > job.MaxFileBytes {
			err = fmt.Errorf("%s is too large for a job", name)
		}
		if err == nil {
			data, err = os.ReadFile(name)
		}
		if err != nil {
			fmt.Fprintln(errw, "cutsheet:", err)
			return job.File{}, faulty
		}
	}
	f, err := job.DecodeFile(data)
	if err != nil {
		if s, ok := w.Error(err, unit.UnitsFor(unit.Inches)); ok {
			err = errors.New(s)
		}
		fmt.Fprintf(errw, "cutsheet: %s: %v\n", name, err)
		return job.File{}, faulty
	}
	return f, done
}

// complain says what could not be worked out, and where.
func complain(p *plan.Plan, j job.Job, w *words.Words, u unit.Units, errw io.Writer) int {
	for _, f := range p.Faults {
		where := place(j, f.Where)
		if where != "" {
			where += ": "
		}
		fmt.Fprintf(errw, "cutsheet: %s%s\n", where, w.Fault(f, u))
	}
	if len(p.Faults) > 0 {
		return faulty
	}
	return done
}

// place names the seat or the goods that a fault or caution is about.
func place(j job.Job, at unit.Where) string {
	if s, _, ok := j.Seat(job.ID(at.Seat)); ok {
		return s.Name
	}
	if c, ok := j.Cloth(job.ID(at.Goods)); ok {
		return c.Name
	}
	if f, ok := j.Foam(job.ID(at.Goods)); ok {
		return f.Name
	}
	return ""
}

func summary(out io.Writer, p *plan.Plan, w *words.Words, u unit.Units, name string, files int, dir string) {
	m := picture.Maker{Plan: p, Words: w, Units: u}
	fmt.Fprintln(out, name)
	for i := range p.Goods {
		g := &p.Goods[i]
		if g.Lay == nil {
			continue
		}
		if g.Roll != nil {
			fmt.Fprintf(out, "  %s: %s, %s (%s)\n", m.Title(g), g.Roll.Name, w.Label("sheet.buy", unit.A("length", u.ClothLabel(g.Buy.Length()))), m.Proof(g))
		} else {
			fmt.Fprintf(out, "  %s: %s, %s\n", m.Title(g), g.Sheet.Name, m.Proof(g))
		}
	}
	if t := p.Order.Totals; !t.Pending {
		fmt.Fprintf(out, "  %s\n", w.Label("total.line", unit.A("materials", words.Money(unit.Money(t.Materials.Value()))), unit.A("total", words.Money(unit.Money(t.Total.Value())))))
	}
	fmt.Fprintf(out, "  %s\n", w.Label("sheet.written", unit.A("files", files), unit.A("folder", dir)))
}

func split(s string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, ",")
}
