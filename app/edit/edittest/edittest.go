// Package edittest draws random jobs and random changes of them, for trials
// that want many. Everything follows from the source of random numbers.
package edittest

import (
	"fmt"
	"math/rand/v2"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Bytes gives a source of random bytes for IDs.
func Bytes(r *rand.Rand) func([]byte) {
	return func(b []byte) {
		for i := range b {
			b[i] = byte(r.IntN(256))
		}
	}
}

// Names are the names that random jobs start with.
var Names = job.Names{Job: "Reading room", Seat: "Side chair", Cover: "Moss bouclé", DustCloth: "Dust cloth", Foam: "Foam"}

// Job draws a job of up to the given number of kinds of seats, as a user might
// have left it: not everything in it goes together.
func Job(r *rand.Rand, seats int) job.Job {
	units := pick(r, job.UnitsInches, job.UnitsDecimal, job.UnitsCM, job.UnitsMM)
	j := job.New(Bytes(r), Names, units)
	for range r.IntN(4) {
		j = apply(j, edit.AddCloth{Cloth: job.NewCloth(job.NewID(Bytes(r)), units, pick(r, job.UseCover, job.UseWadding, job.UseLining), text(r))})
	}
	for len(j.Seats) < 1+r.IntN(max(seats, 1)) {
		j = apply(j, edit.AddSeat{Seat: job.NewSeat(job.NewID(Bytes(r)), j, text(r))})
	}
	for range 10 * len(j.Seats) {
		j = apply(j, Command(r, j))
	}
	return j
}

func apply(j job.Job, c edit.Command) job.Job {
	j, _ = c.Apply(j) // a refused command leaves the job as it was
	return j
}

// Command draws a change of a job; some are refused.
func Command(r *rand.Rand, j job.Job) edit.Command {
	id := func() job.ID { return job.NewID(Bytes(r)) }
	switch r.IntN(30) {
	case 0:
		return edit.AddSeat{Seat: job.NewSeat(id(), j, text(r))}
	case 1:
		return edit.DeleteSeat{Seat: seat(r, j)}
	case 2:
		return edit.MoveSeat{Seat: seat(r, j), To: r.IntN(len(j.Seats)+3) - 1}
	case 3:
		return edit.DuplicateSeat{Seat: seat(r, j), ID: id()}
	case 4:
		return edit.AddCloth{Cloth: job.NewCloth(id(), j.Units, pick(r, job.UseCover, job.UseContrast, job.UseDustCloth), text(r))}
	case 5:
		return edit.AddFoam{Foam: job.NewFoam(id(), j.Units, text(r))}
	case 6:
		return edit.DuplicateGoods{Goods: goods(r, j), ID: id()}
	case 7:
		return edit.MoveGoods{Goods: goods(r, j), To: r.IntN(4)}
	case 8:
		return edit.DeleteGoods{Goods: goods(r, j)}
	case 9:
		return edit.AddLayer{Seat: seat(r, j), Layer: job.Layer{ID: id(), Foam: foam(r, j), Thickness: length(r), Inset: length(r)}}
	case 10:
		if ls := j.Seats[r.IntN(len(j.Seats))].Build.Layers; len(ls) > 0 {
			return edit.DeleteLayer{Layer: ls[r.IntN(len(ls))].ID}
		}
		return edit.DeleteLayer{Layer: id()}
	case 11:
		return edit.SetFlaws{Cloth: goods(r, j), Flaws: []job.Flaw{{ID: id(), From: "1 in", To: length(r), Near: "0 in", Far: length(r), Note: text(r)}}}
	case 12:
		return edit.SetLocks{Locked: []job.Lock{{Goods: goods(r, j), Seat: seat(r, j), Part: job.PartCover, Piece: 1 + r.IntN(3), State: job.Locked,
			Turn: r.IntN(4), Along: length(r), Over: length(r)}}}
	case 13:
		return edit.SwitchUnits{To: pick(r, job.UnitsInches, job.UnitsDecimal, job.UnitsCM, job.UnitsMM)}
	case 14, 15, 16:
		return edit.Handle{Seat: seat(r, j), Field: pick(r, edit.OutlineFrontWidth, edit.OutlineDepth, edit.OutlineFrontBow),
			To: unit.Length(r.Float64() * 700)}
	}
	if c := onTheLay(r, j, id); c != nil {
		return c
	}
	return set(r, j)
}

// onTheLay draws a piece of hand work on a lay.
func onTheLay(r *rand.Rand, j job.Job, id func() job.ID) edit.Command {
	lock := job.Lock{Goods: goods(r, j), Seat: seat(r, j), Part: pick(r, job.PartCover, job.PartFoam, job.PartTie), Piece: 1 + r.IntN(3), Sub: r.IntN(3),
		State: pick(r, job.Locked, job.Cut, job.Spoiled), Turn: r.IntN(4), Along: job.Exactly(unit.Length(r.Float64() * 3000)), Over: length(r)}
	flaw := id()
	for _, c := range j.Cloths {
		if len(c.Flaws) > 0 && r.IntN(2) == 0 {
			flaw = c.Flaws[0].ID
		}
	}
	switch r.IntN(8) {
	case 0, 1:
		return edit.Hold{How: edit.HoldMoved, Piece: "A1", Lock: lock}
	case 2:
		if len(j.Locked) > 0 {
			lock = j.Locked[r.IntN(len(j.Locked))]
		}
		return edit.Release{Piece: "A1", Lock: lock}
	case 3:
		lock.State = job.Locked
		return edit.KeepLay{Goods: lock.Goods, Locked: []job.Lock{lock}}
	case 4:
		at := geom.P(r.Float64()*4000-200, r.Float64()*1600-200)
		return edit.PutFlaw{Cloth: goods(r, j), ID: flaw, Box: geom.Rect{Min: at, Max: at.Add(geom.P(r.Float64()*300, r.Float64()*300))}}
	case 5:
		return edit.DeleteFlaw{ID: flaw}
	}
	return nil
}

// set draws a field of an object and a text for it.
func set(r *rand.Rand, j job.Job) edit.Command {
	fields := job.Fields()
	f := fields[r.IntN(len(fields))]
	c := edit.Set{Object: j.ID, Field: f.Path}
	switch f.Object {
	case "seat", "layer":
		c.Object = seat(r, j)
		if ls := j.Seats[r.IntN(len(j.Seats))].Build.Layers; f.Object == "layer" && len(ls) > 0 {
			c.Object = ls[r.IntN(len(ls))].ID
		}
	case "cloth":
		c.Object = goods(r, j)
	case "flaw", "foam":
		c.Object = foam(r, j)
	}
	switch f.Kind {
	case job.TakesLength:
		c.Text = pick(r, string(length(r)), fmt.Sprint(r.IntN(40)), "17½", "", "wide", "17-1/2", "-3", "1' 5 1/2\"")
	case job.TakesShare:
		c.Text = pick(r, "10", "7.5 %", "0,25", "", "many", "250")
	case job.TakesMoney:
		c.Text = pick(r, "34", "34.5", "0,05", "", "-1", "1.234")
	case job.TakesNumber:
		c.Text = fmt.Sprint(r.IntN(30) - 2)
	case job.TakesSwitch:
		c.Text = pick(r, "true", "false", "perhaps")
	case job.TakesGoods:
		c.Text = pick(r, string(goods(r, j)), string(foam(r, j)), "")
	case job.TakesChoice:
		if words := j.Choices(c.Object, c.Field); len(words) > 0 {
			c.Text = words[r.IntN(len(words))]
		}
	default:
		c.Text = pick(r, text(r), "", "US", "EUR", "35", "2,5 lb/ft3")
	}
	return c
}

func pick[T any](r *rand.Rand, from ...T) T { return from[r.IntN(len(from))] }

func seat(r *rand.Rand, j job.Job) job.ID { return j.Seats[r.IntN(len(j.Seats))].ID }

func foam(r *rand.Rand, j job.Job) job.ID {
	if len(j.Foams) == 0 {
		return "aaaaaaaaaa"
	}
	return j.Foams[r.IntN(len(j.Foams))].ID
}

func goods(r *rand.Rand, j job.Job) job.ID {
	if len(j.Cloths) == 0 || r.IntN(4) == 0 {
		return foam(r, j)
	}
	return j.Cloths[r.IntN(len(j.Cloths))].ID
}

func length(r *rand.Rand) job.Measure {
	u := pick(r, unit.Inches, unit.DecimalInches, unit.Centimetres, unit.Millimetres)
	return job.MeasureOf(unit.Length(r.IntN(600*16))*unit.In/16/25, u)
}

func text(r *rand.Rand) string {
	return pick(r, "Side chair", "Elbow chair", "Window bench", "Chair 9", "Zeder-grün", "椅子", "a “quoted” <name> & more", "O'Neill", "\\back/slash")
}
