//go:build cgo

package chain

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"os"
	"testing"

	"slipseat/app/figures"
	"slipseat/app/job"
	"slipseat/app/publish"
	"slipseat/app/session"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/caution"
	"slipseat/engine/plan"
)

var pin = flag.Bool("pin", false, "pin the lays of the demo job anew, after a change that is meant to change them")

const pinFile = "../../testdata/hash/demo-lays.txt"

// settled plans the demo job with a small budget and a number of lanes.
func settled(t *testing.T, workers int) (job.Job, *plan.Plan) {
	t.Helper()
	f, err := job.DecodeFile(assets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	f.Lays = nil // searched anew
	return f.Job, session.Settle(context.Background(), f, session.Budget{Evaluations: 4000, Workers: workers}, nil)
}

// layHash is a hash of where every piece lies and of what is bought.
func layHash(p *plan.Plan) string {
	h := sha256.New()
	for _, g := range p.Goods {
		if g.Lay == nil {
			fmt.Fprintln(h, "none")
			continue
		}
		fmt.Fprintln(h, g.PID, float64(g.Lay.Length), g.Lay.Sheets, float64(g.Lay.Bound), g.Lay.Proved)
		for _, at := range g.Lay.Places {
			fmt.Fprintln(h, at.Kind, at.Copy, at.Bin, at.Sheet, at.Turn, at.At.X, at.At.Y)
		}
	}
	for _, it := range p.Order.Items {
		if !it.Pending {
			fmt.Fprintln(h, it.Code, it.Needed(), it.Buy.Value())
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

// TestSameEverywhere: the same job gives the same lays, figures and files at
// any number of lanes and however often it is done. The lays are pinned: a
// change of them that nobody meant is a fault. One that was meant is pinned
// anew by
//
//	go test ./app/chain -run TestSameEverywhere -pin
func TestSameEverywhere(t *testing.T) {
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	var first map[string][]byte
	hash := ""
	for _, workers := range []int{1, 3, 1} {
		j, p := settled(t, workers)
		data, err := figures.JSON(p, string(j.Currency), func(c caution.Caution) (string, string, string) { return "", c.Code, "" })
		if err != nil {
			t.Fatal(err)
		}
		files := map[string][]byte{"figures": data, "lays": []byte(layHash(p))}
		hash = string(files["lays"])
		if workers != 3 { // the files follow from the plan; twice is enough
			for _, f := range publish.Files(publish.Options{Plan: p, Words: w, Units: j.Shown(), Job: j, Day: "2026-03-01", Stamp: "trial", DPI: 30}) {
				var b bytes.Buffer
				if err := f.Write(&b); err != nil {
					t.Fatalf("%s: %v", f.Name, err)
				}
				files[f.Name] = b.Bytes()
			}
		}
		if first == nil {
			first = files
			continue
		}
		for name, b := range files {
			if !bytes.Equal(first[name], b) {
				t.Errorf("%d lanes: %s is another", workers, name)
			}
		}
	}
	if len(first) < 10 {
		t.Errorf("only %d files were compared", len(first))
	}
	if *pin {
		if err := os.WriteFile(pinFile, []byte(hash+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(pinFile)
	if err != nil {
		t.Fatal(err)
	}
	if string(bytes.TrimSpace(want)) != hash {
		t.Errorf("the demo job's lays are %s, pinned are %s. If that is meant, look at them and run: go test ./app/chain -run TestSameEverywhere -pin", hash, bytes.TrimSpace(want))
	}
}
