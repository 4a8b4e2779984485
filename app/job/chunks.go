package job

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"reflect"

	"slipseat/engine/unit"
)

// A job is stored many times over in its history. There it is kept in chunks
// that are named by their own content: every seat, cloth and foam, the pieces
// held in place, and the rest. Snapshots that share a chunk share its bytes.

// ChunkID names a chunk: the first half of the SHA-256 of its bytes in
// hexadecimal.
type ChunkID string

// Chunk is the bytes of a chunk with their name.
type Chunk struct {
	ID   ChunkID
	Data []byte
}

func chunkOf(data []byte) Chunk {
	sum := sha256.Sum256(data)
	return Chunk{ChunkID(hex.EncodeToString(sum[:16])), data}
}

// Index lists the chunks of a job in their order.
type Index struct {
	Head   ChunkID   `json:"head"`
	Seats  []ChunkID `json:"seats,omitempty"`
	Cloths []ChunkID `json:"cloths,omitempty"`
	Foams  []ChunkID `json:"foams,omitempty"`
	Locked ChunkID   `json:"locked,omitempty"` // "" for none
}

// All lists every chunk named.
func (x Index) All() []ChunkID {
	all := append([]ChunkID{x.Head}, x.Seats...)
	all = append(append(all, x.Cloths...), x.Foams...)
	if x.Locked != "" {
		all = append(all, x.Locked)
	}
	return all
}

// Split takes a job apart. A chunk may stand in the result twice.
func Split(j Job) (Index, []Chunk) {
	var x Index
	var chunks []Chunk
	add := func(write func(*writer)) ChunkID {
		w := writer{}
		write(&w)
		p := chunkOf(w.b.Bytes())
		chunks = append(chunks, p)
		return p.ID
	}
	x.Head = add(func(w *writer) { w.object(headSchema, reflect.ValueOf(j)) })
	list := func(key string, v reflect.Value) []ChunkID {
		var ids []ChunkID
		for i := range v.Len() {
			ids = append(ids, add(func(w *writer) { w.object(jobSchema.list(key), v.Index(i)) }))
		}
		return ids
	}
	x.Seats = list("seats", reflect.ValueOf(j.Seats))
	x.Cloths = list("cloths", reflect.ValueOf(j.Cloths))
	x.Foams = list("foams", reflect.ValueOf(j.Foams))
	if len(j.Locked) > 0 {
		x.Locked = add(func(w *writer) { w.value(jobSchema.field("locked"), reflect.ValueOf(j.Locked)) })
	}
	return x, chunks
}

// Joiner puts jobs together again. Jobs from one Joiner share the chunks they
// have in common. Get fetches the bytes of a chunk.
type Joiner struct {
	Get  func(ChunkID) ([]byte, error)
	made map[ChunkID]any
}

// CodeChunk is the fault of a chunk whose bytes are not what its name says, or
// that cannot be read.
const CodeChunk = "store.chunk-damaged"

// Join puts a job together. The error is what Get returns, or a unit.Fault.
func (g *Joiner) Join(x Index) (Job, error) {
	var j Job
	head, err := chunk[Job](g, x.Head, headSchema)
	if err != nil {
		return Job{}, err
	}
	j = head
	if j.Seats, err = joinList[Seat](g, x.Seats, "seats"); err != nil {
		return Job{}, err
	}
	if j.Cloths, err = joinList[Cloth](g, x.Cloths, "cloths"); err != nil {
		return Job{}, err
	}
	if j.Foams, err = joinList[Foam](g, x.Foams, "foams"); err != nil {
		return Job{}, err
	}
	if x.Locked != "" {
		if j.Locked, err = chunk[[]Lock](g, x.Locked, nil); err != nil {
			return Job{}, err
		}
	}
	if f := j.checkIDs(); f != nil {
		return Job{}, *f
	}
	return j, nil
}

func joinList[T any](g *Joiner, ids []ChunkID, key string) ([]T, error) {
	if len(ids) > jobSchema.field(key).most {
		return nil, *fault(CodeChunk, unit.A("key", key))
	}
	var list []T
	for _, id := range ids {
		item, err := chunk[T](g, id, jobSchema.list(key))
		if err != nil {
			return nil, err
		}
		list = append(list, item)
	}
	return list, nil
}

// chunk reads a chunk once; a list of locks has no schema of its own.
func chunk[T any](g *Joiner, id ChunkID, o *object) (T, error) {
	var v T
	if made, ok := g.made[id]; ok {
		if same, ok := made.(T); ok {
			return same, nil
		}
	}
	data, err := g.Get(id)
	if err != nil {
		return v, err
	}
	r := reader{}
	switch {
	case chunkOf(data).ID != id || !json.Valid(data):
		r.fault = fault(CodeChunk, unit.A("key", string(id)))
	case o == nil:
		r.list(jobSchema.field("locked"), data, reflect.ValueOf(&v).Elem(), "locked")
	default:
		r.object(o, data, reflect.ValueOf(&v).Elem(), o.name)
	}
	if r.fault != nil {
		return v, *r.fault
	}
	if g.made == nil {
		g.made = map[ChunkID]any{}
	}
	g.made[id] = v
	return v, nil
}

// field gives the schema of a key.
func (o *object) field(key string) *field { return &o.fields[o.byKey[key]] }
