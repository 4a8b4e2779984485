package engine_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// mayImport lists, for every package of ours, the packages of ours that its
// shipped files may import. The rules follow the work: geometry knows no
// seats, the lay knows no seats, nothing below views knows the toolkit. Do not
// relax a line to make a build pass; move the code to where it belongs.
var mayImport = map[string]string{
	"engine":         "",
	"engine/unit":    "",
	"engine/geom":    "engine/unit",
	"engine/seat":    "engine/unit engine/geom",
	"engine/buildup": "engine/unit engine/geom engine/seat",
	"engine/trace":   "engine/unit engine/geom",
	// The maker of test photos shares no code with the tracer it tests.
	"engine/trace/tracetest":     "",
	"engine/cloth":               "engine/unit engine/geom engine/lay",
	"engine/lay":                 "engine/unit engine/geom",
	"engine/lay/hand":            "engine/unit engine/geom engine/lay",
	"engine/lay/jobs":            "engine/unit engine/geom engine/lay",
	"engine/lay/linear":          "",
	"engine/lay/search":          "engine/unit engine/geom engine/lay engine/lay/search/skyline engine/lay/search/separate engine/lay/search/exact engine/lay/search/columns engine/lay/search/bars",
	"engine/lay/search/bars":     "engine/unit engine/geom engine/lay engine/lay/linear",
	"engine/lay/search/columns":  "engine/unit engine/geom engine/lay engine/lay/linear",
	"engine/lay/search/skyline":  "engine/unit engine/geom engine/lay",
	"engine/lay/search/exact":    "engine/unit engine/geom engine/lay engine/lay/search/skyline",
	"engine/lay/search/separate": "engine/unit engine/geom engine/lay",
	"engine/order":               "engine/unit engine/geom engine/seat engine/buildup engine/cloth engine/lay",
	"engine/caution":             "engine/unit engine/geom engine/seat engine/buildup engine/cloth engine/lay engine/order",
	"engine/plan":                "engine/unit engine/geom engine/seat engine/buildup engine/cloth engine/lay engine/order engine/caution",
	"engine/swatch":              "engine/unit engine/geom engine/trace",
	"engine/seatview":            "engine/unit engine/geom engine/seat engine/buildup engine/swatch",
	"engine/drawing":             "engine/swatch engine/unit engine/geom engine/seat engine/buildup engine/cloth engine/lay engine/order engine/caution engine/plan",

	"app":                 "",
	"app/look":            "app/job engine/*",
	"app/portrait":        "app/job app/raster app/words engine/*",
	"app/raster":          "assets engine/*",
	"app/words":           "assets engine/*",
	"app/words/wordstest": "app/words",
	"app/picture":         "app/words engine/*",
	"app/publish":         "app/look app/portrait app/export app/job app/picture app/raster app/words engine/*",
	"app/figures":         "engine/*",
	// Reads picture files; the engine opens none and knows no formats.
	"app/photo":               "engine/*",
	"app/job":                 "assets engine/*",
	"app/edit":                "app/job engine/*",
	"app/crash":               "",
	"app/chain":               "",
	"app/edit/edittest":       "app/edit app/job engine/*",
	"app/task":                "",
	"app/store":               "app/job app/edit engine/*",
	"app/store/storetest":     "app/store app/job app/edit engine/*",
	"app/export":              "app/raster app/words app/job assets engine/*",
	"app/outlinefile":         "engine/unit engine/geom",
	"app/session/sessiontest": "app/session app/job app/edit app/store engine/*",
	"app/session":             "app/job app/edit app/task app/store app/export app/words app/raster app/outlinefile assets engine/*",

	"views":        "app/look app/portrait app/photo app/outlinefile app/publish app/picture views/* app/session app/job app/edit app/words app/raster app/export assets engine/*",
	"views/kit":    "engine/unit assets",
	"views/board":  "views/kit engine/unit engine/geom engine/drawing assets",
	"views/stages": "app/outlinefile app/publish app/picture views/kit views/board app/session app/job app/edit app/words app/raster engine/* assets",

	"assets":       "",
	"cmd/slipseat": "views/* views app/* assets engine/*",
	"cmd/cutsheet": "app/* assets engine/*",
	"cmd/laybench": "engine/*",
	"cmd/dev":      "app/* assets engine/*",
}

