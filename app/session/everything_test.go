package session_test

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"reflect"
	"regexp"
	"testing"

	"slipseat/app/figures"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/engine/buildup"
	"slipseat/engine/caution"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
)

// readJob reads a job of testdata/jobs.
func readJob(t *testing.T, name string) job.File {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/" + name)
	if err != nil {
		t.Fatal(err)
	}
	f, err := job.DecodeFile(data)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// ids lists the IDs of all objects of a value, by reflection.
func ids(v reflect.Value, out *[]job.ID) {
	switch v.Kind() {
	case reflect.Struct:
		if f := v.FieldByName("ID"); f.IsValid() && f.Kind() == reflect.String {
			*out = append(*out, job.ID(f.String()))
		}
		for i := range v.NumField() {
			ids(v.Field(i), out)
		}
	case reflect.Slice:
		for i := range v.Len() {
			ids(v.Index(i), out)
		}
	}
}

// TestEverythingJob: the job that uses every field is sound, every field of it
// is set somewhere, everything is laid, and every kind of line is ordered.
func TestEverythingJob(t *testing.T) {
	f := readJob(t, "everything.slipseat")
	if bad := f.Job.Validate(); len(bad) > 0 {
		t.Fatal(bad)
	}
	if back, err := job.Decode(job.Encode(f.Job)); err != nil || !bytes.Equal(job.Encode(back), job.Encode(f.Job)) {
		t.Errorf("read back it differs: %v", err)
	}
	var all []job.ID
	ids(reflect.ValueOf(f.Job), &all)
	// Traced outlines and pictures of cloth come from photos and files and have
	// tests of their own.
	traced := regexp.MustCompile(`^(swatch\.|outline\.(known|left_notch|right_notch)_)`)
	for _, field := range job.Fields() {
		set := traced.MatchString(field.Path)
		for _, id := range all {
			text, ok := f.Job.Get(id, field.Path)
			// The first word of a choice is what an absent one means.
			set = set || ok && text != "" && text != "0" && text != "false"
		}
		if !set {
			t.Errorf("%s %s is used nowhere", field.Object, field.Path)
		}
	}
	states := map[job.LockState]bool{}
	for _, l := range f.Job.Locked {
		states[l.State] = true
	}
	if len(states) != 3 {
		t.Errorf("pieces are held as %v", states)
	}

	p := session.Settle(context.Background(), f, session.Budget{}, nil)
	if len(p.Faults) > 0 || p.Pending {
		t.Fatalf("pending %v, %v", p.Pending, p.Faults)
	}
	kinds, parts := map[buildup.Kind]bool{}, map[buildup.Part]bool{}
	for _, s := range p.Seats {
		kinds[s.Build.Kind] = true
	}
	glued, shelf, phases := 0, 0, false
	for _, g := range p.Goods {
		if bad := lay.Check(g.Problem, *g.Lay); len(bad) > 0 {
			t.Errorf("%s: %v", g.ID, bad)
		}
		glued += g.GlueUps()
		phases = phases || g.Phases != nil
		for _, at := range g.Lay.Places {
			parts[g.Kinds[at.Kind].Blank.Part] = true
			if at.Bin < len(g.Problem.Bins)-1 && g.Problem.Bins[at.Bin].ID != plan.HandBin(g.ID) {
				shelf++
			}
		}
	}
	if len(kinds) != 4 || len(parts) != int(buildup.PartWelt)+1 || glued < 2 || shelf < 2 || !phases {
		t.Errorf("%d kinds of seats, %d parts, %d glue-ups, %d pieces from the shelf, starts of the pattern tried: %v", len(kinds), len(parts), glued, shelf, phases)
	}
	lines := map[string]bool{}
	for _, it := range p.Order.Items {
		lines[it.Code] = true
	}
	for _, code := range []string{"cover", "contrast", "dust-cloth", "wadding", "lining", "fire-barrier", "foam", "staples", "adhesive", "welt-cord", "webbing", "zip", "extra"} {
		if !lines[code] {
			t.Errorf("no line for %s", code)
		}
	}
	if len(p.Dismissed) != 1 {
		t.Errorf("cautions dealt with: %v", p.Dismissed)
	}
	raw, err := figures.JSON(p, string(f.Job.Currency), func(c caution.Caution) (string, string, string) { return "", c.Code, "" })
	var got struct {
		Foams []struct {
			GlueUps []string `json:"glue_ups"`
		} `json:"foams"`
	}
	if err != nil || json.Unmarshal(raw, &got) != nil || len(got.Foams) != 3 || len(got.Foams[1].GlueUps) != glued {
		t.Errorf("figures: %v %+v", err, got)
	}
}
