package job

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strconv"
)

// Encode writes a job as its file: one JSON object, keys in a fixed order, a
// choice always, other empty values left out unless the key is required,
// unknown keys at the end of their object. Equal jobs give equal bytes.
func Encode(j Job) []byte { return EncodeFile(File{Job: j}) }

// EncodeFile writes a job with its lays.
func EncodeFile(f File) []byte {
	w := writer{}
	w.open('{')
	w.key("format")
	w.b.WriteString(strconv.Itoa(Format))
	w.members(jobSchema, reflect.ValueOf(f.Job))
	w.lays(f.Lays)
	w.pictures(f.Pictures)
	w.extra(f.Job.Extra)
	w.shut('}')
	w.b.WriteByte('\n')
	return w.b.Bytes()
}

// writer writes indented JSON.
type writer struct {
	b      bytes.Buffer
	indent []byte
	some   bool // the open object or list has something in it
}

func (w *writer) open(c byte) {
	w.b.WriteByte(c)
	w.indent = append(w.indent, ' ', ' ')
	w.some = false
}

func (w *writer) shut(c byte) {
	w.indent = w.indent[:len(w.indent)-2]
	if w.some {
		w.line()
	}
	w.b.WriteByte(c)
	w.some = true
}

func (w *writer) line() {
	w.b.WriteByte('\n')
	w.b.Write(w.indent)
}

func (w *writer) item() {
	if w.some {
		w.b.WriteByte(',')
	}
	w.line()
	w.some = true
}

func (w *writer) key(k string) {
	w.item()
	w.text(k)
	w.b.WriteString(": ")
}

// text writes a JSON string; invalid UTF-8 becomes the replacement character.
func (w *writer) text(s string) {
	if plain(s) {
		w.b.WriteByte('"')
		w.b.WriteString(s)
		w.b.WriteByte('"')
		return
	}
	e := json.NewEncoder(&w.b)
	e.SetEscapeHTML(false)
	_ = e.Encode(s)             // a string into memory cannot fail
	w.b.Truncate(w.b.Len() - 1) // the encoder's line end
}

// plain tells whether a string stands in JSON as it is.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return false
		}
	}
	return true
}

// object writes a whole object by its schema.
func (w *writer) object(o *object, v reflect.Value) {
	w.open('{')
	w.members(o, v)
	w.extra(v.Field(o.extra).Interface().(Extra))
	w.shut('}')
}

func (w *writer) members(o *object, v reflect.Value) {
	for i := range o.fields {
		f := &o.fields[i]
		fv := v.Field(f.index)
		if !f.required && f.empty(fv) {
			continue
		}
		w.key(f.key)
		w.value(f, fv)
	}
}

func (w *writer) value(f *field, v reflect.Value) {
	switch f.kind {
	case kindObject:
		w.object(f.object, v)
	case kindList:
		w.open('[')
		for i := range v.Len() {
			w.item()
			w.object(f.object, v.Index(i))
		}
		w.shut(']')
	case kindInt:
		w.b.WriteString(strconv.FormatInt(v.Int(), 10))
	case kindBool:
		w.b.WriteString(strconv.FormatBool(v.Bool()))
	case kindChoice:
		s := v.String()
		if s == "" {
			s = f.choices[0]
		}
		w.text(s)
	default:
		w.text(v.String())
	}
}

// empty tells whether a value can be left out. A choice never is: the file
// says what is meant even when it is the usual.
func (f *field) empty(v reflect.Value) bool {
	switch f.kind {
	case kindChoice:
		return false
	case kindList:
		return v.Len() == 0
	case kindObject:
		for i := range f.object.fields {
			g := &f.object.fields[i]
			if g.required || !g.empty(v.Field(g.index)) {
				return false
			}
		}
		return v.Field(f.object.extra).Len() == 0
	}
	return v.IsZero()
}

// extra writes the unknown keys of an object.
func (w *writer) extra(x Extra) {
	for _, k := range slices.Sorted(maps.Keys(x)) {
		w.key(k)
		if json.Indent(&w.b, x[k], string(w.indent), "  ") != nil {
			w.b.WriteString("null") // cannot be: Decode kept valid JSON only
		}
	}
}
