package edit

import (
	"encoding/json"
	"math"
	"time"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// CodeRecord is the fault of a stored entry that cannot be read.
const CodeRecord = "store.entry-damaged"

// record is an entry as it is stored, without the chunks of its job.
type record struct {
	Seq   uint64    `json:"seq"`
	At    time.Time `json:"at"`
	Label string    `json:"label"`
	Args  []argRec  `json:"args,omitempty"`
	Job   job.Index `json:"job"`
}

type argRec struct {
	Name string   `json:"name"`
	Text *string  `json:"text,omitempty"`
	Int  *int     `json:"int,omitempty"`
	MM   *float64 `json:"mm,omitempty"`
}

// Pack writes an entry as a record and the chunks of its job.
func (e Entry) Pack() (rec []byte, chunks []job.Chunk) {
	r := record{Seq: e.Seq, At: e.At.UTC(), Label: e.Label.Code}
	r.Job, chunks = job.Split(e.Job)
	for _, a := range e.Label.Args {
		one := argRec{Name: a.Name}
		switch v := a.Value.(type) {
		case string:
			one.Text = &v
		case int:
			one.Int = &v
		case unit.Length:
			if mm := v.MM(); !math.IsNaN(mm) && !math.IsInf(mm, 0) {
				one.MM = &mm
			}
		}
		r.Args = append(r.Args, one)
	}
	rec, err := json.Marshal(r)
	if err != nil {
		// A time beyond year 9999 is all that JSON refuses here.
		r.At = time.Time{}
		rec, _ = json.Marshal(r)
	}
	return rec, chunks
}

// Unpack reads a record back, its job put together by g. The error is a
// unit.Fault, or what g's Get returns.
func Unpack(rec []byte, g *job.Joiner) (Entry, error) {
	var r record
	if json.Unmarshal(rec, &r) != nil || r.Seq == 0 {
		return Entry{}, unit.Fault{Code: CodeRecord}
	}
	e := Entry{Seq: r.Seq, At: r.At, Label: Label{Code: r.Label}}
	for _, a := range r.Args {
		switch {
		case a.Text != nil:
			e.Label.Args = append(e.Label.Args, unit.A(a.Name, *a.Text))
		case a.Int != nil:
			e.Label.Args = append(e.Label.Args, unit.A(a.Name, *a.Int))
		case a.MM != nil:
			e.Label.Args = append(e.Label.Args, unit.A(a.Name, unit.Length(*a.MM)))
		}
	}
	var err error
	e.Job, err = g.Join(r.Job)
	return e, err
}

// ChunksOf lists the chunks that a record needs; nil when it cannot be read.
func ChunksOf(rec []byte) []job.ChunkID {
	var r record
	if json.Unmarshal(rec, &r) != nil {
		return nil
	}
	return r.Job.All()
}
