package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// trace clicks a seat with two back-post notches on the sheet of the Outline
// stage, its right half a little larger than its left.
func (s *script) trace() error {
	if err := s.stage("outline"); err != nil {
		return err
	}
	if err := s.w.click("button:outline-draw"); err != nil {
		return err
	}
	if err := s.w.until("the clicking begins", func(st *state) bool { return st.values["field:trace.count"] == "0" }); err != nil {
		return err
	}
	at, err := s.w.find("board:outline")
	if err != nil {
		return err
	}
	x, y := at.X+at.W/2, at.Y+at.H/2
	corners := [][2]float64{{-190, 150}, {204, 150}, {196, -110}, {150, -110}, {150, -150}, {-140, -150}, {-140, -110}, {-182, -110}}
	for i, c := range corners {
		if err := s.w.move(x+c[0], y+c[1]); err != nil {
			return err
		}
		if _, err := s.w.d.hand("click", "1"); err != nil {
			return err
		}
		want := fmt.Sprint(i + 1)
		if err := s.w.until(want+" points are set", func(st *state) bool { return st.values["field:trace.count"] == want }); err != nil {
			return err
		}
	}
	if err := s.shows("tracing"); err != nil {
		return err
	}
	if err := s.w.key("Return"); err != nil {
		return err
	}
	err = s.w.until("the shape has two notches", func(st *state) bool {
		return st.values["field:outline.left_notch_width"] != "" && st.values["field:outline.right_notch_width"] != ""
	})
	if err != nil {
		return err
	}
	return s.shows("traced")
}

// symmetric makes the halves alike, and takes it back and does it again.
func (s *script) symmetric() error {
	left := func(st *state) string { return st.values["field:outline.left_notch_width"] }
	right := func(st *state) string { return st.values["field:outline.right_notch_width"] }
	alike := func(st *state) bool { return left(st) != "" && left(st) == right(st) }
	if err := s.w.until("the notches differ", func(st *state) bool { return left(st) != right(st) }); err != nil {
		return err
	}
	if err := s.w.click("button:trace-symmetric"); err != nil {
		return err
	}
	if err := s.w.until("the notches are alike", alike); err != nil {
		return err
	}
	if err := s.w.click("button:undo"); err != nil {
		return err
	}
	if err := s.w.until("they differ again", func(st *state) bool { return left(st) != right(st) }); err != nil {
		return err
	}
	if err := s.w.click("button:redo"); err != nil {
		return err
	}
	if err := s.w.until("they are alike again", alike); err != nil {
		return err
	}
	return s.shows("symmetric")
}

// Drawings of a board 440 × 380 mm, as other programs write them.
const (
	svgBoard = `<svg xmlns="http://www.w3.org/2000/svg" width="460mm" height="400mm" viewBox="0 0 460 400">
<path id="board" d="M10 390 H450 L430 10 H30 Z"/><circle cx="230" cy="200" r="30"/><text x="9" y="9">A</text></svg>`
	dxfBoard = "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nBOARD\n90\n4\n70\n1\n10\n0\n20\n0\n42\n0.05\n10\n17\n20\n0\n10\n16\n20\n15\n10\n1\n20\n15\n0\nENDSEC\n0\nEOF\n"
)

// outlines takes the outline out of an SVG file and out of a DXF file that
// names no unit.
func (s *script) outlines() error {
	for _, f := range []struct{ name, text, sees string }{{"board.svg", svgBoard, "17 5/16"}, {"board.dxf", dxfBoard, "17"}} {
		path := filepath.Join(s.dir, f.name)
		if err := os.WriteFile(path, []byte(f.text), 0o644); err != nil {
			return err
		}
		if err := s.w.click("button:outline-file"); err != nil {
			return err
		}
		if err := s.w.click("field:import-file"); err != nil {
			return err
		}
		if err := s.w.text(path); err != nil {
			return err
		}
		if err := s.w.click("button:import-open"); err != nil {
			return err
		}
		if _, err := s.w.find("button:import-go"); err != nil {
			return err
		}
		if err := s.shows("import-" + strings.TrimPrefix(filepath.Ext(f.name), ".")); err != nil {
			return err
		}
		if err := s.w.click("button:import-go"); err != nil {
			return err
		}
		// The front edge's length stands in its field once it is chosen.
		if err := s.w.click("handle:bend:1"); err != nil {
			return err
		}
		if err := s.w.until("the edge reads "+f.sees, func(st *state) bool { return st.values["field:trace.length"] == f.sees }); err != nil {
			return fmt.Errorf("%w (it reads %q)", err, s.read("field:trace.length"))
		}
	}
	return s.shows("taken")
}
