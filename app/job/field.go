package job

import (
	"reflect"
	"strconv"
	"strings"

	"slipseat/engine/unit"
)

// Get reads a field of the job or one of its objects as the text it would be
// typed as: id is the job's own or that of any object in its lists, path one of
// the file's keys, or two with a dot between them, such as
// "outline.front_width". It reports false when there is no such thing.
func (j Job) Get(id ID, path string) (string, bool) {
	v, f, ok := j.find(id, path)
	if !ok {
		return "", false
	}
	switch f.kind {
	case kindInt:
		return strconv.FormatInt(v.Int(), 10), true
	case kindBool:
		return strconv.FormatBool(v.Bool()), true
	case kindObject, kindList:
		return "", false
	case kindChoice:
		if v.String() == "" {
			return f.choices[0], true
		}
	}
	return v.String(), true
}

// Choices lists the words that a choice can take; nil when the field is none.
func (j Job) Choices(id ID, path string) []string {
	_, f, ok := j.find(id, path)
	if !ok || f.kind != kindChoice {
		return nil
	}
	return append([]string(nil), f.choices...)
}

// Set gives the job with one field replaced by what was typed. A length
// without a unit takes the job's, a percentage its sign; what was typed is
// kept otherwise. An empty text takes the value away. The fault, if any, names
// the object and the field, and the job is returned as it was.
//
// Set tests a value by itself; whether the job then makes sense is for
// Validate to say, so that two fields that depend on each other can be changed
// one after the other.
func (j Job) Set(id ID, path, text string) (Job, *unit.Fault) {
	v, f, ok := j.find(id, path)
	bad := func(flt *unit.Fault) (Job, *unit.Fault) {
		flt.Where = j.where(id, path)
		return j, flt
	}
	if _, known := j.object(id); !known {
		return bad(fault(CodeNoObject))
	}
	if !ok || f.fixed() {
		return bad(fault(CodeNoField))
	}
	text = strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n"))
	text, number, flt := f.typed(text, j.Units)
	if flt != nil {
		return bad(flt)
	}
	if v.Kind() != reflect.Bool && v.Kind() != reflect.Int && v.String() == text {
		return j, nil
	}
	out := j.copyFor(id)
	v, _, _ = out.find(id, path)
	switch f.kind {
	case kindInt:
		v.SetInt(int64(number))
	case kindBool:
		v.SetBool(number == 1)
	default:
		v.SetString(text)
	}
	return *out, nil
}

// fixed fields are never typed: the names of things, and the marking step,
// which stays as it was when the job was made.
func (f *field) fixed() bool {
	return f.kind == kindObject || f.kind == kindList || f.set || f.key == "id" || f.key == "library_id" || f.key == "on" || f.key == "marking_step"
}

// typed brings what was typed into the form of the file and tests it; for a
// number or a switch it also gives the number.
func (f *field) typed(text string, u Units) (string, int, *unit.Fault) {
	switch f.kind {
	case kindInt:
		n, err := strconv.Atoi(text)
		if err != nil {
			return "", 0, fault(CodeNumber, unit.A("text", text))
		}
		return text, n, f.checkInt(n)
	case kindBool:
		switch text {
		case "true":
			return text, 1, nil
		case "false":
			return text, 0, nil
		}
		return "", 0, fault(CodeSwitch, unit.A("text", text))
	case kindID:
		// A choice of goods; whether they are there is tested by Validate.
	case kindMeasure:
		if text != "" {
			full, err := unit.Canonical(text, u.Unit())
			if err != nil {
				return "", 0, asFault(err)
			}
			text = full
		}
	case kindPercent:
		if text != "" && !strings.HasSuffix(text, "%") {
			text += " %"
		}
	case kindAmount:
		m, err := Amount(text).Money()
		if err != nil {
			return "", 0, asFault(err)
		}
		if text != "" {
			text = string(AmountOf(m))
		}
	case kindForce:
		text = withDefault(text, u, "lbf", "N")
	case kindDensity:
		text = withDefault(text, u, "lb/ft3", "kg/m3")
	case kindCountry, kindCurrency:
		text = strings.ToUpper(text)
	case kindChoice:
		if text == "" {
			text = f.choices[0]
		}
	}
	return text, 0, f.check(text)
}

// withDefault adds a unit to a bare number.
func withDefault(text string, u Units, imperial, metric string) string {
	if text == "" || !plainDecimal(strings.Replace(text, ",", ".", 1)) {
		return text
	}
	if u.Metric() {
		return text + " " + metric
	}
	return text + " " + imperial
}

