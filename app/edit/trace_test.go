package edit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/geom"
	"slipseat/engine/seat"
)

// traced gives a metric job whose first seat is a traced board of 400 × 350.
func traced(t *testing.T) (job.Job, job.ID) {
	t.Helper()
	j, id := fresh(job.UnitsCM)
	box := seat.Traced{}
	for _, p := range []geom.Pt{{X: -200, Y: 0}, {X: 200, Y: 0}, {X: 200, Y: 350}, {X: -200, Y: 350}} {
		box.Points = append(box.Points, seat.TracedPoint{At: p})
	}
	j, faults := edit.SetTrace{Seat: id, Shape: box, From: edit.TracedDrawn}.Apply(j)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return j, id
}

func edited(t *testing.T, j job.Job, c edit.Command) job.Job {
	t.Helper()
	out, faults := c.Apply(j)
	if len(faults) > 0 {
		t.Fatalf("%#v: %v", c, faults)
	}
	return out
}

func area(t *testing.T, j job.Job) float64 {
	t.Helper()
	o, faults := j.Seats[0].Outline.Draw()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return o.Board.Area()
}

func TestTraceCommands(t *testing.T) {
	j, id := traced(t)
	if a := area(t, j); a != 140000 || j.Seats[0].Outline.Points[1].Across != "20 cm" || !j.Seats[0].Outline.Points[0].Left {
		t.Fatalf("area %v, %+v", a, j.Seats[0].Outline.Points)
	}
	k := edited(t, j, edit.Trace{Seat: id, How: edit.TraceMove, Which: []int{2}, At: geom.P(9.6, 0)})
	if p := k.Seats[0].Outline.Points[2]; p.Across != "21 cm" || p.Back != "35 cm" {
		t.Errorf("moved to %+v, want the marking step", p)
	}
	k = edited(t, k, edit.Trace{Seat: id, How: edit.TraceAcross, Which: []int{3}, Text: "-19½"})
	if p := k.Seats[0].Outline.Points[3]; p.Across != "19½ cm" || !p.Left {
		t.Errorf("typed %+v, want it as typed", p)
	}
	_, h, f := k.Seats[0].Outline.Traced().Symmetric()
	if f != nil || math.Abs(h.Most.MM()-7.5) > 1e-9 { // 210 and -195 about the mean axis 3.75
		t.Errorf("halves differ by %v, %v", h.Most, f)
	}
	c := edit.Trace{Seat: id, How: edit.TraceSymmetric}
	if l := c.Label(k); l.Args[1].Value != h.Most {
		t.Errorf("the label says %v", l.Args)
	}
	k = edited(t, k, c)
	if a := area(t, k); math.Abs(a-402.5*350) > 1e-2 {
		t.Errorf("area %v", a)
	}
	k = edited(t, j, edit.Trace{Seat: id, How: edit.TraceBend, Which: []int{0}, At: geom.P(10, -20.3)})
	if p := k.Seats[0].Outline.Points[0]; p.Bow != "2 cm" || p.Hollow {
		t.Errorf("bent %+v", p)
	}
	k = edited(t, k, edit.Trace{Seat: id, How: edit.TraceRadius, Which: []int{0, 1}, Text: "1,5"})
	if p := k.Seats[0].Outline.Points[1]; p.Radius != "1,5 cm" {
		t.Errorf("radius %+v", p)
	}
	k = edited(t, k, edit.Trace{Seat: id, How: edit.TraceInsert, Which: []int{1}, At: geom.P(230, 175)})
	if o := k.Seats[0].Outline; len(o.Points) != 5 || o.Points[2].Across != "20 cm" {
		t.Errorf("inserted %+v", o.Points)
	}
	k = edited(t, k, edit.Trace{Seat: id, How: edit.TraceDelete, Which: []int{2}})
	k = edited(t, k, edit.Trace{Seat: id, How: edit.TraceEdge, Which: []int{1}, Text: "back"})
	if got := k.Seats[0].Outline.Points[1].Edge; got != job.EdgeBack {
		t.Errorf("edge %q", got)
	}
	for _, c := range []edit.Trace{
		{How: edit.TraceMove, Which: []int{9}}, {How: edit.TraceInsert}, {How: edit.TraceDelete, Which: []int{0, 1}}, {How: edit.TraceRadius, Which: []int{0}, Text: "-2"},
		{How: edit.TraceLength, Which: []int{0}, Text: "wide"}, {How: edit.TraceNotches}, {How: edit.TraceTrueUp},
	} {
		c.Seat = id
		if out, faults := c.Apply(j); len(faults) == 0 || len(out.Seats[0].Outline.Points) != 4 {
			t.Errorf("%+v went through", c)
		}
	}
	m, id2 := fresh(job.UnitsInches)
	if _, faults := (edit.Trace{Seat: id2, How: edit.TraceTurn}).Apply(m); len(faults) == 0 || faults[0].Code != edit.CodeNotTraced {
		t.Errorf("tracing on measurements: %v", faults)
	}
}

