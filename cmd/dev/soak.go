package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// trial is a long trial: cases without end, or as many as there are, each with
// its own seed. A case is one run of a test with larger figures than `dev test`
// gives it.
type trial struct {
	name, what string
	pkg        string // whose tests these are
	cases      int    // 0 for no end
	args       func(seed, n uint64) []string
	fuzz       bool // every fuzz target there is, in turn
}

func testArgs(run string, more ...any) []string {
	args := []string{"-test.run", "^(" + run + ")$", "-test.v", "-test.timeout", "60m"}
	for _, a := range more {
		args = append(args, fmt.Sprint(a))
	}
	return args
}

func trials() []trial {
	return []trial{
		{name: "kills", what: "a user at work is killed, 10 times a case", pkg: "app/session",
			args: func(seed, n uint64) []string {
				return testArgs("TestKilledAtWork", "-kills", 10, "-seed", seed+n*104729)
			}},
		{name: "saves", what: "a process that does nothing but save is killed, 20 times a case", pkg: "app/store",
			args: func(seed, n uint64) []string {
				return testArgs("TestKilledWhileSaving", "-kills", 20, "-seed", seed+n*104729)
			}},
		{name: "damage", what: "recovering from damaged files, 200 a case, the first cut at every page", pkg: "app/store",
			args: func(seed, n uint64) []string {
				return testArgs("TestDamage", "-damage-cases", 200, "-damage-from", n*200, "-seed", seed)
			}},
		{name: "bits", what: "every bit of the first two pages, in 64 cases", pkg: "app/store", cases: 64,
			args: func(seed, n uint64) []string { return testArgs("TestHeaderBits", "-bit-stride", 64, "-bit-first", n) }},
		{name: "disk", what: "full, read-only, removed and failing disks", pkg: "app/store",
			args: func(seed, n uint64) []string {
				return testArgs("TestSmallDisk|TestDiskMountedReadOnly|TestFolderRemovedWhileRunning|TestDiskFull|TestReadOnlyFolder|TestEveryWriteAndSyncFails|TestSalvageLeavesNothingHalfDone|TestBackupFails")
			}},
		{name: "store", what: "random work on the store beside a model", pkg: "app/store",
			args: func(seed, n uint64) []string { return testArgs("TestModel", "-seed", seed+n+1) }},
		{name: "commands", what: "random commands beside a model, 40 sequences a case", pkg: "app/store",
			args: func(seed, n uint64) []string {
				return testArgs("TestCommands", "-sequences", 40, "-seed", seed+n*7919)
			}},
		{name: "chain", what: "random jobs through everything, 25 a case, every tenth written to files", pkg: "app/chain",
			args: func(seed, n uint64) []string {
				return testArgs("TestChain", "-jobs", 25, "-export-every", 10, "-seed", seed+n*7919)
			}},
		{name: "memory", what: "10,000 edits in one process", pkg: "app/session",
			args: func(seed, n uint64) []string { return testArgs("TestMemoryIsFlat", "-edits", 10000, "-seed", seed+n) }},
		{name: "exports", what: "a process that writes files is killed, 30 times a case", pkg: "app/export",
			args: func(seed, n uint64) []string { return testArgs("TestKilledWhileWriting", "-kills", 30) }},
		{name: "fuzz", what: "every fuzz target there is, a minute each in turn", fuzz: true},
	}
}

// line is what the file of a trial holds for each case.
type line struct {
	Case    uint64           `json:"case"`
	Seed    uint64           `json:"seed"`
	At      time.Time        `json:"at"`
	Seconds float64          `json:"seconds"`
	OK      bool             `json:"ok"`
	Name    string           `json:"name,omitempty"`
	Figures map[string]int64 `json:"figures,omitempty"`
	Output  string           `json:"output,omitempty"` // of a case that failed
}

// soakFolder holds the trials' files, outside the source.
func soakFolder() (string, error) {
	if dir := os.Getenv("SLIPSEAT_SOAK"); dir != "" {
		return dir, os.MkdirAll(dir, 0o755)
	}
	dir, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	dir = filepath.Join(dir, "slipseat-soak")
	return dir, os.MkdirAll(dir, 0o755)
}

