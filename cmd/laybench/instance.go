package main

import (
	"encoding/json"
	"fmt"
	"os"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

// stripWidth is the width in millimetres that every instance is scaled to, so
// that its figures are of the size of cloth.
const stripWidth = 1400

// instance is a benchmark file: x along the length to be minimised, y across.
type instance struct {
	Name   string  `json:"name"`
	Source string  `json:"source"`
	Width  float64 `json:"strip_width"`
	Items  []struct {
		ID        int          `json:"id"`
		Demand    int          `json:"demand"`
		Rotations []int        `json:"rotations"` // degrees, counter-clockwise
		Polygon   [][2]float64 `json:"polygon"`
	} `json:"items"`
	Best struct {
		Length  float64 `json:"length"`
		Density float64 `json:"density_percent"`
		Source  string  `json:"source"`
	} `json:"best_known"`
}

func read(file string) (instance, error) {
	var in instance
	b, err := os.ReadFile(file)
	if err != nil {
		return in, err
	}
	if err := json.Unmarshal(b, &in); err != nil {
		return in, fmt.Errorf("%s: %w", file, err)
	}
	if in.Name == "" {
		in.Name = nameOf(file)
	}
	if in.Width <= 0 || len(in.Items) == 0 {
		return in, fmt.Errorf("%s: no strip width or no items", file)
	}
	for _, it := range in.Items {
		for _, d := range it.Rotations {
			if d%90 != 0 {
				return in, fmt.Errorf("%s: item %d: only quarter turns are laid, not %d degrees", file, it.ID, d)
			}
		}
	}
	return in, nil
}

// problem is the instance as a lay to be made, and the millimetres in one of
// its units.
func (in instance) problem(turn bool) (lay.Problem, float64) {
	scale := stripWidth / in.Width
	p := lay.Problem{Bins: []lay.Bin{{ID: in.Name, Width: stripWidth, Sheets: 1}}}
	for _, it := range in.Items {
		k := lay.Kind{ID: fmt.Sprint(it.ID, "-"), Count: it.Demand}
		for _, q := range it.Polygon {
			k.Shape = append(k.Shape, geom.Pt{X: q[0] * scale, Y: q[1] * scale})
		}
		for _, d := range it.Rotations {
			k.Turns |= 1 << (d / 90 % 4)
		}
		if turn {
			k.Turns = lay.AnyTurn
		}
		box := k.Shape.Bounds()
		k.Square = len(k.Shape) == 4 && k.Shape.Area() > (1-1e-12)*box.W()*box.H()
		if k.Square {
			k.Shape = geom.Polygon{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}}
		}
		k.Motif = box.Center()
		p.Kinds = append(p.Kinds, k)
	}
	return p, scale
}

// area is the pieces' area in the instance's units.
func (in instance) area() float64 {
	sum := 0.0
	for _, it := range in.Items {
		var g geom.Polygon
		for _, q := range it.Polygon {
			g = append(g, geom.Pt{X: q[0], Y: q[1]})
		}
		sum += float64(it.Demand) * g.Area()
	}
	return sum
}