// doors are outside modules that only some packages may import.
var doors = []struct{ module, only string }{
	{"github.com/boltdb/bolt", "app/store"},
	{"github.com/fogleman/gg", "app/raster"},
	{"codeberg.org/go-pdf/fpdf", "app/export"},
	{"fyne.io/", "views views/* cmd/slipseat"},
}

// enginePure are standard packages that the engine stays clear of: it opens no
// files, reads no clock, draws no global random numbers and writes no log.
var enginePure = []string{"os", "log", "log/slog", "net", "net/http", "time", "io/ioutil", "path/filepath"}

func TestLayering(t *testing.T) {
	root := moduleRoot(t)
	seen := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && path != root || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		rel, _ := filepath.Rel(root, filepath.Dir(path))
		pkg := filepath.ToSlash(rel)
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		seen++
		for _, imp := range file.Imports {
			name, _ := strconv.Unquote(imp.Path.Value)
			if why := forbidden(pkg, name); why != "" {
				t.Errorf("%s imports %s: %s", filepath.Join(pkg, d.Name()), name, why)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 5 {
		t.Fatalf("only %d files read from %s: the walk is wrong", seen, root)
	}
}

// TestLayeringBites plants imports that must be refused.
func TestLayeringBites(t *testing.T) {
	for _, c := range []struct{ pkg, imp string }{
		{"engine/lay", "slipseat/engine/seat"},
		{"engine/plan", "slipseat/engine/lay/search"},
		{"app/session", "fyne.io/fyne/v2"},
		{"views/board", "github.com/fogleman/gg"},
		{"views", "slipseat/engine/lay/search"},
		{"engine/geom", "os"},
		{"cmd/cutsheet", "slipseat/views"},
		{"app/unheard-of", "slipseat/engine/unit"},
	} {
		if forbidden(c.pkg, c.imp) == "" {
			t.Errorf("%s importing %s was let through", c.pkg, c.imp)
		}
	}
	if why := forbidden("views", "slipseat/app/session"); why != "" {
		t.Errorf("views importing app/session: %s", why)
	}
}

func forbidden(pkg, imp string) string {
	for _, d := range doors {
		if (imp == d.module || strings.HasPrefix(imp, strings.TrimSuffix(d.module, "/")+"/")) && !allowed(d.only, pkg) {
			return "only " + d.only + " may"
		}
	}
	if strings.HasPrefix(pkg, "engine") {
		for _, p := range enginePure {
			if imp == p {
				return "the engine is pure"
			}
		}
	}
	ours, is := strings.CutPrefix(imp, "slipseat/")
	if !is {
		return ""
	}
	rule, known := mayImport[pkg]
	if !known {
		return "the package " + pkg + " has no line in the layering policy"
	}
	if ours == "engine/lay/search" || strings.HasPrefix(ours, "engine/lay/search/") {
		// The search is started by the session and by commands, never by views.
		switch {
		case pkg == "app/session", strings.HasPrefix(pkg, "cmd/"), strings.HasPrefix(pkg, "engine/lay/search"):
			return ""
		}
		return "only the session and the commands start a search"
	}
	if !allowed(rule, ours) {
		return "allowed are: " + rule
	}
	return ""
}

// allowed tells whether name matches one of the space-separated patterns; a
// pattern may end in /* for everything below it.
func allowed(patterns, name string) bool {
	for _, p := range strings.Fields(patterns) {
		if p == name {
			return true
		}
		if below, ok := strings.CutSuffix(p, "/*"); ok && strings.HasPrefix(name, below+"/") {
			return true
		}
	}
	return false
}

func moduleRoot(t *testing.T) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the test")
		}
		dir = up
	}
}
