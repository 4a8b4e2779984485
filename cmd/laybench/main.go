// Command laybench lays benchmark instances and says how near it comes to the
// best published lays.
//
//	laybench [-seconds N] [-seed S] [-turn] [-workers N] [-json] FILE...
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
)

// result is one line of the answer; lengths are in the instance's own units.
type result struct {
	Name    string  `json:"name"`
	Seconds float64 `json:"seconds"` // spent in all
	Length  float64 `json:"length"`
	Density float64 `json:"density_percent"`
	Best    float64 `json:"best_percent"` // density of the best published lay, 0 when none is known
	Ratio   float64 `json:"ratio"`        // best published length over this length; 1 is as good
	Bound   float64 `json:"bound"`
	Proved  bool    `json:"proved"`
	Valid   bool    `json:"valid"` // by lay.Check

	evaluations int64
	source      string
}

func main() {
	seconds := flag.Float64("seconds", 10, "how long to look at each instance")
	seed := flag.Uint64("seed", 1, "seed of the search")
	turn := flag.Bool("turn", false, "allow quarter turns where the file has none")
	workers := flag.Int("workers", 2, "how many goroutines may search")
	asJSON := flag.Bool("json", false, "print an array instead of a table")
	flag.Usage = func() {
		fmt.Fprintln(os.Stderr, "usage: laybench [-seconds N] [-seed S] [-turn] [-workers N] [-json] FILE...")
		flag.PrintDefaults()
	}
	flag.Parse()
	if flag.NArg() == 0 || *seconds <= 0 {
		flag.Usage()
		os.Exit(2)
	}
	var all []result
	if !*asJSON {
		fmt.Printf("%-14s %7s %12s %8s %8s %7s %12s %-6s %-5s\n", "name", "seconds", "length", "density", "best", "ratio", "bound", "proved", "valid")
	}
	failed := false
	for _, file := range flag.Args() {
		in, err := read(file)
		if err != nil {
			fmt.Fprintln(os.Stderr, "laybench:", err)
			os.Exit(1)
		}
		r := run(in, *seconds, *seed, *workers, *turn)
		all = append(all, r)
		failed = failed || !r.Valid
		if !*asJSON {
			fmt.Printf("%-14s %7.1f %12.4f %8.2f %8.2f %7.4f %12.4f %-6v %-5v\n", r.Name, r.Seconds, r.Length, r.Density, r.Best, r.Ratio, r.Bound, r.Proved, r.Valid)
		}
	}
	if *asJSON {
		out, _ := json.MarshalIndent(all, "", " ") // numbers and strings always encode
		fmt.Println(string(out))
	}
	if failed {
		os.Exit(1)
	}
}

func run(in instance, seconds float64, seed uint64, workers int, turn bool) result {
	p, scale := in.problem(turn)
	r := result{Name: in.Name, Best: in.Best.Density, source: in.Source}
	began := time.Now()
	ctx, stop := context.WithTimeout(context.Background(), time.Duration(seconds*float64(time.Second)))
	defer stop()
	start, faults := search.First(p)
	if len(faults) > 0 {
		fmt.Fprintf(os.Stderr, "laybench: %s cannot be laid: %v\n", in.Name, faults)
		return r
	}
	l := search.Improve(ctx, p, start, search.Options{Seed: seed, Workers: workers})
	r.Seconds = time.Since(began).Seconds()
	r.Length = l.Length.MM() / scale
	r.Bound = l.Bound.MM() / scale
	r.Density = 100 * in.area() / (in.Width * r.Length)
	if in.Best.Length > 0 {
		r.Ratio = in.Best.Length / r.Length
	}
	r.Proved, r.evaluations = l.Proved, l.Evaluations
	r.Valid = len(lay.Check(p, l)) == 0
	return r
}

// nameOf is the file's name without its ending.
func nameOf(file string) string { return strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)) }
