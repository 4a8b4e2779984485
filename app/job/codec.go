package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"sort"
	"strings"

	"slipseat/engine/unit"
)

// Limits on a job file that comes from outside.
const (
	MaxFileBytes = 96 << 20 // pictures travel as base64, 64 MiB of them at most
	maxItems     = 2000     // objects in one list
	maxText      = 10_000   // bytes of one text
	maxExtra     = 1 << 20  // bytes of the unknown keys of one object
)

// Codes of the faults that Decode returns. Where.Field holds the path, such as
// "seats[2].outline.front_width".
const (
	CodeNotJSON    = "file.not-a-job"
	CodeTooBig     = "file.too-big"
	CodeNewer      = "file.newer-version"
	CodeType       = "file.wrong-type"
	CodeMissing    = "file.key-missing"
	CodeTooMany    = "file.too-many"
	CodeTextLength = "file.text-too-long"
	CodeChoice     = "file.unknown-choice"
	CodeSameID     = "file.same-id-twice"
	CodeBadID      = "file.bad-id"
	CodePercent    = "value.percent"
	CodeMoney      = "value.money"
	CodeNumber     = "value.number"
	CodeText       = "value.text"
)

// Encode writes a job as its file: one JSON object, keys in a fixed order,
// empty values left out, unknown keys kept at the end of their object.
func Encode(j Job) []byte {
	j.Format = Format
	var b bytes.Buffer
	writeValue(&b, reflect.ValueOf(j), "")
	b.WriteByte('\n')
	return b.Bytes()
}

func writeValue(b *bytes.Buffer, v reflect.Value, indent string) {
	switch v.Kind() {
	case reflect.Struct:
		writeObject(b, v, indent)
	case reflect.Slice:
		if v.Len() == 0 {
			b.WriteString("[]")
			return
		}
		b.WriteString("[")
		for i := range v.Len() {
			if i > 0 {
				b.WriteString(",")
			}
			b.WriteString("\n" + indent + "  ")
			writeValue(b, v.Index(i), indent+"  ")
		}
		b.WriteString("\n" + indent + "]")
	default:
		var one bytes.Buffer
		e := json.NewEncoder(&one)
		e.SetEscapeHTML(false)
		if e.Encode(v.Interface()) != nil {
			one.WriteString("null")
		}
		b.Write(bytes.TrimSpace(one.Bytes()))
	}
}

func writeObject(b *bytes.Buffer, v reflect.Value, indent string) {
	type entry struct {
		key  string
		text []byte
	}
	var entries []entry
	in := indent + "  "
	for _, f := range fieldsOf(v.Type()) {
		fv := v.Field(f.index)
		if !f.required && isEmpty(fv) {
			continue
		}
		var one bytes.Buffer
		writeValue(&one, fv, in)
		entries = append(entries, entry{f.key, one.Bytes()})
	}
	if extra, ok := v.FieldByName("Extra").Interface().(Extra); ok {
		keys := make([]string, 0, len(extra))
		for k := range extra {
			keys = append(keys, k)
		}
		sort.Strings(keys)
		for _, k := range keys {
			var one bytes.Buffer
			if json.Indent(&one, extra[k], in, "  ") == nil {
				entries = append(entries, entry{k, one.Bytes()})
			}
		}
	}
	b.WriteString("{")
	for i, e := range entries {
		if i > 0 {
			b.WriteString(",")
		}
		key, _ := json.Marshal(e.key)
		b.WriteString("\n" + in)
		b.Write(key)
		b.WriteString(": ")
		b.Write(e.text)
	}
	if len(entries) > 0 {
		b.WriteString("\n" + indent)
	}
	b.WriteString("}")
}

func isEmpty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice:
		return v.Len() == 0
	case reflect.Struct:
		for _, f := range fieldsOf(v.Type()) {
			if !isEmpty(v.Field(f.index)) {
				return false
			}
		}
		extra, _ := v.FieldByName("Extra").Interface().(Extra)
		return len(extra) == 0
	}
	return v.IsZero()
}

type field struct {
	index    int
	key      string
	required bool
}

// fieldsOf reads the tags of a struct type.
func fieldsOf(t reflect.Type) []field {
	var out []field
	for i := range t.NumField() {
		key, opts, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		if key != "-" && key != "" {
			out = append(out, field{i, key, opts == "required"})
		}
	}
	return out
}

