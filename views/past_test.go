package views

import (
	"errors"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// TestPastInTheWindow: a version is kept, looked at and brought back.
func TestPastInTheWindow(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.tap(t, "button:new-job")
	r.retype(t, "count", "3")
	r.openPast()
	f := r.win.Canvas()
	f.Focus(r.past.name)
	for _, c := range "as quoted" {
		f.Focused().TypedRune(c)
	}
	r.tap(t, "button:keep-version")
	r.tap(t, "button:past-close")
	if n := r.s.Notice(); n != nil {
		t.Fatal(n.Fault)
	}
	r.retype(t, "count", "8")
	r.openPast()
	at := -1
	for i, p := range r.s.Past() {
		if p.Name == "as quoted" {
			at = i
		}
	}
	if at < 0 {
		t.Fatalf("no version was kept: %+v", r.s.Past())
	}
	r.tap(t, "past:"+string(rune('0'+at)))
	r.tap(t, "button:bring-back")
	if n := r.s.Job().Seats[0].Count; n != 3 {
		t.Errorf("%d chairs after bringing 3 back", n)
	}
	r.s.Undo()
	if n := r.s.Job().Seats[0].Count; n != 8 {
		t.Errorf("%d chairs after undoing that", n)
	}
}

// TestDeletedJobComesBack by way of the list of deleted jobs.
func TestDeletedJobComesBack(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1100, 700)
	r.s.OpenDemo()
	id := r.s.Job().ID
	r.s.CloseJob()
	r.s.Delete(id)
	r.s.Dismiss()
	r.openRecover()
	r.tap(t, "recover:0")
	if !r.s.IsOpen() || r.s.Job().ID != id {
		t.Error("the deleted job was not brought back")
	}
}

// TestTrouble: what is wrong is said, and every way out of it can be taken.
func TestTrouble(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1100, 700)
	again, asIs, recovered := 0, 0, 0
	fail := error(unit.Fault{Code: "store.full", Args: []unit.Arg{unit.A("path", "x"), unit.A("detail", "y")}})
	in := Trouble{Err: unit.Fault{Code: "store.damaged", Args: []unit.Arg{unit.A("path", "/jobs/slipseat.bolt"), unit.A("detail", "page 7")}},
		Found: []string{"Reading room: lost."}, Again: func() { again++ }, AsIs: func() { asIs++ },
		Recover: func() ([]string, error) { recovered++; return []string{"Reading room: as it was."}, fail }}
	spot := func(name string) kit.Spot {
		t.Helper()
		for _, s := range kit.Spots(r.win.Content(), fyne.NewPos(0, 0)) {
			if s.Name == name {
				return s
			}
		}
		t.Fatalf("there is no %s", name)
		return kit.Spot{}
	}
	show := func(buttons ...string) {
		t.Helper()
		ShowTrouble(r.win, r.w, in)
		if *lookDir != "" {
			saveLook(t, "trouble-"+buttons[0][len("button:"):], r.win)
		}
		for _, b := range buttons {
			spot(b)
		}
	}
	press := func(name string) {
		t.Helper()
		s := spot(name)
		test.TapCanvas(r.win.Canvas(), fyne.NewPos(s.X+s.W/2, s.Y+s.H/2))
	}
	show("button:quit", "button:as-is", "button:recover")
	press("button:as-is")
	press("button:recover")
	if asIs != 1 || recovered != 1 {
		t.Errorf("as it is %d, recovered %d", asIs, recovered)
	}
	var said []string
	texts(r.win.Content(), &said)
	if want := r.w.Fault(fail.(unit.Fault), r.units()); !contains(said, want) {
		t.Errorf("the failure is not said: %q", said)
	}
	fail = nil
	press("button:recover")
	press("button:open")
	if again != 1 {
		t.Error("the jobs were not opened after recovering")
	}
	in.AsIs = nil
	show("button:again", "button:recover")
	in = Trouble{Err: errors.New("something else"), Again: func() { again++ }}
	show("button:again")
	press("button:again")
	if again != 2 {
		t.Error("it was not tried again")
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
