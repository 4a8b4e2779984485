package job

import (
	"reflect"
	"strconv"
	"strings"

	"slipseat/engine/unit"
)

// Codes of the faults of setting a field.
const (
	CodeNoObject = "edit.object-gone"
	CodeNoField  = "edit.field-unknown"
)

// Get reads a field of the job or one of its objects as the text it would be
// typed as: id is the job's own, a seat's, a cloth's or a foam's, field a path
// of file keys such as "outline.front_width".
func (j Job) Get(id ID, field string) (string, bool) {
	v, ok := find(reflect.ValueOf(j), j.object(id), field)
	if !ok {
		return "", false
	}
	switch v.Kind() {
	case reflect.String:
		return v.String(), true
	case reflect.Int:
		return strconv.FormatInt(v.Int(), 10), true
	case reflect.Bool:
		return strconv.FormatBool(v.Bool()), true
	}
	return "", false
}

// Set gives the job with one field replaced by what was typed. A length without
// a unit takes the job's; what was typed is kept otherwise. The fault, if any,
// names the field and the job is returned as it was.
func (j Job) Set(id ID, field, text string) (Job, *unit.Fault) {
	fault := func(code string, args ...unit.Arg) (Job, *unit.Fault) {
		return j, &unit.Fault{Code: code, Where: unit.Where{Field: field, Seat: string(id)}, Args: args}
	}
	at := j.object(id)
	if at.missing {
		return fault(CodeNoObject)
	}
	out := j.clone()
	v, ok := find(reflect.ValueOf(&out).Elem(), at, field)
	if !ok || field == "id" || field == "format" || field == "marking_step" {
		return fault(CodeNoField)
	}
	text = strings.TrimSpace(text)
	if len(text) > maxText {
		return fault(CodeText, unit.A("limit", maxText))
	}
	switch x := v.Interface().(type) {
	case Measure:
		if text == "" {
			v.SetString("")
			break
		}
		full, err := unit.Canonical(text, j.Units.Unit())
		if err != nil {
			f := err.(unit.Fault)
			f.Where.Field, f.Where.Seat = field, string(id)
			return j, &f
		}
		v.SetString(full)
	case Percent:
		if _, err := Percent(text).Share(); err != nil {
			return fault(CodePercent, unit.A("text", text))
		}
		if text != "" && !strings.HasSuffix(text, "%") {
			text += " %"
		}
		v.SetString(text)
	case Amount:
		m, err := Amount(text).Money()
		if err != nil {
			return fault(CodeMoney, unit.A("text", text))
		}
		if text != "" {
			text = string(AmountOf(m))
		}
		v.SetString(text)
	case Choice:
		v.SetString(text)
		if checkText(v, field) != nil {
			return fault(CodeChoice, unit.A("text", text))
		}
	case string, ID:
		v.SetString(text)
	case int:
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n > 100_000 {
			return fault(CodeNumber, unit.A("text", text))
		}
		v.SetInt(int64(n))
	case bool:
		on, err := strconv.ParseBool(text)
		if err != nil {
			return fault(CodeChoice, unit.A("text", text))
		}
		v.SetBool(on)
	default:
		_ = x
		return fault(CodeNoField)
	}
	return out, nil
}

// clone copies the lists, so that the copy's objects can be replaced.
func (j Job) clone() Job {
	j.Seats = append([]Seat(nil), j.Seats...)
	j.Cloths = append([]Cloth(nil), j.Cloths...)
	j.Foams = append([]Foam(nil), j.Foams...)
	return j
}

// place says which object an ID names.
type place struct {
	list    string
	index   int
	missing bool
}

func (j Job) object(id ID) place {
	if id == j.ID {
		return place{}
	}
	for i, s := range j.Seats {
		if s.ID == id {
			return place{list: "Seats", index: i}
		}
	}
	for i, c := range j.Cloths {
		if c.ID == id {
			return place{list: "Cloths", index: i}
		}
	}
	for i, f := range j.Foams {
		if f.ID == id {
			return place{list: "Foams", index: i}
		}
	}
	return place{missing: true}
}

func find(job reflect.Value, at place, field string) (reflect.Value, bool) {
	if at.missing {
		return reflect.Value{}, false
	}
	v := job
	if at.list != "" {
		v = v.FieldByName(at.list).Index(at.index)
	}
	for _, key := range strings.Split(field, ".") {
		if v.Kind() != reflect.Struct {
			return reflect.Value{}, false
		}
		found := false
		for _, f := range fieldsOf(v.Type()) {
			if f.key == key {
				v, found = v.Field(f.index), true
				break
			}
		}
		if !found {
			return reflect.Value{}, false
		}
	}
	return v, true
}

// Seat finds a seat.
func (j Job) Seat(id ID) (Seat, int, bool) {
	for i, s := range j.Seats {
		if s.ID == id {
			return s, i, true
		}
	}
	return Seat{}, 0, false
}

// Cloth finds a cloth.
func (j Job) Cloth(id ID) (Cloth, bool) {
	for _, c := range j.Cloths {
		if c.ID == id {
			return c, true
		}
	}
	return Cloth{}, false
}

// Foam finds a foam.
func (j Job) Foam(id ID) (Foam, bool) {
	for _, f := range j.Foams {
		if f.ID == id {
			return f, true
		}
	}
	return Foam{}, false
}

// Letter is the letter of the seat at an index: A ... Z, then AA, AB ...
func Letter(i int) string {
	s := ""
	for i >= 0 {
		s = string(rune('A'+i%26)) + s
		i = i/26 - 1
	}
	return s
}
