package outlinefile

import (
	"bytes"
	"math"
	"strconv"
	"strings"

	"slipseat/engine/unit"
)

// A DXF file in ASCII is a list of tags: a group code on one line, its value
// on the next. Groups and entities below follow the DXF Reference, chapters
// HEADER, TABLES, BLOCKS and ENTITIES.

// tag is one group.
type tag struct {
	code int
	text string
	line int // of the code, from 1
}

// entity is a record that begins with group 0: its tags, without that one.
type entity struct {
	name string
	tags []tag
	line int
	// Parts are the vertices of a POLYLINE.
	parts []entity
}

// looksDXF tells whether a file begins with a group: a comment (999) or the
// beginning of a section.
func looksDXF(head []byte) bool {
	first, rest, _ := bytes.Cut(head, []byte("\n"))
	code := strings.TrimSpace(string(first))
	if code == "999" {
		return true
	}
	value, _, _ := bytes.Cut(rest, []byte("\n"))
	return code == "0" && strings.TrimSpace(string(value)) == "SECTION"
}

// tagReader gives the tags of a file in turn.
type tagReader struct {
	data []byte
	line int
}

func (r *tagReader) next() (string, bool) {
	if len(r.data) == 0 {
		return "", false
	}
	r.line++
	i := bytes.IndexByte(r.data, '\n')
	if i < 0 {
		s := r.data
		r.data = nil
		return strings.TrimRight(string(s), "\r"), true
	}
	s := r.data[:i]
	r.data = r.data[i+1:]
	return strings.TrimRight(string(s), "\r"), true
}

// tag reads the next group; ok is false at the end of the file.
func (r *tagReader) tag() (t tag, ok bool, f *unit.Fault) {
	for {
		code, more := r.next()
		if !more {
			return t, false, nil
		}
		t.line = r.line
		code = strings.TrimSpace(code)
		value, more := r.next()
		if !more {
			if code == "" {
				return t, false, nil
			}
			return t, false, cutShort(t.line)
		}
		n, err := strconv.Atoi(code)
		if err != nil {
			return t, false, &unit.Fault{Code: CodeBroken, Args: []unit.Arg{unit.A("line", t.line)}}
		}
		if n == 999 {
			continue // a comment
		}
		t.code, t.text = n, strings.TrimSpace(value)
		return t, true, nil
	}
}

func cutShort(line int) *unit.Fault {
	return &unit.Fault{Code: CodeCutShort, Args: []unit.Arg{unit.A("line", line)}}
}

// dxfFile is what is kept of a file.
type dxfFile struct {
	units    int // $INSUNITS
	metric   int // $MEASUREMENT, -1 when absent
	hidden   map[string]bool
	blocks   map[string]block
	entities []entity
}

// block is a drawing inside the drawing, with the point that is put where it
// is inserted.
type block struct {
	x, y     float64
	entities []entity
}

// parseDXF reads the records of a file. A file without its end mark was cut
// short.
func parseDXF(data []byte) (*dxfFile, *unit.Fault) {
	d := &dxfFile{metric: -1, hidden: map[string]bool{}, blocks: map[string]block{}}
	r := &tagReader{data: data}
	var section, variable string
	var cur *entity
	var list *[]entity
	var blk *entity   // the head of the block being read
	var body []entity // and what is in it
	count := 0
	flush := func() {
		if cur == nil {
			return
		}
		e := *cur
		cur = nil
		switch {
		case section == "TABLES":
			if e.name == "LAYER" && (e.whole(70)&1 != 0 || e.whole(62) < 0) {
				d.hidden[strings.ToUpper(e.text(2))] = true
			}
		case e.name == "BLOCK":
			blk, body = &e, nil
			list = &body
		case e.name == "ENDBLK":
			if blk != nil {
				d.blocks[strings.ToUpper(blk.text(2))] = block{blk.num(10), blk.num(20), body}
			}
			blk, list = nil, nil
		case list == nil:
		case e.name == "VERTEX" && len(*list) > 0 && (*list)[len(*list)-1].name == "POLYLINE":
			p := &(*list)[len(*list)-1]
			p.parts = append(p.parts, e)
		case e.name == "SEQEND":
			// Closes a POLYLINE; what follows is an entity of its own.
		default:
			*list = append(*list, e)
		}
	}
	for {
		t, ok, f := r.tag()
		if f != nil {
			return nil, f
		}
		if !ok {
			return nil, cutShort(r.line)
		}
		if t.code != 0 {
			switch {
			case cur != nil:
				cur.tags = append(cur.tags, t)
			case section == "" && t.code == 2:
				section = t.text
				if list = nil; section == "ENTITIES" {
					list = &d.entities
				}
			case section == "HEADER" && t.code == 9:
				variable = t.text
			case section == "HEADER" && t.code == 70:
				v, _ := strconv.Atoi(t.text)
				switch variable {
				case "$INSUNITS":
					d.units = v
				case "$MEASUREMENT":
					d.metric = v
				}
			}
			continue
		}
		flush()
		switch t.text {
		case "EOF":
			return d, nil
		case "SECTION":
			section, variable = "", ""
		case "ENDSEC":
			section, list = "-", nil
		default:
			if count++; count > maxElements {
				return nil, tooMany(maxElements)
			}
			cur = &entity{name: t.text, line: t.line}
		}
	}
}

// text is the value of the first group with a code, "" when there is none.
func (e entity) text(code int) string {
	for _, t := range e.tags {
		if t.code == code {
			return t.text
		}
	}
	return ""
}

func (e entity) has(code int) bool {
	for _, t := range e.tags {
		if t.code == code {
			return true
		}
	}
	return false
}

// num is a number, 0 when it is absent, NaN when it is none; what is made with
// NaN is refused later, by its figures.
func (e entity) num(code int) float64 { return e.numOr(code, 0) }

func (e entity) numOr(code int, def float64) float64 {
	s := e.text(code)
	if s == "" {
		return def
	}
	return number(s)
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || strings.ContainsAny(s, "xXpP_") {
		return math.NaN()
	}
	return v
}

func (e entity) whole(code int) int {
	v, _ := strconv.Atoi(e.text(code))
	return v
}

// list is every number with a code, in order.
func (e entity) list(code int) []float64 {
	var out []float64
	for _, t := range e.tags {
		if t.code == code {
			out = append(out, number(t.text))
		}
	}
	return out
}

// dxfUnits are the values of $INSUNITS that a board may be drawn in, with
// millimetres for each.
var dxfUnits = map[int]struct {
	of   float64
	unit Unit
}{
	1: {25.4, Inch}, 2: {304.8, Foot}, 4: {1, Millimetre}, 5: {10, Centimetre}, 6: {1000, Metre},
	8: {25.4e-6, Inch}, 9: {0.0254, Inch}, 10: {914.4, Foot}, 13: {1e-3, Millimetre}, 14: {100, Metre},
}

// readDXF reads a file into the collector.
func readDXF(data []byte, o Options, c *collector, d *Drawing) *unit.Fault {
	file, f := parseDXF(data)
	if f != nil {
		return f
	}
	per := 1.0
	u, said := dxfUnits[file.units]
	d.Said = said
	switch {
	case o.Unit != AsFile:
		per, d.Unit = o.Unit.MM(), o.Unit
	case said:
		per, d.Unit = u.of, u.unit
	case file.metric == 0:
		per, d.Unit = Inch.MM(), Inch
	default:
		d.Unit = Millimetre
	}
	r := &dxfReader{file: file, c: c}
	r.entities(file.entities, scaled(per, per), 0)
	return r.fault
}
