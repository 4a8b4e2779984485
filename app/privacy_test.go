package app_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// shut are standard packages that nothing of ours imports, but for the places
// named: no network, and nothing is executed. The window's own program may
// start itself anew after a fault; the tools of development may run programs.
var shut = map[string]string{
	"net": "", "net/http": "", "net/rpc": "", "net/smtp": "", "net/mail": "", "net/url": "", "crypto/tls": "",
	"os/exec": "cmd/dev", "plugin": "", "expvar": "", "net/http/pprof": "", "log/syslog": "",
}

func root(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "go.mod")); err != nil {
		t.Fatal(err)
	}
	return dir
}

// TestNoNetwork: no shipped file of ours imports the network, starts a program
// or calls the one way to start a process, but where that is said above.
func TestNoNetwork(t *testing.T) {
	dir := root(t)
	seen := 0
	for _, top := range []string{"app", "assets", "cmd", "engine", "views"} {
		err := filepath.WalkDir(filepath.Join(dir, top), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			seen++
			rel, _ := filepath.Rel(dir, filepath.Dir(path))
			pkg := filepath.ToSlash(rel)
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, data, parser.ImportsOnly)
			if err != nil {
				return err
			}
			for _, imp := range file.Imports {
				name, _ := strconv.Unquote(imp.Path.Value)
				if where, is := shut[name]; is && (where == "" || where != pkg) {
					t.Errorf("%s imports %s", path, name)
				}
			}
			if bytes.Contains(data, []byte("os.StartProcess(")) && pkg != "cmd/slipseat" {
				t.Errorf("%s starts a process", path)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if seen < 100 {
		t.Errorf("only %d files were read: the walk is wrong", seen)
	}
}

// viaToolkit are the modules through which the standard library's network
// packages come into the programs: the window toolkit can show pictures by
// address, and talks to the desktop on the same machine. Nothing of ours calls
// either. A new name here is a question to be answered, not a line to be added.
// wazero runs the decoder of HEIC pictures in a sandbox of its own; it opens
// sockets only for a host that configures them, which the decoder does not.
var viaToolkit = []string{"fyne.io/fyne/v2", "fyne.io/systray", "github.com/godbus/dbus/v5", "github.com/rymdport/portal", "github.com/fredbi/uri",
	"github.com/nicksnyder/go-i18n/v2", "github.com/yuin/goldmark", "golang.org/x/net", "codeberg.org/go-pdf/fpdf", "github.com/peterstace/simplefeatures",
	"github.com/tetratelabs/wazero"}

// TestNetworkComesWithTheToolkitOnly looks at everything that the programs are
// built from.
func TestNetworkComesWithTheToolkitOnly(t *testing.T) {
	gotool, err := exec.LookPath("go")
	if err != nil {
		t.Skip("the go command is not here")
	}
	cmd := exec.Command(gotool, "list", "-deps", "-e", "-json=ImportPath,Imports,Standard,Module", "./cmd/slipseat", "./cmd/cutsheet")
	cmd.Dir = root(t)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	packages := 0
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			ImportPath string
			Imports    []string
			Standard   bool
			Module     *struct {
				Path string
				Main bool
			}
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		packages++
		if p.Standard || p.Module == nil {
			continue
		}
		for _, imp := range p.Imports {
			if imp != "net" && imp != "net/http" && imp != "crypto/tls" && imp != "net/smtp" && imp != "net/rpc" {
				continue
			}
			known := false
			for _, m := range viaToolkit {
				known = known || m == p.Module.Path
			}
			if p.Module.Main || !known {
				t.Errorf("%s imports %s", p.ImportPath, imp)
			}
		}
	}
	if packages < 200 {
		t.Errorf("only %d packages were listed", packages)
	}
}
