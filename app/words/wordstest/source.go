// Package wordstest helps tests to see that every word a person reads stands
// in the catalogue: it reads the codes out of the Go source, and finds literal
// labels in views.
package wordstest

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// Place is a literal in the source.
type Place struct {
	File  string
	Line  int
	Value string
}

// Source is what the words have to do with in a part of the source.
type Source struct {
	// Codes by what they stand for: "fault", "why", "caution"; and "" for a
	// constant named Code... whose use the text alone does not tell.
	Codes map[string][]Place
	// Labels are the keys of calls such as w.Label("key").
	Labels []Place
	// Literals are all string literals, Args the names of arguments given to
	// unit.A.
	Literals map[string]bool
	Args     map[string]bool
}

// Root finds the folder of the module above the working folder.
func Root() (string, error) {
	dir, err := os.Getwd()
	for err == nil {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", os.ErrNotExist
		}
		dir = up
	}
	return "", err
}

// Read reads the shipped source below some folders of a module.
func Read(root string, folders ...string) (*Source, error) {
	s := &Source{Codes: map[string][]Place{}, Literals: map[string]bool{}, Args: map[string]bool{}}
	err := files(root, folders, func(set *token.FileSet, file *ast.File) {
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.BasicLit:
				if v, ok := text(n); ok {
					s.Literals[v] = true
				}
			case *ast.ValueSpec:
				for i, name := range n.Names {
					if i < len(n.Values) && strings.HasPrefix(name.Name, "Code") {
						s.code("", set, n.Values[i])
					}
				}
			case *ast.CompositeLit:
				s.composite(set, n)
			case *ast.CallExpr:
				s.call(set, n)
			}
			return true
		})
	})
	return s, err
}

func (s *Source) code(kind string, set *token.FileSet, e ast.Expr) {
	if v, ok := text(e); ok {
		s.Codes[kind] = append(s.Codes[kind], place(set, e, v))
	}
}

// composite reads Fault{Code: "..."}, Term{Code: "..."} and Caution{Code:
// "..."}.
func (s *Source) composite(set *token.FileSet, n *ast.CompositeLit) {
	kind, ok := map[string]string{"Fault": "fault", "Term": "why", "Caution": "caution"}[lastName(n.Type)]
	if !ok {
		return
	}
	for _, e := range n.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok && lastName(kv.Key) == "Code" {
			s.code(kind, set, kv.Value)
		}
	}
}

// call reads why.Add("..."), w.Label("...") and unit.A("...").
func (s *Source) call(set *token.FileSet, n *ast.CallExpr) {
	if len(n.Args) == 0 {
		return
	}
	v, ok := text(n.Args[0])
	if !ok {
		return
	}
	switch name := lastName(n.Fun); {
	case name == "Add" && len(n.Args) >= 2:
		s.code("why", set, n.Args[0])
	case name == "Label" || name == "LabelIn":
		s.Labels = append(s.Labels, place(set, n.Args[0], v))
	case name == "A":
		s.Args[v] = true
	}
}

// LiteralLabels finds texts for people that stand in the source below some
// folders instead of in the catalogue: literals with a space between words, and
// single words with a capital. Literals that no person reads are let be:
// arguments of errors, panics and logs, struct tags, and lines with the comment
// "not shown".
func LiteralLabels(root string, folders ...string) ([]Place, error) {
	var found []Place
	err := files(root, folders, func(set *token.FileSet, file *ast.File) {
		quiet := map[int]bool{}
		for _, g := range file.Comments {
			for _, c := range g.List {
				if strings.Contains(c.Text, "not shown") {
					quiet[set.Position(c.Pos()).Line] = true
				}
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.Field:
				return n.Tag == nil
			case *ast.CallExpr:
				if forProgrammers(n.Fun) {
					return false
				}
			case *ast.BasicLit:
				if v, ok := text(n); ok && readByPeople(v) && !quiet[set.Position(n.Pos()).Line] {
					found = append(found, place(set, n, v))
				}
			}
			return true
		})
	})
	return found, err
}

// forProgrammers tells whether a call's texts are for programmers.
func forProgrammers(fun ast.Expr) bool {
	sel, ok := fun.(*ast.SelectorExpr)
	if !ok {
		return lastName(fun) == "panic"
	}
	switch lastName(sel.X) {
	case "errors", "log", "slog":
		return true
	}
	return sel.Sel.Name == "Errorf" || lastName(sel.X) == "fmt" && strings.HasPrefix(sel.Sel.Name, "Fprint")
}

// readByPeople tells whether a literal looks like words for people.
func readByPeople(s string) bool {
	letters := func(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }
	words := strings.FieldsFunc(s, func(r rune) bool { return !letters(r) })
	if len(words) == 0 || len(words[0]) < 2 {
		return false
	}
	first := words[0]
	capital := first[0] >= 'A' && first[0] <= 'Z' && strings.ToLower(first[1:]) == first[1:] && strings.HasPrefix(s, first)
	return capital || strings.Contains(strings.TrimSpace(s), " ") && len(words) > 1
}

// files parses the shipped files below the folders, in order.
func files(root string, folders []string, visit func(*token.FileSet, *ast.File)) error {
	for _, folder := range folders {
		err := filepath.WalkDir(filepath.Join(root, folder), func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() {
				if d.Name() == "testdata" || strings.HasSuffix(d.Name(), "test") {
					return filepath.SkipDir
				}
				return nil
			}
			if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return nil
			}
			set := token.NewFileSet()
			f, err := parser.ParseFile(set, path, nil, parser.ParseComments)
			if err != nil {
				return err
			}
			visit(set, f)
			return nil
		})
		if err != nil && !os.IsNotExist(err) {
			return err
		}
	}
	return nil
}

func place(set *token.FileSet, n ast.Node, v string) Place {
	p := set.Position(n.Pos())
	return Place{p.Filename, p.Line, v}
}

// text gives the value of a string literal.
func text(e ast.Expr) (string, bool) {
	l, ok := e.(*ast.BasicLit)
	if !ok || l.Kind != token.STRING {
		return "", false
	}
	v, err := strconv.Unquote(l.Value)
	return v, err == nil
}

// lastName is the name of an identifier, or the last one of a selector.
func lastName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	}
	return ""
}