func TestTracedFromBelow(t *testing.T) {
	j, id := fresh(job.UnitsCM)
	// Clicked clockwise with the underside up: a notch at what is the right
	// back corner as seen, the left one of the top.
	var s seat.Traced
	for _, p := range []geom.Pt{{X: 0, Y: 0}, {X: 0, Y: 350}, {X: 360, Y: 350}, {X: 360, Y: 300}, {X: 400, Y: 300}, {X: 400, Y: 0}} {
		s.Points = append(s.Points, seat.TracedPoint{At: p})
	}
	j = edited(t, j, edit.SetTrace{Seat: id, Shape: s, Face: job.FaceUnderside, From: edit.TracedDrawn})
	o := j.Seats[0].Outline
	if o.TracedFace != job.FaceUnderside || o.LeftNotchWidth != "4 cm" || o.LeftNotchDepth != "5 cm" || o.RightNotchWidth != "" || len(o.Points) != 4 {
		t.Errorf("%+v", o)
	}
	j = edited(t, j, edit.Trace{Seat: id, How: edit.TraceFlip})
	if o = j.Seats[0].Outline; o.TracedFace != job.FaceTop || o.RightNotchWidth != "4 cm" || o.LeftNotchWidth != "" {
		t.Errorf("turned over %+v", o)
	}
}

func TestMeasuredToTracedAndTrueUp(t *testing.T) {
	for _, u := range []job.Units{job.UnitsInches, job.UnitsMM} {
		j, id := fresh(u)
		j.Seats[0].Outline.FrontBow = "1 in"
		j.Seats[0].Outline.FrontRadius = "2 in"
		was := area(t, j)
		k := edited(t, j, edit.ToTrace{Seat: id})
		if len(k.Seats[0].Outline.Points) != 4 || math.Abs(area(t, k)-was) > 1 {
			t.Errorf("%s: %d points, area %v, was %v", u, len(k.Seats[0].Outline.Points), area(t, k), was)
		}
		back := edited(t, k, edit.Set{Object: id, Field: edit.OutlineFrom, Text: "measured"})
		if area(t, back) != was {
			t.Error("the measurements are lost")
		}
		read, _ := k.Seats[0].Outline.Traced().Read(seat.Known{What: seat.KnownWidth})
		k = edited(t, k, edit.Set{Object: id, Field: "outline.known", Text: "width"})
		k = edited(t, k, edit.Set{Object: id, Field: "outline.known_length", Text: "500 mm"})
		k = edited(t, k, edit.Trace{Seat: id, How: edit.TraceTrueUp})
		got, _ := k.Seats[0].Outline.Traced().Read(seat.Known{What: seat.KnownWidth})
		if math.Abs(got.MM()-500) > 0.001 || math.Abs(area(t, k)-was*math.Pow(500/read.MM(), 2)) > 2 {
			t.Errorf("%s: %v wide, area %v", u, got, area(t, k))
		}
	}
}

// TestTracedJobIsKept: random traced changes give jobs that read back the same
// and lengths that stay what they were.
func TestTracedJobIsKept(t *testing.T) {
	seeds(t, 3, func(t *testing.T, r *rand.Rand) {
		j, id := traced(t)
		hows := []edit.TraceHow{edit.TraceMove, edit.TraceNudge, edit.TraceInsert, edit.TraceDelete, edit.TraceBend, edit.TraceStraight, edit.TraceArc,
			edit.TraceAcross, edit.TraceBack, edit.TraceLength, edit.TraceBow, edit.TraceRadius, edit.TraceEdge, edit.TraceNotches, edit.TraceHalf,
			edit.TraceSymmetric, edit.TraceFlip, edit.TraceTurn, edit.TraceTrueUp}
		went := 0
		for range 300 {
			n := len(j.Seats[0].Outline.Points)
			c := edit.Trace{Seat: id, How: hows[r.IntN(len(hows))], Which: []int{r.IntN(n + 1)}, At: geom.P(r.Float64()*60-30, r.Float64()*60-30),
				Text: []string{"3", "-2 1/4 in", "40 mm", "left", "", "x"}[r.IntN(6)], Left: r.IntN(2) == 0}
			before := j.Seats[0].Outline.Traced()
			k, faults := c.Apply(j)
			if len(faults) > 0 {
				continue
			}
			went++
			back, err := job.Decode(job.Encode(k))
			if err != nil {
				t.Fatalf("%+v: %v", c, err)
			}
			if a, b := back.Seats[0].Outline.Traced(), k.Seats[0].Outline.Traced(); len(a.Points) != len(b.Points) {
				t.Fatal("points are lost")
			}
			if c.How == edit.TraceNudge {
				for i, p := range k.Seats[0].Outline.Traced().Points {
					want := before.Points[i].At
					if i == c.Which[0] {
						want = want.Add(c.At)
					}
					if p.At.Dist(want) > 1e-4 {
						t.Fatalf("point %d at %v, want %v", i, p.At, want)
					}
				}
			}
			if len(k.Seats[0].Outline.Points) < 40 {
				j = k
			}
		}
		if went < 100 {
			t.Errorf("only %d went through", went)
		}
	})
}
