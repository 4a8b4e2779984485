package store_test

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"slipseat/app/store"
)

var (
	damageCases = flag.Int("damage-cases", 30, "how many damaged files the trial recovers from")
	damageFrom  = flag.Int("damage-from", 50, "number of the first of them")
)

// damageLimit is how long recovering from one file may take.
const damageLimit = time.Minute

// damagedFile is case n: what was done, and the file. The first cases cut the
// file off at every border of its pages.
func damagedFile(s shop, seed uint64, n int) (string, []byte) {
	size := pageSize(s.data)
	pages := len(s.data) / size
	r := rand.New(rand.NewPCG(seed, uint64(n)))
	bad := bytes.Clone(s.data)
	past := func() int { return 2*size + r.IntN(len(bad)-2*size) }
	if n < pages {
		return "cut", bad[:n*size]
	}
	switch r.IntN(12) {
	case 0, 1, 2, 3, 4:
		bad[past()] ^= 1 << r.IntN(8)
		return "bit", bad
	case 5: // in the head of a page, where it hurts
		bad[(2+r.IntN(pages-2))*size+r.IntN(96)] ^= 1 << r.IntN(8)
		return "head", bad
	case 6, 7:
		at := past()
		for i := range 16 {
			bad[min(at+i, len(bad)-1)] = byte(r.Uint32())
		}
		return "run", bad
	case 8:
		at := (2 + r.IntN(pages-2)) * size
		clear(bad[at : at+size])
		return "page", bad
	case 9:
		from, to := 2+r.IntN(pages-2), 2+r.IntN(pages-2)
		copy(bad[to*size:(to+1)*size], s.data[from*size:(from+1)*size])
		return "moved", bad
	case 10:
		return "short", bad[:past()]
	}
	for range 20 {
		bad[past()] ^= 1 << r.IntN(8)
	}
	return "many", bad
}

// recoverAll is the child of TestDamage: it recovers from each case, alone and
// with a backup, and prints a line before and after.
func recoverAll(t *testing.T, from, to int) {
	s := newShop(t, 4)
	for n := from; n < to; n++ {
		fmt.Println("begin", n)
		what, bad := damagedFile(s, *seedFlag, n)
		var outs [2]store.Outcome
		for i, backed := range []bool{false, true} {
			path := s.put(t, bad, backed)
			out, err := s.verdict(path)
			if err != nil {
				fmt.Printf("wrong %d %s: %v\n", n, what, err)
				return
			}
			outs[i] = out
			os.RemoveAll(path[:len(path)-len(store.FileName)])
		}
		fmt.Println("case", n, what, outs[0], outs[1])
	}
}

// TestDamageChild does nothing unless TestDamage calls it.
func TestDamageChild(t *testing.T) {
	from, to, ok := strings.Cut(os.Getenv("SLIPSEAT_TEST_DAMAGE"), "-")
	if !ok {
		t.Skip("the child of TestDamage")
	}
	a, _ := strconv.Atoi(from)
	b, _ := strconv.Atoi(to)
	recoverAll(t, a, b)
}

// TestDamage damages a store of four jobs in many ways and recovers from each,
// in child processes with a time limit: never a crash or a hang, never a job
// that is silently another. It counts what became of the worst job, without a
// backup and with one that is half an hour old.
func TestDamage(t *testing.T) {
	counts := [2]map[string]int{{}, {}}
	kinds := map[string]int{}
	seen := 0
	const batch = 50
	for from := *damageFrom; from < *damageFrom+*damageCases; from += batch {
		to := min(from+batch, *damageFrom+*damageCases)
		cmd := exec.Command(os.Args[0], "-test.run", "^TestDamageChild$", "-seed", strconv.FormatUint(*seedFlag, 10))
		cmd.Env = append(os.Environ(), fmt.Sprintf("SLIPSEAT_TEST_DAMAGE=%d-%d", from, to))
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		// One buffer each: the two streams are copied by different goroutines.
		var said, errs bytes.Buffer
		cmd.Stderr = &errs
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		alarm := time.AfterFunc(damageLimit, func() { cmd.Process.Kill() })
		last := "nothing"
		lines := bufio.NewScanner(io.TeeReader(out, &said))
		for lines.Scan() {
			alarm.Reset(damageLimit)
			f := strings.Fields(lines.Text())
			switch {
			case len(f) == 5 && f[0] == "case":
				seen++
				kinds[f[2]]++
				counts[0][f[3]]++
				counts[1][f[4]]++
			case len(f) > 0 && f[0] == "wrong":
				t.Error(lines.Text())
			}
			if len(f) > 0 {
				last = lines.Text()
			}
		}
		err = cmd.Wait()
		if !alarm.Stop() {
			t.Errorf("it hangs after %q", last)
		} else if err != nil {
			t.Errorf("the child died after %q: %v\n%s%s", last, err, &said, &errs)
		}
	}
	t.Logf("figures: files=%d alone_whole=%d alone_partly=%d alone_lost=%d backed_whole=%d backed_partly=%d backed_from_backup=%d backed_lost=%d", seen,
		counts[0]["whole"], counts[0]["partly"], counts[0]["lost"],
		counts[1]["whole"], counts[1]["partly"], counts[1]["from-backup"], counts[1]["lost"])
	if seen != *damageCases {
		t.Errorf("%d cases of %d ended well", seen, *damageCases)
	}
}
