package job

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"slipseat/engine/unit"
)

// rowOf is the beginning of a key's row in FORMAT.md.
func rowOf(f *field) string {
	var takes string
	switch f.kind {
	case kindObject:
		takes = "object " + f.object.name
	case kindList:
		takes = fmt.Sprintf("list of %s, at most %d", f.object.name, f.most)
	case kindText:
		takes = fmt.Sprintf("text, %d", maxName)
		if f.long {
			takes = fmt.Sprintf("lines, %d", maxNote)
		}
	case kindID:
		takes = "ID"
	case kindMeasure:
		takes = "length to " + unit.Typed(f.length, unit.Millimetres)
		if f.length >= unit.M {
			takes = "length to " + unit.Typed(f.length, unit.Metres)
		}
	case kindPercent:
		takes = fmt.Sprintf("share to %d %%", f.share/unit.Percent)
	case kindAmount:
		takes = "money"
	case kindForce:
		takes = "force"
	case kindDensity:
		takes = "density"
	case kindCountry:
		takes = "country"
	case kindCurrency:
		takes = "currency"
	case kindColour:
		takes = "colour"
	case kindPicture:
		takes = "picture"
	case kindPoints:
		takes = "points"
	case kindChoice:
		takes = "`" + strings.Join(f.choices, "` `") + "`"
	case kindInt:
		takes = fmt.Sprintf("number %d to %d", f.least, f.most)
	case kindBool:
		takes = "switch"
	}
	if f.required {
		takes += ", required"
	}
	return fmt.Sprintf("| `%s` | %s |", f.key, takes)
}

// TestFormatIsWrittenDown holds FORMAT.md against the schema: every object has
// a section, every key its row with what it takes, in the order of the file.
func TestFormatIsWrittenDown(t *testing.T) {
	raw, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	sections := map[string][]string{}
	name := ""
	for _, line := range strings.Split(string(raw), "\n") {
		if after, ok := strings.CutPrefix(line, "### "); ok {
			name = after
		}
		if strings.HasPrefix(line, "| `") && name != "" {
			sections[name] = append(sections[name], line)
		}
	}
	var walk func(o *object)
	walk = func(o *object) {
		rows := sections[o.name]
		for i := range o.fields {
			f := &o.fields[i]
			if f.object != nil {
				walk(f.object)
			}
			want := rowOf(f)
			if i >= len(rows) || !strings.HasPrefix(rows[i], want) {
				got := "nothing"
				if i < len(rows) {
					got = rows[i]
				}
				t.Errorf("%s: row %d is %q, want %q ...", o.name, i+1, got, want)
				return
			}
			if len(strings.TrimSpace(strings.TrimPrefix(rows[i], want))) < 4 {
				t.Errorf("%s.%s is not explained", o.name, f.key)
			}
		}
		if len(rows) > len(o.fields) {
			t.Errorf("%s: %d rows too many", o.name, len(rows)-len(o.fields))
		}
	}
	walk(jobSchema)
}
