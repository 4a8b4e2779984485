// Package words turns codes with typed arguments into the sentences people
// read. The words come from one flat catalogue, a JSON object from key to
// text; no sentence stands in the code.
//
// Keys: "label.<name>", "fault.<code>", "why.<code>", "term.<word>",
// "caution.<code>.title", "caution.<code>.text", "caution.<code>.remedy".
//
// In a text, {name} stands for the argument of that name, written by its type:
// a length with its unit, an area, a count, a share in per cent, money, plain
// text. {name:figure} leaves a length's unit away, {name:cloth} writes it as
// cloth is sold, {name:feet} in feet and inches, {name:term} looks a word up
// under "term.", {name:label} under "label.". {name|one seat|# seats} chooses
// by a count, # being the number.
package words

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"slipseat/engine/unit"
)

// Words is a catalogue. It does not change and may be read by several
// goroutines.
type Words struct{ texts map[string]text }

// New reads a catalogue. It refuses one that is no flat JSON object of texts
// and one with an ill-formed text, naming the key.
func New(raw []byte) (*Words, error) {
	var flat map[string]string
	if err := json.Unmarshal(raw, &flat); err != nil {
		return nil, fmt.Errorf("words: %w", err)
	}
	w := &Words{texts: make(map[string]text, len(flat))}
	for _, key := range slices.Sorted(maps.Keys(flat)) {
		t, err := parse(flat[key])
		if err != nil {
			return nil, fmt.Errorf("words: %s: %w", key, err)
		}
		w.texts[key] = t
	}
	return w, nil
}

// Keys lists the keys in order.
func (w *Words) Keys() []string { return slices.Sorted(maps.Keys(w.texts)) }

// Has tells whether a key has words.
func (w *Words) Has(key string) bool { _, ok := w.texts[key]; return ok }

// Args lists the names of the arguments that a key's text asks for.
func (w *Words) Args(key string) []string { return w.texts[key].args() }

// Text gives the words of a whole key, with lengths in the given units. A key
// without words comes back in angle brackets, so that nothing is silently
// empty; tests see to it that nobody ever reads one.
func (w *Words) Text(key string, u unit.Units, args ...unit.Arg) string {
	t, ok := w.texts[key]
	if !ok {
		return "‹" + key + "›"
	}
	return w.fill(t, u, args)
}

// Label gives the words of "label.<key>". Lengths among the arguments are
// written in inches; a caller who shows lengths uses LabelIn or passes them as
// text.
func (w *Words) Label(key string, args ...unit.Arg) string {
	return w.Text("label."+key, unit.UnitsFor(unit.Inches), args...)
}

// LabelIn gives the words of "label.<key>" with lengths in the given units.
func (w *Words) LabelIn(key string, u unit.Units, args ...unit.Arg) string {
	return w.Text("label."+key, u, args...)
}

// Term gives a word of the trade, "term.<word>".
func (w *Words) Term(word string) string {
	return w.Text("term."+word, unit.UnitsFor(unit.Inches))
}

// Fault says what is wrong and what to do.
func (w *Words) Fault(f unit.Fault, u unit.Units) string {
	return w.Text("fault."+f.Code, u, f.Args...)
}

// Error gives the sentence of a Fault anywhere in an error's chain, and false
// when there is none.
func (w *Words) Error(err error, u unit.Units) (string, bool) {
	for err != nil {
		switch f := err.(type) {
		case unit.Fault:
			return w.Fault(f, u), true
		case *unit.Fault:
			return w.Fault(*f, u), true
		case interface{ Unwrap() []error }:
			for _, e := range f.Unwrap() {
				if s, ok := w.Error(e, u); ok {
					return s, true
				}
			}
			return "", false
		}
		un, ok := err.(interface{ Unwrap() error })
		if !ok {
			return "", false
		}
		err = un.Unwrap()
	}
	return "", false
}

// CautionText is a caution in words: a short title, what was noticed, what to
// do about it.
type CautionText struct{ Title, Text, Remedy string }

// Caution gives the words of a caution. A caution need not have a remedy of
// its own; Remedy is then empty.
func (w *Words) Caution(code string, u unit.Units, args ...unit.Arg) CautionText {
	c := CautionText{
		Title: w.Text("caution."+code+".title", u, args...),
		Text:  w.Text("caution."+code+".text", u, args...),
	}
	if key := "caution." + code + ".remedy"; w.Has(key) {
		c.Remedy = w.Text(key, u, args...)
	}
	return c
}

// WhyLine is one term of a figure in words.
type WhyLine struct{ Text, Value string }

// Why gives the terms of a figure, each with its value as it is written for
// the figure's kind.
func (w *Words) Why(y unit.Why, u unit.Units) []WhyLine {
	lines := make([]WhyLine, len(y.Terms))
	for i, t := range y.Terms {
		lines[i] = WhyLine{Text: w.Text("why."+t.Code, u, t.Args...), Value: Figure(y.Kind, t.Value, u)}
	}
	return lines
}

// WhySentence gives the terms of a figure in one line: "1 foam + ½ board".
// Terms of 0 are left out unless nothing else is left.
func (w *Words) WhySentence(y unit.Why, u unit.Units) string {
	var b strings.Builder
	for _, t := range y.Terms {
		v, words := t.Value, w.Text("why."+t.Code, u, t.Args...)
		if v == 0 {
			continue
		}
		switch {
		case b.Len() == 0 && v < 0:
			b.WriteString("−")
		case b.Len() > 0 && v < 0:
			b.WriteString(" − ")
		case b.Len() > 0:
			b.WriteString(" + ")
		}
		b.WriteString(strings.TrimPrefix(Figure(y.Kind, max(v, -v), u), "−") + " " + words)
	}
	if b.Len() == 0 {
		return Figure(y.Kind, 0, u)
	}
	return b.String()
}
