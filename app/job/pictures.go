package job

import (
	"encoding/base64"
	"encoding/json"
	"maps"
	"reflect"
	"slices"

	"slipseat/engine/unit"
)

// maxPictures is how much the pictures of a job file may come to, in bytes.
const maxPictures = 64 << 20

// Pictures lists the pictures that the job refers to, each once, in the order
// of the file.
func (j Job) Pictures() []PictureID {
	var out []PictureID
	var walk func(o *object, v reflect.Value)
	walk = func(o *object, v reflect.Value) {
		for i := range o.fields {
			f := &o.fields[i]
			fv := v.Field(f.index)
			switch f.kind {
			case kindObject:
				walk(f.object, fv)
			case kindList:
				for k := range fv.Len() {
					walk(f.object, fv.Index(k))
				}
			case kindPicture:
				if id := PictureID(fv.String()); id != "" && !slices.Contains(out, id) {
					out = append(out, id)
				}
			}
		}
	}
	walk(jobSchema, reflect.ValueOf(j))
	return out
}

func (w *writer) pictures(all map[PictureID][]byte) {
	if len(all) == 0 {
		return
	}
	w.key("pictures")
	w.open('{')
	for _, id := range slices.Sorted(maps.Keys(all)) {
		w.key(string(id))
		w.b.WriteByte('"')
		e := base64.NewEncoder(base64.StdEncoding, &w.b)
		_, _ = e.Write(all[id]) // into memory
		_ = e.Close()
		w.b.WriteByte('"')
	}
	w.shut('}')
}

// pictures reads the pictures of a file. One whose bytes are not those that
// its name was made from was damaged on the way.
func (r *reader) pictures(raw json.RawMessage) map[PictureID][]byte {
	out := map[PictureID][]byte{}
	total := 0
	for key, value := range r.members(raw, "pictures") {
		text, ok := r.str(value, join("pictures", key))
		if !ok {
			return nil
		}
		data, err := base64.StdEncoding.DecodeString(text)
		id := PictureID(key)
		if total += len(data); total > maxPictures {
			r.fail(fault(CodeTooBig, unit.A("limit", maxPictures>>20)), "pictures")
			return nil
		}
		if err != nil || PictureIDOf(data) != id {
			r.fail(fault(CodePicture), join("pictures", key))
			return nil
		}
		out[id] = data
	}
	return out
}
