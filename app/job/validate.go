package job

import (
	"reflect"
	"strconv"

	"slipseat/engine/unit"
)

// Validate gives every fault of the job that can be told without laying it
// out: values out of their range, things that are named but gone, outlines
// that cannot be drawn, build-ups and goods that make no sense. Where names
// the seat or the goods by ID and the field by its path in that object, as
// Get and Set take it. The order is that of the file.
func (j Job) Validate() []unit.Fault {
	v := validator{job: j}
	if v.faults = j.Check(); len(v.faults) > 0 {
		return v.faults // what follows reads the values
	}
	if len(j.Seats) == 0 {
		v.add(unit.Where{}, "seats", fault(CodeNoSeats))
	}
	for _, s := range j.Seats {
		v.seat(s)
	}
	for _, c := range j.Cloths {
		v.cloth(c)
	}
	for _, f := range j.Foams {
		v.engine(unit.Where{Goods: string(f.ID)}, f.faults(), same)
	}
	v.locks()
	return v.faults
}

// Check gives the faults of the job's form alone: values that cannot be read
// or are out of range, texts with signs that cannot be kept, lists too long,
// IDs that are no IDs or stand twice. A job without such faults is written and
// read back the same; every edit sees to it.
func (j Job) Check() []unit.Fault {
	v := validator{job: j}
	v.values(jobSchema, reflect.ValueOf(j), unit.Where{}, "")
	if f := j.checkIDs(); f != nil {
		v.faults = append(v.faults, *f)
	}
	return v.faults
}

type validator struct {
	job    Job
	faults []unit.Fault
}

func (v *validator) add(at unit.Where, path string, f *unit.Fault) {
	at.Field = path
	at.X, at.Y, at.HasXY = f.Where.X, f.Where.Y, f.Where.HasXY
	f.Where = at
	v.faults = append(v.faults, *f)
}

// values tests every value of an object by itself.
func (v *validator) values(o *object, x reflect.Value, at unit.Where, path string) {
	for i := range o.fields {
		f := &o.fields[i]
		fv := x.Field(f.index)
		here := join(path, f.key)
		var bad *unit.Fault
		switch f.kind {
		case kindObject:
			v.values(f.object, fv, at, here)
		case kindList:
			if fv.Len() > f.most {
				bad = fault(CodeTooMany, unit.A("limit", f.most), unit.A("key", here))
			}
			for k := range fv.Len() {
				v.values(f.object, fv.Index(k), objectAt(at, f.key, fv.Index(k)), itemPath(f.key, here, k))
			}
		case kindInt:
			bad = f.checkInt(int(fv.Int()))
		case kindBool:
		default:
			bad = f.check(fv.String())
			if bad == nil && f.required && fv.String() == "" && f.kind != kindText && f.kind != kindChoice {
				bad = fault(CodeMissing, unit.A("key", here))
			}
		}
		if bad != nil {
			v.add(at, here, bad)
		}
	}
}

// objectAt names the seat or the goods that an item of a list is.
func objectAt(at unit.Where, list string, item reflect.Value) unit.Where {
	switch list {
	case "seats":
		at.Seat = item.FieldByName("ID").String()
	case "cloths", "foams":
		at.Goods = item.FieldByName("ID").String()
	}
	return at
}

// itemPath is the path of an item: inside its own object for seats and goods,
// with its number elsewhere.
func itemPath(list, path string, k int) string {
	switch list {
	case "seats", "cloths", "foams":
		return ""
	}
	return path + "[" + strconv.Itoa(k) + "]"
}

