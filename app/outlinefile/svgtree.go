package outlinefile

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"

	"slipseat/engine/unit"
)

// node is an element with what the reader looks at.
type node struct {
	name string
	attr map[string]string
	kids []*node
}

func (n *node) id() string { return named(n.attr["id"]) }

// tree is a document: its root, its elements by ID and the classes and IDs
// that a style sheet hides.
type tree struct {
	root   *node
	byID   map[string]*node
	hidden map[string]bool // ".class" or "#id"
}

// Limits on what an XML file may bring along.
const (
	maxEntities = 64
	maxEntity   = 1000
	maxStyle    = 1 << 20
)

// parseTree reads the document without following anything outside it. Its own
// entities are replaced once and never inside each other, so that no file
// grows while it is read.
func parseTree(data []byte) (*tree, *unit.Fault) {
	dec := xml.NewDecoder(bytes.NewReader(data))
	dec.CharsetReader = charset
	t := &tree{byID: map[string]*node{}, hidden: map[string]bool{}}
	var stack []*node
	count := 0
	lineNo := func() int { l, _ := dec.InputPos(); return l }
	for {
		tok, err := dec.RawToken()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, xmlFault(err, lineNo(), len(data), dec.InputOffset())
		}
		switch tok := tok.(type) {
		case xml.Directive:
			dec.Entity = entities(string(tok))
		case xml.StartElement:
			if count++; count > maxElements {
				return nil, tooMany(maxElements)
			}
			if len(stack) >= maxDepth {
				return nil, &unit.Fault{Code: CodeTooDeep, Args: []unit.Arg{unit.A("limit", maxDepth), unit.A("line", lineNo())}}
			}
			n := &node{name: tok.Name.Local, attr: map[string]string{}}
			for _, a := range tok.Attr {
				// href stands with and without its prefix; others with one are no
				// concern of the drawing.
				if a.Name.Space == "" || a.Name.Local == "href" {
					n.attr[a.Name.Local] = a.Value
				}
			}
			if id := n.attr["id"]; id != "" && t.byID[id] == nil {
				t.byID[id] = n
			}
			if len(stack) > 0 {
				top := stack[len(stack)-1]
				top.kids = append(top.kids, n)
			} else if t.root == nil {
				t.root = n
			}
			stack = append(stack, n)
		case xml.EndElement:
			if len(stack) == 0 || stack[len(stack)-1].name != tok.Name.Local {
				return nil, &unit.Fault{Code: CodeBroken, Args: []unit.Arg{unit.A("line", lineNo())}}
			}
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if len(stack) > 0 && stack[len(stack)-1].name == "style" && len(tok) <= maxStyle {
				t.sheet(string(tok))
			}
		}
	}
	if len(stack) > 0 {
		return nil, &unit.Fault{Code: CodeCutShort, Args: []unit.Arg{unit.A("line", lineNo())}}
	}
	if t.root == nil || t.root.name != "svg" {
		return nil, &unit.Fault{Code: CodeUnknown}
	}
	return t, nil
}

// xmlFault tells a file that ends too soon from one that is broken.
func xmlFault(err error, line, size int, at int64) *unit.Fault {
	var syntax *xml.SyntaxError
	code := CodeBroken
	if errors.As(err, &syntax) && strings.Contains(syntax.Msg, "unexpected EOF") || at >= int64(size) {
		code = CodeCutShort
	}
	return &unit.Fault{Code: code, Args: []unit.Arg{unit.A("line", line)}}
}

// charset reads the single-byte sets that old programs write; every name is
// taken for Latin-1, which agrees with them where a drawing's figures stand.
func charset(label string, in io.Reader) (io.Reader, error) {
	if strings.HasPrefix(strings.ToLower(label), "utf-16") {
		return in, nil // decoded already, by its mark
	}
	data, err := io.ReadAll(io.LimitReader(in, MaxBytes))
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	for _, c := range data {
		b.WriteRune(rune(c))
	}
	return &b, nil
}

// entities reads the plain ones of a document's own declarations:
// <!ENTITY name "text">. Text with another entity in it is left alone.
func entities(doctype string) map[string]string {
	out := map[string]string{}
	for len(out) < maxEntities {
		_, rest, ok := strings.Cut(doctype, "<!ENTITY")
		if !ok {
			break
		}
		doctype = rest
		decl, _, ok := strings.Cut(rest, ">")
		if !ok {
			break
		}
		name, text, ok := strings.Cut(strings.TrimSpace(decl), " ")
		text = strings.TrimSpace(text)
		if !ok || len(text) < 2 || len(text) > maxEntity || text[0] != '"' && text[0] != '\'' || text[len(text)-1] != text[0] || strings.ContainsAny(text, "&<") {
			continue
		}
		out[name] = text[1 : len(text)-1]
	}
	return out
}

// sheet notes the classes and IDs that a style sheet does not display. Other
// rules do not move a line.
func (t *tree) sheet(css string) {
	for {
		head, rest, ok := strings.Cut(css, "{")
		if !ok {
			return
		}
		body, next, ok := strings.Cut(rest, "}")
		if !ok {
			return
		}
		css = next
		if !strings.EqualFold(declared(body, "display"), "none") {
			continue
		}
		for _, sel := range strings.Split(head, ",") {
			sel = strings.TrimSpace(sel)
			if len(sel) > 1 && (sel[0] == '.' || sel[0] == '#') && !strings.ContainsAny(sel[1:], " .#:>[") {
				t.hidden[sel] = true
			}
		}
	}
}

// declared is the value of a property in a style's declarations.
func declared(style, property string) string {
	for _, d := range strings.Split(style, ";") {
		k, v, ok := strings.Cut(d, ":")
		if ok && strings.EqualFold(strings.TrimSpace(k), property) {
			v, _, _ = strings.Cut(v, "!")
			return strings.TrimSpace(v)
		}
	}
	return ""
}

// prop is a property as a style or an attribute gives it.
func (n *node) prop(name string) string {
	if style := n.attr["style"]; style != "" {
		if v := declared(style, name); v != "" {
			return v
		}
	}
	return strings.TrimSpace(n.attr[name])
}

// shown tells whether the element is displayed, by itself.
func (t *tree) shown(n *node) bool {
	if n.prop("display") == "none" || t.hidden["#"+n.attr["id"]] {
		return false
	}
	for _, c := range strings.Fields(n.attr["class"]) {
		if t.hidden["."+c] {
			return false
		}
	}
	return true
}
