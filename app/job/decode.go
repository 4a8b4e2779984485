package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"slipseat/engine/unit"
)

// Limits on a job file. Pictures travel in it as base64, 64 MiB of them at
// most; 96 MiB hold them and the rest.
const (
	MaxFileBytes = 96 << 20
	maxExtra     = 64     // unknown keys of one object
	maxNesting   = 32     // of objects and lists, known and unknown
	maxLays      = 50     // that travel with a job
	maxPlaces    = 20_000 // of one lay
)

// Decode reads a job file and leaves its lays aside. The rules are those of
// DecodeFile.
func Decode(data []byte) (Job, error) {
	f, err := DecodeFile(data)
	return f.Job, err
}

// DecodeFile reads a job file. It is strict about types, ranges, choices, IDs
// and required keys, refuses a key that comes twice, keeps unknown keys, and
// refuses a newer version. An absent key means empty, and for a choice its
// first word. The error is a unit.Fault with the path of the place. What it
// reads is well formed; whether it makes sense is for Validate to say.
func DecodeFile(data []byte) (File, error) {
	if len(data) > MaxFileBytes {
		return File{}, unit.Fault{Code: CodeTooBig, Args: []unit.Arg{unit.A("limit", MaxFileBytes>>20)}}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // some editors put a byte order mark
	if !utf8.Valid(data) {
		return File{}, unit.Fault{Code: CodeNotJSON, Args: []unit.Arg{unit.A("line", lineOf(data, firstInvalid(data)))}}
	}
	if f := checkSyntax(data); f != nil {
		return File{}, *f
	}
	var file File
	r := reader{}
	rest := r.members(data, "")
	if f := checkFormat(rest, r.fault); f != nil {
		return File{}, *f
	}
	delete(rest, "format")
	r.fill(jobSchema, rest, reflect.ValueOf(&file.Job).Elem(), "")
	if raw, ok := rest["lays"]; ok && r.fault == nil {
		delete(rest, "lays")
		file.Lays = r.lays(raw, "lays")
	}
	if raw, ok := rest["pictures"]; ok && r.fault == nil {
		delete(rest, "pictures")
		file.Pictures = r.pictures(raw)
	}
	file.Job.Extra = r.keep(rest, "")
	if r.fault == nil {
		r.fault = file.Job.checkIDs()
	}
	if r.fault != nil {
		return File{}, *r.fault
	}
	return file, nil
}

// checkSyntax tests that the data are one JSON value, not nested too deeply.
func checkSyntax(data []byte) *unit.Fault {
	bad := func(code string, at int64) *unit.Fault {
		return fault(code, unit.A("line", lineOf(data, int(at))), unit.A("limit", maxNesting))
	}
	depth, text := 0, false
	for i := 0; i < len(data); i++ {
		switch c := data[i]; {
		case text && c == '\\':
			i++
		case c == '"':
			text = !text
		case text:
		case c == '{' || c == '[':
			if depth++; depth > maxNesting {
				return bad(CodeTooDeep, int64(i))
			}
		case c == '}' || c == ']':
			depth--
		}
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	var raw json.RawMessage
	if err := dec.Decode(&raw); err != nil {
		at := int64(len(data))
		var s *json.SyntaxError
		if errors.As(err, &s) {
			at = s.Offset
		}
		return bad(CodeNotJSON, at)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return bad(CodeNotJSON, dec.InputOffset())
	}
	return nil
}

func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n <= 1 {
			return i
		}
		i += n
	}
	return len(data)
}

func lineOf(data []byte, at int) int {
	return 1 + bytes.Count(data[:min(max(at, 0), len(data))], []byte("\n"))
}

// checkFormat reads the version, so that a newer file is refused as such
// whatever else it holds.
func checkFormat(keys map[string]json.RawMessage, broken *unit.Fault) *unit.Fault {
	raw, ok := keys["format"]
	switch {
	case broken != nil:
		if broken.Code == CodeType { // no object at all
			return fault(CodeNotJSON, unit.A("line", 1))
		}
		return broken
	case !ok:
		return fault(CodeNoFormat)
	}
	var n int
	if !isNumber(raw) || json.Unmarshal(raw, &n) != nil || n < 1 {
		return fault(CodeNoFormat)
	}
	if n > Format {
		return fault(CodeNewer, unit.A("version", n), unit.A("known", Format))
	}
	return nil
}

// reader reads values into structs and keeps the first fault.
type reader struct{ fault *unit.Fault }

func (r *reader) fail(f *unit.Fault, path string) {
	if r.fault == nil {
		f.Where.Field = path
		f.Args = append(f.Args, unit.A("key", path))
		r.fault = f
	}
}

func join(path, key string) string { return strings.TrimPrefix(path+"."+key, ".") }

// members reads the keys of an object; nil after a fault.
func (r *reader) members(raw []byte, path string) map[string]json.RawMessage {
	if !startsWith(raw, '{') {
		r.fail(fault(CodeType), path)
		return nil
	}
	dec := json.NewDecoder(bytes.NewReader(raw))
	_, _ = dec.Token() // the brace that was just seen
	keys := map[string]json.RawMessage{}
	for dec.More() {
		t, err := dec.Token()
		key, ok := t.(string)
		var value json.RawMessage
		if err != nil || !ok || dec.Decode(&value) != nil {
			r.fail(fault(CodeNotJSON, unit.A("line", 1)), path)
			return nil
		}
		if _, twice := keys[key]; twice {
			r.fail(fault(CodeTwice), join(path, key))
			return nil
		}
		keys[key] = value
	}
	return keys
}

