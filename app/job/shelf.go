package job

import (
	"reflect"
	"slices"

	"slipseat/engine/unit"
)

// ShelfPiece is an offcut of cloth or foam that is kept from an earlier job.
// Whether a job has reserved it is for the shelf to say; one that was used up or
// thrown away is no longer there.
type ShelfPiece struct {
	ID      ID      `json:"id,required"`
	Foam    bool    `json:"foam"`       // else cloth
	Goods   string  `json:"goods"`      // name of the cloth or the foam
	Library ID      `json:"library_id"` // the entry of the library that it was bought as
	Origin  string  `json:"origin"`     // the job that it was left over from
	From    ID      `json:"from"`       // ID of that job
	Length  Measure `json:"offcut_length,required" most:"1000 m"`
	Width   Measure `json:"offcut_width,required" most:"10 m"`
	// Thickness of foam.
	Thickness   Measure `json:"thickness" most:"500 mm"`
	Lot         string  `json:"lot"`
	FirstAlong  Measure `json:"first_along" most:"1000 m"`
	FirstAcross Measure `json:"first_across" most:"10 m"`
	Note        string  `json:"note" text:"long"`

	Extra Extra `json:"-"`
}

// Offcut copies the piece into a job; id is that of the copy.
func (p ShelfPiece) Offcut(id ID) Offcut {
	return Offcut{ID: id, Shelf: p.ID, Name: p.Goods, Origin: p.Origin, Length: p.Length, Width: p.Width, FirstAlong: p.FirstAlong,
		FirstAcross: p.FirstAcross, Lot: p.Lot}
}

// Fits tells whether the piece may serve in place of goods: cloth for cloth,
// and foam of the same thickness.
func (p ShelfPiece) Fits(cloth *Cloth, foam *Foam) bool {
	switch {
	case foam != nil:
		d := p.Thickness.mm() - foam.Thickness.mm()
		return p.Foam && d < sameThickness && d > -sameThickness
	case cloth != nil:
		return !p.Foam
	}
	return false
}

// sameThickness in millimetres: a slab of an inch may be sold as 25 mm.
const sameThickness unit.Length = 0.5

// held is a shelf piece in a job.
type held struct {
	cut   bool // its goods are cut, so it is used up
	piece ShelfPiece
}

// onShelf lists the shelf pieces that a job cuts from, and those that it left
// over.
func (j Job) onShelf() (uses map[ID]held, made map[ID]ShelfPiece) {
	uses, made = map[ID]held{}, map[ID]ShelfPiece{}
	filled := func(of ShelfPiece, o Offcut) ShelfPiece {
		of.ID, of.Length, of.Width, of.Lot, of.FirstAlong, of.FirstAcross = o.Shelf, o.Length, o.Width, o.Lot, o.FirstAlong, o.FirstAcross
		return of
	}
	add := func(offcuts, left []Offcut, cut bool, of ShelfPiece) {
		for _, o := range offcuts {
			if o.Shelf == "" {
				continue
			}
			p := filled(of, o)
			p.Goods, p.Library, p.Origin = o.Name, "", o.Origin
			uses[o.Shelf] = held{cut, p}
		}
		for _, o := range left {
			if cut && o.Shelf != "" {
				p := filled(of, o)
				p.Origin, p.From = j.Name, j.ID
				made[o.Shelf] = p
			}
		}
	}
	for _, c := range j.Cloths {
		add(c.Offcuts, c.Made, c.CutDone, ShelfPiece{Goods: c.Name, Library: c.Library})
	}
	for _, f := range j.Foams {
		add(f.Offcuts, f.Made, f.CutDone, ShelfPiece{Foam: true, Goods: f.Name, Library: f.Library, Thickness: f.Thickness})
	}
	return uses, made
}

// ShelfDiff is what changes on the shelf with a job.
type ShelfDiff struct {
	Reserve []ID         // for the job
	Free    []ID         // what it had reserved
	Take    []ID         // off the shelf: cut up, or not left over after all
	Put     []ShelfPiece // onto it
}

// Empty tells that nothing changes.
func (d ShelfDiff) Empty() bool { return len(d.Reserve)+len(d.Free)+len(d.Take)+len(d.Put) == 0 }

// ShelfChanges gives what changes on the shelf when a job goes from one
// snapshot to another, by an edit, undo or redo alike: pieces that it cuts from
// are reserved, taken off once its goods are marked as cut, and free again when
// the job lets them go; what is left over is put there. When the marking is
// undone, both go back. The shelf refuses the whole change when another job has
// a piece that is to be reserved or taken; then the job must not change either.
func ShelfChanges(before, after Job) ShelfDiff {
	wasUses, wasMade := before.onShelf()
	uses, made := after.onShelf()
	var d ShelfDiff
	for _, id := range sorted(uses) {
		was, had := wasUses[id]
		switch cut := uses[id].cut; {
		case cut && !(had && was.cut):
			d.Take = append(d.Take, id)
		case !cut && had && was.cut:
			d.Put, d.Reserve = append(d.Put, was.piece), append(d.Reserve, id)
		case !cut && !had:
			d.Reserve = append(d.Reserve, id)
		}
	}
	for _, id := range sorted(wasUses) {
		if _, still := uses[id]; still {
			continue
		}
		if wasUses[id].cut {
			d.Put = append(d.Put, wasUses[id].piece)
		} else {
			d.Free = append(d.Free, id)
		}
	}
	for _, id := range sorted(made) {
		if _, had := wasMade[id]; !had {
			d.Put = append(d.Put, made[id])
		}
	}
	for _, id := range sorted(wasMade) {
		if _, still := made[id]; !still {
			d.Take = append(d.Take, id)
		}
	}
	return d
}

func sorted[T any](m map[ID]T) []ID {
	var ids []ID
	for id := range m {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

var shelfSchema = schemaOf(reflect.TypeFor[ShelfPiece]())
