package edit_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/job"
)

// catalogue reads the words as data; the words package itself is not for this
// layer.
func catalogue(t *testing.T) map[string]string {
	t.Helper()
	raw, err := os.ReadFile("../../assets/words/en.json")
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]string
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// TestWords: every field and every label has words, and a label's words ask
// for nothing that its arguments do not give.
func TestWords(t *testing.T) {
	all := catalogue(t)
	for _, f := range job.Fields() {
		if all["label.field."+f.Path] == "" {
			t.Errorf("no words for the field %s", f.Path)
		}
	}
	j, seat := fresh(job.UnitsInches)
	goods := j.Cloths[0].ID
	for _, c := range []edit.Command{
		edit.Set{Object: seat, Field: edit.OutlineDepth}, edit.Set{Object: j.ID, Field: edit.JobCustomer}, edit.Rename(seat, "x"),
		edit.Handle{Seat: seat, Field: edit.OutlineDepth}, edit.SwitchUnits{To: job.UnitsCM}, edit.AddSeat{}, edit.DeleteSeat{Seat: seat},
		edit.MoveSeat{Seat: seat}, edit.DuplicateSeat{Seat: seat}, edit.AddLayer{Seat: seat}, edit.DeleteLayer{}, edit.AddCloth{}, edit.AddFoam{},
		edit.DuplicateGoods{Goods: goods}, edit.MoveGoods{Goods: goods}, edit.DeleteGoods{Goods: goods}, edit.SetFlaws{Cloth: goods}, edit.SetLocks{},
		edit.SetOwn{Seat: seat}, edit.SetHoles{Seat: seat}, edit.SetOffcuts{Goods: goods}, edit.MarkCut{Goods: goods}, edit.SetGlueUps{}, edit.TakeProposal{},
		edit.SetExtras{}, edit.SetChanges{}, edit.SetActuals{}, edit.Dismiss{}, edit.Raise{}, edit.FitSeat{Seat: seat},
		edit.Hold{How: edit.HoldMoved}, edit.Hold{How: edit.HoldTurned}, edit.Hold{How: edit.HoldLocked}, edit.Hold{How: edit.HoldCut}, edit.Hold{How: edit.HoldSpoiled},
		edit.Release{}, edit.ReleaseAll{Goods: goods}, edit.KeepLay{Goods: goods}, edit.PutFlaw{Cloth: goods}, edit.DeleteFlaw{},
		edit.SetTrace{Seat: seat, From: edit.TracedDrawn}, edit.SetTrace{Seat: seat, From: edit.TracedFile}, edit.SetTrace{Seat: seat, From: edit.TracedPhoto},
		edit.ToTrace{Seat: seat}, edit.KnownOf{Seat: seat},
		edit.Trace{How: edit.TraceMove}, edit.Trace{How: edit.TraceNudge}, edit.Trace{How: edit.TraceInsert}, edit.Trace{How: edit.TraceDelete},
		edit.Trace{How: edit.TraceBend}, edit.Trace{How: edit.TraceStraight}, edit.Trace{How: edit.TraceArc}, edit.Trace{How: edit.TraceAcross},
		edit.Trace{How: edit.TraceBack}, edit.Trace{How: edit.TraceLength}, edit.Trace{How: edit.TraceBow}, edit.Trace{How: edit.TraceRadius},
		edit.Trace{How: edit.TraceEdge}, edit.Trace{How: edit.TraceNotches}, edit.Trace{How: edit.TraceHalf}, edit.Trace{Seat: seat, How: edit.TraceSymmetric},
		edit.Trace{How: edit.TraceFlip}, edit.Trace{How: edit.TraceTurn}, edit.Trace{How: edit.TraceTrueUp},
	} {
		l := c.Label(j)
		text := all["label.edit."+l.Code]
		if text == "" {
			t.Errorf("no words for the label %s of %T", l.Code, c)
		}
		for _, a := range l.Args {
			text = strings.NewReplacer("{"+a.Name+"}", "", "{"+a.Name+":label}", "", "{"+a.Name+":term}", "").Replace(text)
			if s, ok := a.Value.(string); ok && a.Name == "field" && all["label."+s] == "" {
				t.Errorf("%T: no words for %s", c, s)
			}
		}
		if strings.Contains(text, "{") {
			t.Errorf("%T: the words ask for more than the label gives: %s", c, text)
		}
	}
	for _, code := range []string{edit.CodeLastSeat, edit.CodeInUse, edit.CodeTooMany, edit.CodeNotCopy, edit.CodeNoTrial, edit.CodeIsCut} {
		if all["fault."+code] == "" {
			t.Errorf("no words for the fault %s", code)
		}
	}
}