// object reads a struct.
func (r *reader) object(o *object, raw []byte, v reflect.Value, path string) {
	keys := r.members(raw, path)
	r.fill(o, keys, v, path)
	v.Field(o.extra).Set(reflect.ValueOf(r.keep(keys, path)))
}

// fill sets a struct's fields and takes their keys out of the map; what is
// left the schema does not know.
func (r *reader) fill(o *object, keys map[string]json.RawMessage, v reflect.Value, path string) {
	for i := range o.fields {
		if r.fault != nil {
			return
		}
		f := &o.fields[i]
		value, ok := keys[f.key]
		switch {
		case ok:
			delete(keys, f.key)
			r.value(f, value, v.Field(f.index), join(path, f.key))
		case f.required:
			r.fail(fault(CodeMissing), join(path, f.key))
		default:
			f.setAbsent(v.Field(f.index))
		}
	}
}

// setAbsent gives choices their first word where the key is absent.
func (f *field) setAbsent(v reflect.Value) {
	switch f.kind {
	case kindChoice:
		v.SetString(f.choices[0])
	case kindObject:
		for i := range f.object.fields {
			g := &f.object.fields[i]
			g.setAbsent(v.Field(g.index))
		}
	}
}

func (r *reader) value(f *field, raw []byte, v reflect.Value, path string) {
	switch f.kind {
	case kindObject:
		r.object(f.object, raw, v, path)
	case kindList:
		r.list(f, raw, v, path)
	case kindInt:
		var n int
		if !isNumber(raw) || json.Unmarshal(raw, &n) != nil {
			r.fail(fault(CodeType), path)
		} else if bad := f.checkInt(n); bad != nil {
			bad.Code = CodeFileRange
			r.fail(bad, path)
		}
		v.SetInt(int64(n))
	case kindBool:
		var t bool
		if !startsWith(raw, 't') && !startsWith(raw, 'f') || json.Unmarshal(raw, &t) != nil {
			r.fail(fault(CodeType), path)
		}
		v.SetBool(t)
	default:
		s, ok := r.str(raw, path)
		if !ok {
			return
		}
		bad := f.check(s)
		if bad == nil && f.required && s == "" && f.kind != kindText {
			bad = fault(CodeMissing)
		}
		if bad != nil {
			r.fail(bad, path)
		}
		v.SetString(s)
	}
}

func (r *reader) str(raw []byte, path string) (string, bool) {
	var s string
	if !startsWith(raw, '"') || json.Unmarshal(raw, &s) != nil {
		r.fail(fault(CodeType), path)
		return "", false
	}
	return s, true
}

func (r *reader) items(raw []byte, most int, path string) []json.RawMessage {
	var items []json.RawMessage
	if !startsWith(raw, '[') || json.Unmarshal(raw, &items) != nil {
		r.fail(fault(CodeType), path)
		return nil
	}
	if len(items) > most {
		r.fail(fault(CodeTooMany, unit.A("limit", most)), path)
		return nil
	}
	return items
}

func (r *reader) list(f *field, raw []byte, v reflect.Value, path string) {
	items := r.items(raw, f.most, path)
	if len(items) == 0 {
		return
	}
	list := reflect.MakeSlice(v.Type(), len(items), len(items))
	for i, item := range items {
		r.object(f.object, item, list.Index(i), fmt.Sprintf("%s[%d]", path, i))
		if r.fault != nil {
			return
		}
	}
	v.Set(list)
}

// keep makes the unknown keys of an object compact.
func (r *reader) keep(keys map[string]json.RawMessage, path string) Extra {
	if len(keys) == 0 || r.fault != nil {
		return nil
	}
	if len(keys) > maxExtra {
		r.fail(fault(CodeTooMany, unit.A("limit", maxExtra)), path)
		return nil
	}
	x := make(Extra, len(keys))
	for k, raw := range keys {
		var b bytes.Buffer
		if json.Compact(&b, raw) != nil {
			r.fail(fault(CodeNotJSON, unit.A("line", 1)), join(path, k))
		}
		x[k] = b.Bytes()
	}
	return x
}

func startsWith(raw []byte, c byte) bool {
	raw = bytes.TrimSpace(raw)
	return len(raw) > 0 && raw[0] == c
}

func isNumber(raw []byte) bool {
	raw = bytes.TrimSpace(raw)
	return len(raw) > 0 && (raw[0] == '-' || raw[0] >= '0' && raw[0] <= '9')
}

// checkIDs tests that every object of the job has an ID of its own.
func (j Job) checkIDs() *unit.Fault {
	seen := map[ID]bool{}
	var bad *unit.Fault
	note := func(id ID, path string, at ...any) {
		if bad != nil || !seen[id] {
			seen[id] = true
			return
		}
		path = fmt.Sprintf(path, at...)
		bad = fault(CodeSameID, unit.A("id", string(id)), unit.A("key", path))
		bad.Where.Field = path
	}
	note(j.ID, "id")
	eachID(jobSchema, reflect.ValueOf(j), "", func(id ID, path string) { note(id, "%s", path) })
	return bad
}

// eachID walks the IDs of all objects in the lists of an object.
func eachID(o *object, v reflect.Value, path string, f func(ID, string)) {
	for i := range o.fields {
		fd := &o.fields[i]
		here := join(path, fd.key)
		switch fv := v.Field(fd.index); fd.kind {
		case kindObject:
			eachID(fd.object, fv, here, f)
		case kindList:
			for k := range fv.Len() {
				at := here + "[" + strconv.Itoa(k) + "]"
				if fd.object.hasID() {
					f(ID(fv.Index(k).Field(fd.object.field("id").index).String()), at+".id")
				}
				eachID(fd.object, fv.Index(k), at, f)
			}
		}
	}
}