// soak runs a long trial for a while and goes on where it left off the last
// time.
func soak(root string, args []string) error {
	fs := flag.NewFlagSet("soak", flag.ContinueOnError)
	minutes := fs.Float64("minutes", 10, "how long to go on")
	seed := fs.Uint64("seed", 1, "of the cases; each seed is a series of its own")
	cores := fs.Int("cores", 1, "processors to use")
	most := fs.Int("cases", 0, "how many cases to run at most; 0 for no limit")
	show := fs.Bool("show", false, "only sum up what has been run")
	name := ""
	for len(args) > 0 {
		if !strings.HasPrefix(args[0], "-") && name == "" {
			name, args = args[0], args[1:]
			continue
		}
		if err := fs.Parse(args); err != nil {
			return err
		}
		if args = fs.Args(); len(args) > 0 && name != "" {
			return fmt.Errorf("one trial at a time: %s and %s", name, args[0])
		}
	}
	i := slices.IndexFunc(trials(), func(t trial) bool { return t.name == name })
	if i < 0 {
		fmt.Println("usage: go run ./cmd/dev soak NAME [-minutes N] [-seed S] [-cores N] [-cases N] [-show]")
		for _, t := range trials() {
			fmt.Printf("  %-9s %s\n", t.name, t.what)
		}
		return errors.New("name a trial")
	}
	t := trials()[i]
	dir, err := soakFolder()
	if err != nil {
		return err
	}
	path := filepath.Join(dir, name+".jsonl")
	done, err := readLines(path, *seed)
	if err != nil {
		return err
	}
	if *show {
		sumUp(done, path)
		return nil
	}
	runner, err := t.prepare(root, dir, *cores)
	if err != nil {
		return err
	}
	out, err := os.OpenFile(path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	defer out.Close()
	failed := 0
	end := time.Now().Add(time.Duration(*minutes * float64(time.Minute)))
	for ran := 0; time.Now().Before(end) && (*most == 0 || ran < *most); ran++ {
		n := uint64(len(done))
		if t.cases > 0 && n >= uint64(t.cases) {
			fmt.Println("every case there is has been run")
			break
		}
		l := runner(*seed, n)
		data, err := json.Marshal(l)
		if err != nil {
			return err
		}
		if _, err := out.Write(append(data, '\n')); err != nil {
			return err
		}
		done = append(done, l)
		if !l.OK {
			failed++
			fmt.Printf("case %d failed:\n%s\n", n, l.Output)
		}
	}
	sumUp(done, path)
	if failed > 0 {
		return fmt.Errorf("%d cases failed", failed)
	}
	return nil
}

// prepare builds what the cases run. Tests run in their package's folder, as
// the toolchain runs them.
func (t trial) prepare(root, dir string, cores int) (func(seed, n uint64) line, error) {
	env := environment("GOMAXPROCS=" + strconv.Itoa(cores))
	if t.fuzz {
		targets, err := fuzzTargets(root)
		if err != nil {
			return nil, err
		}
		return func(seed, n uint64) line {
			f := targets[n%uint64(len(targets))]
			args := []string{"test", "-run", "^$", "-fuzz", "^" + f.name + "$", "-fuzztime", "60s", "-fuzzminimizetime", "20x", "-parallel", strconv.Itoa(cores), "./" + f.pkg}
			l := runCase(root, env, "go", args, seed, n)
			l.Name = f.name
			l.Figures = map[string]int64{f.name + "_s": 60}
			return l
		}, nil
	}
	bin := filepath.Join(dir, t.name+".test")
	if err := run(root, environment(), "go", "test", "-c", "-o", bin, "./"+t.pkg); err != nil {
		return nil, err
	}
	return func(seed, n uint64) line {
		return runCase(filepath.Join(root, t.pkg), env, bin, t.args(seed, n), seed, n)
	}, nil
}

var figure = regexp.MustCompile(`([a-z_]+)=(-?\d+)`)

// runCase runs one case and picks up its figures.
func runCase(dir string, env []string, name string, args []string, seed, n uint64) line {
	l := line{Case: n, Seed: seed, At: time.Now().UTC(), Figures: map[string]int64{}}
	if nice, err := exec.LookPath("nice"); err == nil {
		name, args = nice, append([]string{"-n", "15", name}, args...)
	}
	cmd := exec.Command(name, args...)
	cmd.Dir, cmd.Env = dir, env
	out, err := cmd.CombinedOutput()
	l.Seconds = time.Since(l.At).Round(10 * time.Millisecond).Seconds()
	l.OK = err == nil
	if err != nil {
		l.Output = fmt.Sprintf("%v\n%s", err, out[max(0, len(out)-8000):])
	}
	for _, text := range strings.Split(string(out), "\n") {
		if _, rest, ok := strings.Cut(text, "figures: "); ok {
			for _, m := range figure.FindAllStringSubmatch(rest, -1) {
				v, _ := strconv.ParseInt(m[2], 10, 64)
				l.Figures[m[1]] += v
			}
		}
	}
	return l
}

func readLines(path string, seed uint64) ([]line, error) {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var all []line
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var l line
		if json.Unmarshal(lines.Bytes(), &l) == nil && l.Seed == seed {
			all = append(all, l)
		}
	}
	return all, lines.Err()
}

// sumUp adds the figures of all cases; those named max are the largest.
func sumUp(all []line, path string) {
	sum := map[string]int64{}
	failed, seconds := 0, 0.0
	for _, l := range all {
		seconds += l.Seconds
		if !l.OK {
			failed++
		}
		for k, v := range l.Figures {
			if strings.HasPrefix(k, "max_") {
				sum[k] = max(sum[k], v)
			} else {
				sum[k] += v
			}
		}
	}
	fmt.Printf("%d cases, %d failed, %s in all; %s\n", len(all), failed, time.Duration(seconds*float64(time.Second)).Round(time.Second), path)
	for _, k := range slices.Sorted(maps.Keys(sum)) {
		fmt.Printf("  %s %d\n", k, sum[k])
	}
}

type fuzzTarget struct{ pkg, name string }

var fuzzFunc = regexp.MustCompile(`(?m)^func (Fuzz\w+)\(`)

// fuzzTargets finds every fuzz target of the source, so that those of a new
// parser come along by themselves.
func fuzzTargets(root string) ([]fuzzTarget, error) {
	var all []fuzzTarget
	for _, top := range []string{"app", "engine", "cmd"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
				return err
			}
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			pkg, err := filepath.Rel(root, filepath.Dir(path))
			for _, m := range fuzzFunc.FindAllStringSubmatch(string(data), -1) {
				all = append(all, fuzzTarget{filepath.ToSlash(pkg), m[1]})
			}
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	if len(all) == 0 {
		return nil, errors.New("no fuzz target was found")
	}
	return all, nil
}

// fuzzSample gives every fuzz target a few seconds.
func fuzzSample(root string) error {
	targets, err := fuzzTargets(root)
	if err != nil {
		return err
	}
	for _, f := range targets {
		if err := run(root, environment(), "go", "test", "-run", "^$", "-fuzz", "^"+f.name+"$", "-fuzztime", "3s", "-fuzzminimizetime", "20x", "./"+f.pkg); err != nil {
			return err
		}
	}
	return nil
}
