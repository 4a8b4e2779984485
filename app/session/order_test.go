package session_test

import (
	"bufio"
	"context"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/assets"
	"slipseat/engine/order"
	"slipseat/engine/unit"
)

// TestDemoOrderByHand holds lines of the demo's order against
// testdata/hand/order.txt, term by term.
func TestDemoOrderByHand(t *testing.T) {
	f, err := job.DecodeFile(assets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	p := session.Settle(context.Background(), f, session.Budget{For: 1}, nil)
	if len(p.Faults) > 0 {
		t.Fatal(p.Faults)
	}
	if len(p.Order.Items) < 8 || len(p.Cautions) == 0 {
		t.Errorf("the demo has %d order lines and %d cautions", len(p.Order.Items), len(p.Cautions))
	}
	file, err := os.Open("../../testdata/hand/order.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var it *order.Item
	term, lines := 0, 0
	end := func() {
		if it != nil && term != len(it.Buy.Terms) {
			t.Errorf("%s: %d terms worked by hand, %d printed", it.Code, term, len(it.Buy.Terms))
		}
	}
	for scan := bufio.NewScanner(file); scan.Scan(); {
		text, _, _ := strings.Cut(scan.Text(), "#")
		word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
		switch word {
		case "line":
			end()
			code, name, _ := strings.Cut(rest, " ")
			it, term = nil, 0
			for i := range p.Order.Items {
				if o := &p.Order.Items[i]; o.Code == code && (name == "" || o.Name == name) {
					it = o
				}
			}
			if it == nil {
				t.Fatalf("no line %s", rest)
			}
			lines++
		case "term":
			code, value, _ := strings.Cut(rest, " ")
			if term >= len(it.Buy.Terms) {
				t.Fatalf("%s: no term %s", it.Code, code)
			}
			got := it.Buy.Terms[term]
			term++
			if got.Code != code || math.Abs(inches(it, got.Value)-number(t, value)) > 5e-5 {
				t.Errorf("%s: term %s %v, by hand %s", it.Code, got.Code, inches(it, got.Value), rest)
			}
		case "buy":
			if got := inches(it, it.Buy.Value()); math.Abs(got-number(t, rest)) > 1e-6 {
				t.Errorf("%s: buys %v, by hand %s", it.Code, got, rest)
			}
		case "price":
			if got := float64(it.Cost()) / 100; math.Abs(got-number(t, strings.TrimSpace(rest))) > 1e-9 {
				t.Errorf("%s: costs %v, by hand %s", it.Code, got, rest)
			}
		}
	}
	end()
	if lines < 5 {
		t.Errorf("only %d lines were worked", lines)
	}
}

func inches(it *order.Item, v float64) float64 {
	if it.Buy.Kind == unit.KindLength {
		return v / 25.4
	}
	return v
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
