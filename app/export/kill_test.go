package export

import (
	"bufio"
	"bytes"
	"context"
	"flag"
	"image/png"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipseat/engine/drawing"
)

var kills = flag.Int("kills", 8, "how often the writing child is killed")

// childDir tells this test program that it is the child of TestKilledWhileWriting.
const childDir = "SLIPSEAT_TEST_EXPORT_CHILD"

func TestMain(m *testing.M) {
	if dir := os.Getenv(childDir); dir != "" {
		files := PageFiles("sheet", "Sheet", []drawing.Drawing{sample(), sample()}, []Kind{KindPNG, KindPDF, KindSVG}, 40, drawing.Print())
		for {
			if _, err := WriteAll(context.Background(), dir, files, Options{Overwrite: true}); err != nil {
				os.Stderr.WriteString(err.Error())
				os.Exit(1)
			}
			os.Stdout.WriteString("written\n")
		}
	}
	os.Exit(m.Run())
}

// TestKilledWhileWriting kills a child that writes the same files over and
// over, and finds every file under a final name whole each time.
func TestKilledWhileWriting(t *testing.T) {
	dir := t.TempDir()
	r := rand.New(rand.NewPCG(6, 6))
	whole := 0
	for n := range *kills {
		cmd := exec.Command(os.Args[0], "-test.run", "XXX")
		cmd.Env = append(os.Environ(), childDir+"="+dir)
		var errs bytes.Buffer
		cmd.Stderr = &errs
		said, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// However slow the machine, the child is killed while it writes the
		// files anew: after it has written them once.
		bufio.NewReader(said).ReadString('\n')
		time.Sleep(time.Duration(r.IntN(120)) * time.Millisecond)
		cmd.Process.Kill()
		cmd.Wait() // it was killed; there is nothing to learn from that
		if errs.Len() > 0 {
			t.Fatalf("kill %d: %s", n, errs.String())
		}
		for _, name := range list(t, dir) {
			if strings.HasSuffix(name, ".part") {
				continue
			}
			b, err := os.ReadFile(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			ok := false
			switch filepath.Ext(name) {
			case ".png":
				_, err := png.Decode(bytes.NewReader(b))
				ok = err == nil
			case ".pdf":
				ok = bytes.HasPrefix(b, []byte("%PDF")) && bytes.HasSuffix(bytes.TrimSpace(b), []byte("%%EOF"))
			case ".svg":
				ok = bytes.HasSuffix(b, []byte("</svg>\n"))
			}
			if !ok {
				t.Fatalf("kill %d left %s broken (%d bytes)", n, name, len(b))
			}
			whole++
		}
	}
	if whole == 0 {
		t.Error("no file was ever finished: the test says nothing")
	}
	t.Logf("%d kills, %d finished files looked at", *kills, whole)
}
