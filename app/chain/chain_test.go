//go:build cgo

package chain

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"slipseat/app/export"
	"slipseat/app/figures"
	"slipseat/app/job"
	"slipseat/app/publish"
	"slipseat/app/session"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/caution"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
)

var (
	seedFlag = flag.Uint64("seed", 1, "seed of the random jobs")
	jobsFlag = flag.Int("jobs", 3, "how many random jobs go through the chain")
	every    = flag.Int("export-every", 5, "every how manieth is written to files")
)

// TestChain takes random jobs through the whole chain. Every lay passes the
// judge and a second one, every figure is a number that makes sense, every file
// opens.
func TestChain(t *testing.T) {
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	var lays, pieces, faulty, files, exported int
	for n := range *jobsFlag {
		seed := *seedFlag*1_000_003 + uint64(n)
		r := rand.New(rand.NewPCG(seed, 43))
		j := randomJob(r)
		bad := func(format string, args ...any) {
			t.Helper()
			t.Errorf("seed %d, job %d (random source %d): %s", *seedFlag, n, seed, fmt.Sprintf(format, args...))
		}
		back, err := job.Decode(job.Encode(j))
		if err != nil || !bytes.Equal(job.Encode(back), job.Encode(j)) {
			bad("does not read back: %v", err)
			continue
		}
		evaluations := int64(-1) // first lays
		if n%5 == 4 {
			evaluations = 3000
		}
		p := session.Settle(context.Background(), job.File{Job: j}, session.Budget{Evaluations: evaluations, Workers: 1}, nil)
		if len(p.Faults) > 0 {
			faulty++
		}
		for i := range p.Goods {
			g := &p.Goods[i]
			if g.Lay == nil {
				if !g.Pending && len(g.Faults) == 0 && len(g.Problem.Kinds) > 0 {
					bad("%s has no lay, and no fault says why", g.ID)
				}
				continue
			}
			lays++
			pieces += len(g.Lay.Places)
			if f := lay.Check(g.Problem, *g.Lay); len(f) > 0 {
				bad("%s: the judge: %v", g.ID, f)
			}
			if err := secondJudge(g.Problem, *g.Lay); err != nil {
				bad("%s: the second judge: %v", g.ID, err)
			}
		}
		data, err := figures.JSON(p, "EUR", func(c caution.Caution) (string, string, string) { return "", c.Code, "" })
		if err != nil {
			bad("figures: %v", err)
		} else if err := sensible(data); err != nil {
			bad("figures: %v", err)
		}
		if n%*every == 0 {
			exported++
			count, err := exportAll(t, j, p, w)
			if err != nil {
				bad("files: %v", err)
			}
			files += count
		}
	}
	t.Logf("figures: jobs=%d faulty_jobs=%d lays=%d pieces=%d exported_jobs=%d files=%d", *jobsFlag, faulty, lays, pieces, exported, files)
	if lays == 0 || faulty == *jobsFlag {
		t.Error("too few jobs come to a lay: the trial is too tame")
	}
}

// mayBeNegative are the figures that may lie below zero: the first term of a
// wrap, and what a loan, a gap or a bill comes to.
var mayBeNegative = regexp.MustCompile(`wrap_terms|clearance|reason|balance`)

// sensible walks all figures.
func sensible(data []byte) error {
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	var walk func(v any, path string) error
	walk = func(v any, path string) error {
		switch v := v.(type) {
		case float64:
			if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e13 || v < 0 && !mayBeNegative.MatchString(path) {
				return fmt.Errorf("%s is %v", path, v)
			}
		case map[string]any:
			for k, x := range v {
				if err := walk(x, path+"."+k); err != nil {
					return err
				}
			}
		case []any:
			for i, x := range v {
				if err := walk(x, fmt.Sprintf("%s[%d]", path, i)); err != nil {
					return err
				}
			}
		case string:
			if strings.Contains(v, "NaN") || strings.Contains(v, "Inf") {
				return fmt.Errorf("%s is %q", path, v)
			}
		}
		return nil
	}
	return walk(v, "")
}

// exportAll writes every file of a job and reads each back.
func exportAll(t *testing.T, j job.Job, p *plan.Plan, w *words.Words) (int, error) {
	dir := t.TempDir()
	defer os.RemoveAll(dir)
	all := publish.Files(publish.Options{Plan: p, Words: w, Units: j.Shown(), Job: j, Day: "2026-03-01", Stamp: "trial", DPI: 40})
	names, err := export.WriteAll(context.Background(), dir, all, export.Options{})
	if err != nil {
		return 0, err
	}
	for _, name := range names {
		if err := opens(filepath.Join(dir, name)); err != nil {
			return 0, fmt.Errorf("%s: %w", name, err)
		}
	}
	return len(names), nil
}

var nan = regexp.MustCompile(`\b(NaN|[+-]?Inf)\b`)

func opens(path string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	text := func() error {
		if at := nan.FindIndex(data); at != nil {
			return fmt.Errorf("it says %q", data[at[0]:at[1]])
		}
		return nil
	}
	switch filepath.Ext(path) {
	case ".png":
		img, err := png.Decode(bytes.NewReader(data))
		if err == nil && img.Bounds().Empty() {
			err = errors.New("empty")
		}
		return err
	case ".svg":
		d := xml.NewDecoder(bytes.NewReader(data))
		for {
			if _, err := d.Token(); err == io.EOF {
				return text()
			} else if err != nil {
				return err
			}
		}
	case ".csv":
		rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))).ReadAll()
		if err == nil && len(rows) < 2 {
			err = errors.New("no rows")
		}
		return errors.Join(err, text())
	case ".dxf":
		lines := strings.Split(strings.TrimSpace(string(data)), "\n")
		if len(lines)%2 != 0 || strings.TrimSpace(lines[len(lines)-1]) != "EOF" {
			return fmt.Errorf("%d lines, the last %q", len(lines), lines[len(lines)-1])
		}
		return text()
	case ".pdf":
		if !bytes.HasPrefix(data, []byte("%PDF")) || !bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")) {
			return errors.New("no PDF")
		}
		if qpdf, err := exec.LookPath("qpdf"); err == nil {
			if out, err := exec.Command(qpdf, "--check", path).CombinedOutput(); err != nil {
				return fmt.Errorf("qpdf: %v %s", err, out)
			}
		}
		return nil
	}
	return errors.New("a kind of file that nobody looks at")
}