// step is one step on the way from a job to one of its objects: the keys that
// lead to a list, and the index of an item there.
type step struct {
	keys []string
	at   int
}

// place is the way from a job to an object; empty for the job itself.
type place []step

// object finds the object that an ID names.
func (j Job) object(id ID) (place, bool) {
	if id == j.ID {
		return nil, true
	}
	if id == "" {
		return nil, false
	}
	return findIn(jobSchema, reflect.ValueOf(&j).Elem(), nil, nil, id)
}

// findIn looks through the lists of an object and of those inside it.
func findIn(o *object, v reflect.Value, keys []string, way place, id ID) (place, bool) {
	for i := range o.fields {
		f := &o.fields[i]
		fv := v.Field(f.index)
		here := append(keys[:len(keys):len(keys)], f.key)
		switch {
		case f.kind == kindObject:
			if p, ok := findIn(f.object, fv, here, way, id); ok {
				return p, true
			}
		case f.kind == kindList && f.object.hasID():
			for k := range fv.Len() {
				item := fv.Index(k)
				next := append(way[:len(way):len(way)], step{here, k})
				if ID(item.Field(f.object.field("id").index).String()) == id {
					return next, true
				}
				if p, ok := findIn(f.object, item, nil, next, id); ok {
					return p, true
				}
			}
		}
	}
	return nil, false
}

func (o *object) hasID() bool { _, ok := o.byKey["id"]; return ok }

// where names the object for a fault.
func (j Job) where(id ID, path string) unit.Where {
	w := unit.Where{Field: path}
	at, _ := j.object(id)
	if len(at) == 0 {
		return w
	}
	switch i := at[0].at; at[0].keys[0] {
	case "seats":
		w.Seat = string(j.Seats[i].ID)
	case "cloths":
		w.Goods = string(j.Cloths[i].ID)
	case "foams":
		w.Goods = string(j.Foams[i].ID)
	}
	return w
}

// down follows one step; with copied lists when own is set.
func (s step) down(v reflect.Value, o *object, own bool) (reflect.Value, *object) {
	for _, key := range s.keys {
		f := o.field(key)
		v, o = v.Field(f.index), f.object
	}
	if own {
		list := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(list, v)
		v.Set(list)
	}
	return v.Index(s.at), o
}

// find gives a field's value and its schema. The value can be set when j can.
func (j *Job) find(id ID, path string) (reflect.Value, *field, bool) {
	at, ok := j.object(id)
	if !ok {
		return reflect.Value{}, nil, false
	}
	v, o := reflect.ValueOf(j).Elem(), jobSchema
	for _, s := range at {
		v, o = s.down(v, o, false)
	}
	for {
		key, rest, more := strings.Cut(path, ".")
		i, ok := o.byKey[key]
		if !ok {
			return reflect.Value{}, nil, false
		}
		f := &o.fields[i]
		v = v.Field(f.index)
		if !more {
			return v, f, true
		}
		if f.kind != kindObject {
			return reflect.Value{}, nil, false
		}
		o, path = f.object, rest
	}
}

// list gives the schema below a key.
func (o *object) list(key string) *object { return o.field(key).object }

// copyFor gives a copy of the job in which the object that id names can be
// changed: the lists on the way to it are copied, all else is shared.
func (j Job) copyFor(id ID) *Job {
	at, _ := j.object(id)
	v, o := reflect.ValueOf(&j).Elem(), jobSchema
	for _, s := range at {
		v, o = s.down(v, o, true)
	}
	return &j
}

// Owner gives the seat, cloth or foam that an object of the job belongs to;
// the object itself when it is one of them, "" for the job and what belongs to
// it alone.
func (j Job) Owner(id ID) ID {
	w := j.where(id, "")
	return ID(w.Seat + w.Goods)
}

// Seat finds a seat and its index.
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

// Uses tells whether the seat is cut from a cloth or a foam.
func (s Seat) Uses(goods ID) bool {
	if goods == "" {
		return false
	}
	for _, id := range [...]ID{s.Cover, s.Foam, s.Wadding, s.DustCloth, s.Lining, s.Barrier, s.Welt} {
		if id == goods {
			return true
		}
	}
	for _, l := range s.Build.Layers {
		if l.Foam == goods {
			return true
		}
	}
	return false
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
