package job

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"slipseat/engine/unit"
)

// The schema is read once from the types' tags and serves the file, the
// fields of the window and the checks alike:
//
//	json:"key"           the key in the file; ",required" when it must be there
//	most:"..."           the largest length, share, number or count of items
//	least:"..."          the smallest number, 0 when absent
//	text:"long"          a text of several lines
//	fixed:"yes"          never typed by the user

// Limits on texts, in characters.
const (
	maxName = 200
	maxNote = 10_000
)

// kind is what a field holds.
type kind uint8

const (
	kindObject kind = iota
	kindList
	kindText
	kindID
	kindMeasure
	kindPercent
	kindAmount
	kindForce
	kindDensity
	kindCountry
	kindCurrency
	kindColour
	kindPicture
	kindPoints
	kindChoice
	kindInt
	kindBool
)

// field is one key of an object.
type field struct {
	index    int
	key      string
	required bool
	kind     kind
	long     bool
	set      bool // by the program, never typed
	least    int
	most     int         // of a number or the items of a list
	length   unit.Length // of a measure
	share    unit.Share  // of a percentage
	choices  []string
	object   *object // of an object or the items of a list
}

// object is a struct type with its keys in the order of the file.
type object struct {
	name   string
	fields []field
	byKey  map[string]int
	extra  int // index of the field Extra
}

var (
	jobSchema  = schemaOf(reflect.TypeFor[Job]())
	headSchema = jobSchema.only("seats", "cloths", "foams", "locked")
)

// schemaOf reads a struct type. A mistake in a tag panics, at the first use of
// the package and so in every test.
func schemaOf(t reflect.Type) *object {
	o := &object{name: t.Name(), byKey: map[string]int{}, extra: -1}
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Type == reflect.TypeFor[Extra]() {
			o.extra = i
			continue
		}
		key, opts, _ := strings.Cut(f.Tag.Get("json"), ",")
		s := field{index: i, key: key, required: opts == "required", long: f.Tag.Get("text") == "long",
			set: f.Tag.Get("fixed") == "yes"}
		s.kind, s.choices = kindOf(f.Type)
		switch s.kind {
		case kindObject:
			s.object = schemaOf(f.Type)
		case kindList:
			s.object = schemaOf(f.Type.Elem())
		}
		s.limits(o.name, f.Tag)
		o.byKey[key] = len(o.fields)
		o.fields = append(o.fields, s)
	}
	if o.extra < 0 {
		panic("job: " + o.name + " cannot keep unknown keys")
	}
	return o
}

func kindOf(t reflect.Type) (kind, []string) {
	switch t {
	case reflect.TypeFor[ID]():
		return kindID, nil
	case reflect.TypeFor[Measure]():
		return kindMeasure, nil
	case reflect.TypeFor[Percent]():
		return kindPercent, nil
	case reflect.TypeFor[Amount]():
		return kindAmount, nil
	case reflect.TypeFor[Force]():
		return kindForce, nil
	case reflect.TypeFor[Density]():
		return kindDensity, nil
	case reflect.TypeFor[Country]():
		return kindCountry, nil
	case reflect.TypeFor[Currency]():
		return kindCurrency, nil
	case reflect.TypeFor[Colour]():
		return kindColour, nil
	case reflect.TypeFor[PictureID]():
		return kindPicture, nil
	case reflect.TypeFor[Points]():
		return kindPoints, nil
	}
	if c, ok := reflect.Zero(t).Interface().(Choice); ok {
		return kindChoice, c.Choices()
	}
	switch t.Kind() {
	case reflect.Struct:
		return kindObject, nil
	case reflect.Slice:
		return kindList, nil
	case reflect.String:
		return kindText, nil
	case reflect.Int:
		return kindInt, nil
	case reflect.Bool:
		return kindBool, nil
	}
	panic("job: no schema for " + t.String())
}

// limits reads the tags least and most.
func (s *field) limits(in string, tag reflect.StructTag) {
	most, limited := tag.Lookup("most")
	var err error
	switch s.kind {
	case kindMeasure:
		s.length, err = unit.Parse(most, unit.Millimetres)
	case kindPercent:
		s.share, err = Percent(most).Share()
		limited = limited && s.share > 0
	case kindInt, kindList:
		s.most, err = strconv.Atoi(most)
		if least := tag.Get("least"); least != "" && err == nil {
			s.least, err = strconv.Atoi(least)
		}
	default:
		return
	}
	if err != nil || !limited {
		panic(fmt.Sprintf("job: %s.%s needs a limit: %v", in, s.key, err))
	}
}

// only gives the schema without some keys.
func (o *object) only(without ...string) *object {
	p := &object{name: o.name, byKey: map[string]int{}, extra: o.extra}
	for _, f := range o.fields {
		leave := false
		for _, w := range without {
			leave = leave || f.key == w
		}
		if !leave {
			p.byKey[f.key] = len(p.fields)
			p.fields = append(p.fields, f)
		}
	}
	return p
}

// check tests the text of a value as the file holds it. An empty text means
// not given and is always right.
func (s *field) check(text string) *unit.Fault {
	if f := s.checkSigns(text); f != nil || text == "" {
		return f
	}
	switch s.kind {
	case kindID:
		if !ID(text).Valid() {
			return fault(CodeBadID)
		}
	case kindMeasure:
		l, err := Measure(text).Length()
		if err != nil {
			return asFault(err)
		}
		if last, _ := utf8.DecodeLastRuneInString(text); unicode.IsNumber(last) || strings.TrimSpace(text) != text {
			return fault(CodeType) // the unit is missing
		}
		if l > s.length {
			return fault(CodeTooLarge, unit.A("got", l), unit.A("most", s.length))
		}
	case kindPercent:
		v, err := Percent(text).Share()
		if err != nil {
			return asFault(err)
		}
		if v > s.share {
			return fault(CodeShare, unit.A("got", v), unit.A("most", s.share))
		}
	case kindAmount:
		_, err := Amount(text).Money()
		return asFault(err)
	case kindForce:
		_, err := Force(text).Force()
		return asFault(err)
	case kindDensity:
		_, err := Density(text).Density()
		return asFault(err)
	case kindCountry:
		if !capitals(text, 2) {
			return fault(CodeCountry, unit.A("text", text))
		}
	case kindCurrency:
		if !capitals(text, 3) {
			return fault(CodeCurrency, unit.A("text", text))
		}
	case kindColour, kindPicture, kindPoints:
		return s.checkLook(text)
	case kindChoice:
		for _, c := range s.choices {
			if text == c {
				return nil
			}
		}
		return fault(CodeChoice, unit.A("text", text))
	}
	return nil
}

// checkSigns tests a text's length and its characters: no control characters,
// but line ends and tabs in a text of several lines.
func (s *field) checkSigns(text string) *unit.Fault {
	most := maxName
	if s.kind == kindPoints {
		most = 40 * maxPoints
	}
	if s.long {
		most = maxNote
	}
	if utf8.RuneCountInString(text) > most {
		return fault(CodeText, unit.A("limit", most))
	}
	if !utf8.ValidString(text) {
		return fault(CodeSign)
	}
	for _, r := range text {
		if unicode.IsControl(r) && !(s.long && (r == '\n' || r == '\t')) {
			return fault(CodeSign)
		}
	}
	return nil
}

// checkInt tests a number against its limits.
func (s *field) checkInt(n int) *unit.Fault {
	if n < s.least || n > s.most {
		return fault(CodeRange, unit.A("got", n), unit.A("least", s.least), unit.A("most", s.most))
	}
	return nil
}