// Decode reads a job file. It is strict about types, ranges, choices and
// required keys, keeps unknown keys, and refuses a newer version without
// touching anything. The error is a unit.Fault with the path of the place.
func Decode(data []byte) (Job, error) {
	if len(data) > MaxFileBytes {
		return Job{}, unit.Fault{Code: CodeTooBig, Args: []unit.Arg{unit.A("limit", MaxFileBytes>>20)}}
	}
	var head struct {
		Format *json.Number `json:"format"`
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	var raw json.RawMessage
	if err := dec.Decode(&raw); err != nil {
		return Job{}, unit.Fault{Code: CodeNotJSON}
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return Job{}, unit.Fault{Code: CodeNotJSON}
	}
	if json.Unmarshal(raw, &head) != nil || head.Format == nil {
		return Job{}, unit.Fault{Code: CodeNotJSON}
	}
	if n, err := head.Format.Int64(); err != nil || n < 1 {
		return Job{}, unit.Fault{Code: CodeNotJSON}
	} else if n > Format {
		return Job{}, unit.Fault{Code: CodeNewer, Args: []unit.Arg{unit.A("version", int(n)), unit.A("known", Format)}}
	}
	var j Job
	if err := readValue(raw, reflect.ValueOf(&j).Elem(), ""); err != nil {
		return Job{}, err
	}
	if err := checkIDs(j); err != nil {
		return Job{}, err
	}
	return j, nil
}

func pathFault(code, path string, args ...unit.Arg) error {
	return unit.Fault{Code: code, Where: unit.Where{Field: path}, Args: append(args, unit.A("key", path))}
}

func readValue(raw json.RawMessage, v reflect.Value, path string) error {
	switch v.Kind() {
	case reflect.Struct:
		return readObject(raw, v, path)
	case reflect.Slice:
		var items []json.RawMessage
		if !startsWith(raw, '[') || json.Unmarshal(raw, &items) != nil {
			return pathFault(CodeType, path)
		}
		if len(items) > maxItems {
			return pathFault(CodeTooMany, path, unit.A("limit", maxItems))
		}
		if len(items) == 0 {
			return nil
		}
		list := reflect.MakeSlice(v.Type(), len(items), len(items))
		for i, item := range items {
			if err := readValue(item, list.Index(i), fmt.Sprintf("%s[%d]", path, i)); err != nil {
				return err
			}
		}
		v.Set(list)
		return nil
	case reflect.String:
		var s string
		if !startsWith(raw, '"') || json.Unmarshal(raw, &s) != nil {
			return pathFault(CodeType, path)
		}
		if len(s) > maxText {
			return pathFault(CodeTextLength, path, unit.A("limit", maxText))
		}
		v.SetString(s)
		return checkText(v, path)
	case reflect.Int:
		var n int
		if json.Unmarshal(raw, &n) != nil || startsWith(raw, 'n') {
			return pathFault(CodeType, path)
		}
		v.SetInt(int64(n))
		return nil
	case reflect.Bool:
		var t bool
		if json.Unmarshal(raw, &t) != nil || startsWith(raw, 'n') {
			return pathFault(CodeType, path)
		}
		v.SetBool(t)
		return nil
	}
	return pathFault(CodeType, path)
}

func startsWith(raw json.RawMessage, c byte) bool {
	raw = bytes.TrimSpace(raw)
	return len(raw) > 0 && raw[0] == c
}

func readObject(raw json.RawMessage, v reflect.Value, path string) error {
	var keys map[string]json.RawMessage
	if !startsWith(raw, '{') || json.Unmarshal(raw, &keys) != nil {
		return pathFault(CodeType, path)
	}
	for _, f := range fieldsOf(v.Type()) {
		at := strings.TrimPrefix(path+"."+f.key, ".")
		value, ok := keys[f.key]
		if !ok {
			if f.required {
				return pathFault(CodeMissing, at)
			}
			continue
		}
		delete(keys, f.key)
		if err := readValue(value, v.Field(f.index), at); err != nil {
			return err
		}
	}
	if len(keys) == 0 {
		return nil
	}
	extra, size := Extra{}, 0
	for k, value := range keys {
		size += len(k) + len(value)
		var compact bytes.Buffer
		if json.Compact(&compact, value) != nil {
			return pathFault(CodeType, path+"."+k)
		}
		extra[k] = compact.Bytes()
	}
	if size > maxExtra {
		return pathFault(CodeTextLength, path, unit.A("limit", maxExtra))
	}
	v.FieldByName("Extra").Set(reflect.ValueOf(extra))
	return nil
}

// checkText tests what a string field may hold: a length, a percentage, money
// or one of a choice's words.
func checkText(v reflect.Value, path string) error {
	var err error
	switch x := v.Interface().(type) {
	case Measure:
		_, err = x.Length()
	case Percent:
		_, err = x.Share()
	case Amount:
		_, err = x.Money()
	case Choice:
		s := v.String()
		for _, c := range x.Choices() {
			if s == c || s == "" {
				return nil
			}
		}
		return pathFault(CodeChoice, path, unit.A("text", s))
	}
	if f, ok := err.(unit.Fault); ok {
		f.Where.Field = path
		f.Args = append(f.Args, unit.A("key", path))
		return f
	}
	return err
}

// checkIDs tests that IDs are well formed and name one object each.
func checkIDs(j Job) error {
	seen := map[ID]bool{}
	note := func(id ID, path string) error {
		if len(id) < 1 || len(id) > 40 || strings.ContainsAny(string(id), "/\\ \x00\n") {
			return pathFault(CodeBadID, path)
		}
		if seen[id] {
			return pathFault(CodeSameID, path, unit.A("id", string(id)))
		}
		seen[id] = true
		return nil
	}
	if err := note(j.ID, "id"); err != nil {
		return err
	}
	for i, s := range j.Seats {
		if err := note(s.ID, fmt.Sprintf("seats[%d].id", i)); err != nil {
			return err
		}
	}
	for i, c := range j.Cloths {
		if err := note(c.ID, fmt.Sprintf("cloths[%d].id", i)); err != nil {
			return err
		}
		for k, f := range c.Flaws {
			if err := note(f.ID, fmt.Sprintf("cloths[%d].flaws[%d].id", i, k)); err != nil {
				return err
			}
		}
	}
	for i, f := range j.Foams {
		if err := note(f.ID, fmt.Sprintf("foams[%d].id", i)); err != nil {
			return err
		}
	}
	return nil
}
