package main

import (
	"fmt"
	"strings"
)

// box is where a piece or a flaw lies, as the probe tells it, in millimetres.
type box struct{ x0, y0, x1, y1 float64 }

func boxOf(value string) (b box, err error) {
	_, err = fmt.Sscan(value, &b.x0, &b.y0, &b.x1, &b.y1)
	return b, err
}

// layByHand drags a piece along the roll and sees that it is locked there.
func (s *script) layByHand() error {
	if err := s.stage("roll"); err != nil {
		return err
	}
	before := s.read("piece:A1")
	if before == "" {
		return fmt.Errorf("there is no piece A1 on the roll")
	}
	if err := s.w.drag("piece:A1", 150, 0, 60); err != nil {
		return err
	}
	s.drags = append([]float64(nil), s.w.state.frames...) // the window tells all since it opened
	now := ""
	err := s.w.until("A1 is locked", func(st *state) bool { now = st.values["piece:A1"]; return strings.HasSuffix(now, "locked") })
	if err != nil {
		return fmt.Errorf("%w (it is %s, it was %s)", err, now, before)
	}
	was, _ := boxOf(before)
	is, err := boxOf(now)
	if err != nil || is.x0 <= was.x0 {
		return fmt.Errorf("A1 was dragged along from %s to %s", before, now)
	}
	s.put = now
	return s.shows("locked")
}

// stays waits until the search has ended and sees that the locked piece is
// where it was put.
func (s *script) stays() error {
	err := s.w.until("the search has ended", func(st *state) bool {
		line := st.values["lay:roll"]
		return line != "" && !strings.Contains(line, "still looking")
	})
	if err != nil {
		return err
	}
	if now := s.read("piece:A1"); now != s.put {
		return fmt.Errorf("A1 was put at %s and is at %s after the search", s.put, now)
	}
	return nil
}

// markFlaw draws a flaw over a piece and sees that no piece lies on it then.
func (s *script) markFlaw() error {
	if err := s.w.click("button:roll-mark"); err != nil {
		return err
	}
	if err := s.w.drag("piece:A2", 40, 30, 30); err != nil {
		return err
	}
	err := s.w.until("there is a flaw that no piece lies on", func(st *state) bool {
		found := false
		for name, v := range st.values {
			f, err := boxOf(v)
			if !strings.HasPrefix(name, "flaw:") || err != nil {
				continue
			}
			found = true
			for other, w := range st.values {
				p, err := boxOf(w)
				if strings.HasPrefix(other, "piece:") && err == nil && p.x0 < f.x1 && p.x1 > f.x0 && p.y0 < f.y1 && p.y1 > f.y0 {
					return false
				}
			}
		}
		return found
	})
	if err != nil {
		return err
	}
	if now := s.read("piece:A1"); now != s.put {
		return fmt.Errorf("A1 was put at %s and is at %s with the flaw", s.put, now)
	}
	return s.shows("flaw")
}