func (v *validator) seat(s Seat) {
	at := unit.Where{Seat: string(s.ID)}
	j := v.job
	for _, ref := range [...]struct {
		path string
		id   ID
	}{{"cover", s.Cover}, {"wadding", s.Wadding}, {"dust_cloth", s.DustCloth}, {"lining", s.Lining}, {"fire_barrier", s.Barrier}, {"welt", s.Welt}} {
		if _, ok := j.Cloth(ref.id); ref.id != "" && !ok {
			v.add(at, ref.path, fault(CodeNoGoods))
		}
	}
	if _, ok := j.Foam(s.Foam); s.Foam != "" && !ok {
		v.add(at, "foam", fault(CodeNoGoods))
	}
	if s.Cover == "" {
		v.add(at, "cover", fault(CodeNoCover))
	}
	if s.Foam == "" && s.Build.Foam.mm() > 0 {
		v.add(at, "foam", fault(CodeNoFoam))
	}
	for i, l := range s.Build.Layers {
		path := "build_up.layers[" + strconv.Itoa(i) + "].foam"
		if _, ok := j.Foam(l.Foam); l.Foam != "" && !ok {
			v.add(at, path, fault(CodeNoGoods))
		} else if l.Foam == "" {
			v.add(at, path, fault(CodeNoFoam))
		}
	}
	_, faults := s.Outline.Draw()
	v.engine(at, faults, outlineField)
	numbers := map[int]bool{}
	for i, own := range s.Own {
		path := "own[" + strconv.Itoa(i) + "]."
		if numbers[own.Number] {
			v.add(at, path+"number", fault(CodeSameNumber, unit.A("number", own.Number)))
		}
		numbers[own.Number] = true
		if len(faults) == 0 {
			_, bad := s.Outline.With(own).Draw()
			v.engine(at, bad, func(f string) string { return path + f })
		}
	}
	v.engine(at, s.Spec().Check(), s.buildField)
}

func (v *validator) cloth(c Cloth) {
	at := unit.Where{Goods: string(c.ID)}
	v.engine(at, c.Goods().Check(), same)
	for i, f := range c.Flaws {
		path := "flaws[" + strconv.Itoa(i) + "]."
		if f.To.mm() <= f.From.mm() {
			v.add(at, path+"to", fault(CodeFlaw))
		}
		if f.Far.mm() <= f.Near.mm() {
			v.add(at, path+"far", fault(CodeFlaw))
		}
	}
}

// faults leaves out that nobody gave the size of a sheet yet: such foam is
// reckoned, but cannot be laid out.
func (f Foam) faults() []unit.Fault {
	var out []unit.Fault
	for _, flt := range f.Sheet().Check() {
		unknown := flt.Where.Field == "sheet_length" && f.Length == "" || flt.Where.Field == "sheet_width" && f.Width == ""
		if !unknown {
			out = append(out, flt)
		}
	}
	return out
}

func (v *validator) locks() {
	for i, g := range v.job.GlueUps {
		s, _, ok := v.job.Seat(g.Seat)
		if layers := len(s.Spec().Foam); !ok || g.Layer > layers {
			v.add(unit.Where{Seat: string(g.Seat)}, "glue_ups["+strconv.Itoa(i)+"]", fault(CodeGlueSeat))
		}
	}
	for i, l := range v.job.Locked {
		s, _, ok := v.job.Seat(l.Seat)
		_, isCloth := v.job.Cloth(l.Goods)
		_, isFoam := v.job.Foam(l.Goods)
		if !ok || l.Piece > s.Count || !isCloth && !isFoam {
			v.add(unit.Where{Seat: string(l.Seat), Goods: string(l.Goods)}, "locked["+strconv.Itoa(i)+"]", fault(CodeLockSeat))
		}
	}
}

// engine takes over the engine's faults and renames their fields into the
// job's paths.
func (v *validator) engine(at unit.Where, faults []unit.Fault, path func(string) string) {
	for _, f := range faults {
		f := f
		v.add(at, path(f.Where.Field), &f)
	}
}

func outlineField(f string) string { return "outline." + f }

// buildFields are the names of the engine's build-up that the file calls
// otherwise.
var buildFields = map[string]string{
	"wadding": "wadding_thickness", "foam_1": "foam_thickness",
}

// buildField gives the path of a field of engine/buildup.
func (s Seat) buildField(f string) string {
	if own, ok := buildFields[f]; ok {
		return "build_up." + own
	}
	base := 1 // foam_1 is the base layer when there is one
	if s.Build.Foam.mm() == 0 {
		base = 0
	}
	for i := range s.Build.Layers {
		name := "foam_" + strconv.Itoa(base+i+1)
		switch f {
		case name:
			return "build_up.layers[" + strconv.Itoa(i) + "].thickness"
		case name + "_inset":
			return "build_up.layers[" + strconv.Itoa(i) + "].inset"
		}
	}
	return "build_up." + f
}

func same(f string) string { return f }

// BuildField gives the path of a field that engine/buildup names in a fault of
// this seat, as Get and Set take it.
func (s Seat) BuildField(field string) string { return s.buildField(field) }
