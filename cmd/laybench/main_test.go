package main

import (
	"math"
	"os"
	"path/filepath"
	"testing"
)

// bench is the folder of shared instances.
func bench(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("SLIPSEAT_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared")
	}
	dir = filepath.Join(dir, "bench")
	if _, err := os.Stat(dir); err != nil {
		t.Skip("the shared benchmark instances are not beside this checkout")
	}
	return dir
}

// TestReadsEveryInstance checks every file's area against its published
// density and length (SOURCES.md there).
func TestReadsEveryInstance(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join(bench(t), "*.json"))
	if len(files) < 60 {
		t.Fatalf("only %d files", len(files))
	}
	for _, f := range files {
		in, err := read(f)
		if err != nil {
			t.Error(err)
			continue
		}
		if in.Best.Length == 0 {
			continue
		}
		if d := 100 * in.area() / (in.Width * in.Best.Length); math.Abs(d-in.Best.Density) > 0.02 {
			t.Errorf("%s: density %.3f at the best length, published %.3f", in.Name, d, in.Best.Density)
		}
		p, scale := in.problem(false)
		if faults := p.Validate(); len(faults) > 0 {
			t.Errorf("%s: %v", in.Name, faults)
		}
		if got := p.Bins[0].Width.MM(); math.Abs(got-in.Width*scale) > 1e-9*got {
			t.Errorf("%s: scaled to %v", in.Name, got)
		}
	}
}

// TestRunsAnInstance lays one whose optimum is known and easy.
func TestRunsAnInstance(t *testing.T) {
	in, err := read(filepath.Join(bench(t), "N1.json"))
	if err != nil {
		t.Fatal(err)
	}
	r := run(in, 5, 1, 2, false)
	if !r.Valid || !r.Proved || math.Abs(r.Length-40) > 1e-3 || math.Abs(r.Ratio-1) > 1e-4 {
		t.Errorf("N1 has the optimum 40 (Burke, Kendall and Whitwell 2004): got %+v", r)
	}
}
