package stages

import (
	"strconv"
	"strings"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/words"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// editor is what a form needs: the job, and a way to change it.
type editor interface {
	Do(edit.Command) []unit.Fault
}

// maker turns fields of the job into entries of a form. A field is named by
// its object's ID and its path in the job file; the words of its label are
// "label.field.<path>", those of its hint and of its explanation the same with
// .hint and .tip, where there are any.
type maker struct {
	ed editor
	w  *words.Words
	u  unit.Units
	j  job.Job
}

func (m maker) say(key string, args ...unit.Arg) string { return m.w.LabelIn(key, m.u, args...) }

func (m maker) fault(f unit.Fault) string { return m.w.Fault(f, m.u) }

// optional gives the words of a key, or "" when there are none.
func (m maker) optional(key string, args ...unit.Arg) string {
	if !m.w.Has("label." + key) {
		return ""
	}
	return m.say(key, args...)
}

func (m maker) base(kind kit.Kind, path string) kit.Entry {
	key := "field." + path
	return kit.Entry{
		Kind:  kind,
		Name:  "field:" + path,
		Label: m.say(key),
		Hint:  m.optional(key + ".hint"),
		Tip:   m.optional(key + ".tip"),
		Empty: m.optional(key + ".empty"),
	}
}

// set commits a text into a field and says what is wrong with it, if anything.
// Faults of other fields are left to those.
func (m maker) set(obj job.ID, path, text string) string {
	return m.first(m.ed.Do(edit.Set{Object: obj, Field: path, Text: text}))
}

func (m maker) first(faults []unit.Fault) string {
	if len(faults) == 0 {
		return ""
	}
	return m.fault(faults[0])
}

// shown writes a typed measure for a field: as it was typed, without its unit
// when that is the one shown. After the units were switched, what was typed in
// the units that the job was made in is turned into the new ones; a measure
// that was typed in other units on purpose stays as it is.
func (m maker) shown(typed string, u unit.Unit) string {
	if typed == "" {
		return ""
	}
	if s, ok := strings.CutSuffix(typed, " "+u.Symbol()); ok {
		return s
	}
	home := m.j.Step == job.StepMillimetre
	if u.Metric() != home && typedMetric(typed) == home {
		if l, err := unit.Parse(typed, u); err == nil {
			return unit.Text(l, u)
		}
	}
	return typed
}

// typedMetric tells whether a typed measure has a metric unit.
func typedMetric(typed string) bool {
	for _, u := range []unit.Unit{unit.Centimetres, unit.Millimetres, unit.Metres} {
		if strings.HasSuffix(typed, u.Symbol()) {
			return true
		}
	}
	return false
}

// measure is a field for a length.
func (m maker) measure(obj job.ID, path string) kit.Entry {
	return m.measureIn(obj, path, m.u.Size)
}

// measureIn is a field for a length in a unit of its own, such as yards.
func (m maker) measureIn(obj job.ID, path string, u unit.Unit) kit.Entry {
	e := m.base(kit.AField, path)
	typed, _ := m.j.Get(obj, path)
	e.Text = m.shown(typed, u)
	if e.Tip == "" && typed != "" && !strings.HasSuffix(typed, " "+u.Symbol()) {
		e.Tip = m.say("field.typed-as", unit.A("text", typed))
	}
	e.Check = func(text string) string {
		if strings.TrimSpace(text) == "" {
			return ""
		}
		if _, err := unit.Parse(text, u); err != nil {
			if s, ok := m.w.Error(err, m.u); ok {
				return s
			}
		}
		return ""
	}
	e.Commit = func(text string) string {
		if s := strings.TrimSpace(text); s != "" {
			full, err := unit.Canonical(s, u)
			if err == nil {
				text = full
			}
		}
		return m.set(obj, path, text)
	}
	e.Step = func(text string, dir int, coarse bool) string {
		return m.stepped(text, u, dir, coarse)
	}
	return e
}

// steps of the arrow keys, in the job's marking steps.
const (
	fineSteps   = 1
	coarseSteps = 8
)

// stepped gives the text of a length one step larger or smaller, on the job's
// marking step.
func (m maker) stepped(text string, u unit.Unit, dir int, coarse bool) string {
	l, err := unit.Parse(text, u)
	if err != nil {
		return ""
	}
	n := fineSteps
	if coarse {
		n = coarseSteps
	}
	return unit.Text(m.j.Nudged(l, dir*n), u)
}

// count is a field for a whole number.
func (m maker) count(obj job.ID, path string) kit.Entry {
	e := m.base(kit.AField, path)
	e.Text, _ = m.j.Get(obj, path)
	e.Commit = func(text string) string { return m.set(obj, path, text) }
	e.Step = func(text string, dir int, coarse bool) string {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n+dir < 0 {
			return ""
		}
		return strconv.Itoa(n + dir)
	}
	return e
}

// plain is a field for a percentage, an amount or a short text.
func (m maker) plain(obj job.ID, path string) kit.Entry {
	e := m.base(kit.AField, path)
	e.Text, _ = m.j.Get(obj, path)
	e.Commit = func(text string) string { return m.set(obj, path, text) }
	return e
}

// text is a wide field for words.
func (m maker) text(obj job.ID, path string) kit.Entry {
	e := m.plain(obj, path)
	e.Wide = true
	return e
}

// area is a field of several lines.
func (m maker) area(obj job.ID, path string) kit.Entry {
	e := m.plain(obj, path)
	e.Kind = kit.AnArea
	return e
}

// choice is a field that takes one of a few words of the job file. Their words
// for people are "term.<list>.<word>".
func (m maker) choice(obj job.ID, path, list string) kit.Entry {
	return m.choiceOf(obj, path, list, m.j.Choices(obj, path))
}

// choiceOf is a choice of only some of the words.
func (m maker) choiceOf(obj job.ID, path, list string, options []string) kit.Entry {
	e := m.base(kit.AChoice, path)
	e.Wide = true
	e.Words = make([]string, len(options))
	now, _ := m.j.Get(obj, path)
	for i, o := range options {
		e.Words[i] = m.w.Term(list + "." + o)
		if o == now {
			e.Chosen = i
		}
	}
	e.Choose = func(i int) { m.set(obj, path, options[i]) }
	return e
}

// switched is a choice of two or three shown side by side.
func (m maker) switched(obj job.ID, path, list string) kit.Entry {
	e := m.choice(obj, path, list)
	e.Kind = kit.ASwitch
	return e
}

// yesNo is a choice of no or yes, or of the two words that the field has for
// it.
func (m maker) yesNo(obj job.ID, path string) kit.Entry {
	list := "flag"
	if m.w.Has("term.flag." + path + ".true") {
		list = "flag." + path
	}
	e := m.choiceOf(obj, path, list, []string{"false", "true"})
	return e
}

// goods is a choice of one of the job's cloths or foams.
func (m maker) goods(obj job.ID, path string, ids []job.ID, names []string) kit.Entry {
	e := m.base(kit.AChoice, path)
	e.Wide = true
	e.Words, e.Chosen = names, -1
	now, _ := m.j.Get(obj, path)
	for i, id := range ids {
		if string(id) == now {
			e.Chosen = i
		}
	}
	e.Choose = func(i int) { m.set(obj, path, string(ids[i])) }
	return e
}

// reading is a figure that only shows.
func (m maker) reading(name, text string) kit.Entry {
	e := m.base(kit.AReading, name)
	e.Text = text
	return e
}

// button is a button over the whole width.
func (m maker) button(name string, tap func()) kit.Entry {
	return kit.Entry{Kind: kit.AButton, Name: "button:" + name, Label: m.say("button." + name), Tip: m.optional("button." + name + ".tip"), Tap: tap}
}

// good is a good box.
func good(name, words string) kit.Entry { return kit.Entry{Kind: kit.AGood, Name: name, Hint: words} }

// note is a line in the second ink.
func note(name, words string) kit.Entry { return kit.Entry{Kind: kit.ANote, Name: name, Hint: words} }

func arg(name string, value any) unit.Arg { return unit.A(name, value) }
