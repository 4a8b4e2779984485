package separate

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

// instance is a file of the shared bench (its SOURCES.md says where each comes
// from).
type instance struct {
	Name  string  `json:"name"`
	Width float64 `json:"strip_width"`
	Area  float64 `json:"total_area"`
	Items []struct {
		ID        int          `json:"id"`
		Demand    int          `json:"demand"`
		Rotations []float64    `json:"rotations"`
		Polygon   [][2]float64 `json:"polygon"`
	} `json:"items"`
	Best struct {
		Length  float64      `json:"length"`
		Density float64      `json:"density_percent"`
		Layout  [][4]float64 `json:"layout"`
	} `json:"best_known"`
	scale float64
}

func sharedDir() string {
	if d := os.Getenv("SLIPSEAT_SHARED"); d != "" {
		return d
	}
	return filepath.Join("..", "..", "..", "..", "..", "shared")
}

func readInstance(t testing.TB, name string) (instance, lay.Problem) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(sharedDir(), "bench", name+".json"))
	if err != nil {
		t.Skip("the shared bench files are not here: ", err)
	}
	var in instance
	if err := json.Unmarshal(b, &in); err != nil {
		t.Fatal(err)
	}
	in.scale = 1400 / in.Width
	p := lay.Problem{Bins: []lay.Bin{{ID: "roll", Width: 1400, Sheets: 1}}}
	for _, it := range in.Items {
		k := lay.Kind{ID: fmt.Sprint(it.ID), Count: it.Demand}
		for _, v := range it.Polygon {
			k.Shape = append(k.Shape, geom.P(v[0]*in.scale, v[1]*in.scale))
		}
		for _, r := range it.Rotations {
			k.Turns |= 1 << (int(r/90) & 3)
		}
		p.Kinds = append(p.Kinds, k)
	}
	return in, p
}
