package job

// FieldKind says what a field takes.
type FieldKind string

// Kinds of fields.
const (
	TakesText   FieldKind = "text"
	TakesLength FieldKind = "length"
	TakesShare  FieldKind = "share"
	TakesMoney  FieldKind = "money"
	TakesNumber FieldKind = "number"
	TakesChoice FieldKind = "choice"
	TakesSwitch FieldKind = "switch"
	TakesGoods  FieldKind = "goods" // an ID of a cloth or a foam of the job
)

// FieldInfo describes a field that Set can change: the object it belongs to
// (job, seat, own seat, hole, layer, cloth, flaw, offcut, foam, glue-up and the
// lines of order and bill), and its path there.
type FieldInfo struct {
	Object string
	Path   string
	Kind   FieldKind
}

// Fields lists every field that Set can change, in the order of the file.
func Fields() []FieldInfo {
	var all []FieldInfo
	listFields(&all, "job", jobSchema, "")
	seats, cloths := jobSchema.list("seats"), jobSchema.list("cloths")
	listFields(&all, "seat", seats, "")
	listFields(&all, "own", seats.list("own"), "")
	listFields(&all, "hole", seats.list("outline").list("holes"), "")
	listFields(&all, "layer", seats.list("build_up").list("layers"), "")
	listFields(&all, "cloth", cloths, "")
	listFields(&all, "flaw", cloths.list("flaws"), "")
	listFields(&all, "offcut", cloths.list("offcuts"), "")
	listFields(&all, "foam", jobSchema.list("foams"), "")
	listFields(&all, "glue-up", jobSchema.list("glue_ups"), "")
	listFields(&all, "extra", jobSchema.list("extras"), "")
	listFields(&all, "change", jobSchema.list("changes"), "")
	listFields(&all, "actual", jobSchema.list("actuals"), "")
	listFields(&all, "dismissal", jobSchema.list("dismissed"), "")
	return all
}

func listFields(all *[]FieldInfo, of string, o *object, path string) {
	for i := range o.fields {
		f := &o.fields[i]
		if f.kind == kindObject {
			listFields(all, of, f.object, join(path, f.key))
		} else if !f.fixed() {
			*all = append(*all, FieldInfo{of, join(path, f.key), f.takes()})
		}
	}
}

func (f *field) takes() FieldKind {
	switch f.kind {
	case kindID:
		return TakesGoods
	case kindMeasure:
		return TakesLength
	case kindPercent:
		return TakesShare
	case kindAmount:
		return TakesMoney
	case kindChoice:
		return TakesChoice
	case kindInt:
		return TakesNumber
	case kindBool:
		return TakesSwitch
	}
	return TakesText
}
