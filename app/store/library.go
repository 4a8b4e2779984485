package store

import (
	"cmp"
	"encoding/json"
	"slices"
	"time"

	"github.com/boltdb/bolt"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Library is one of the user's own libraries. The store keeps its items
// without knowing what they are; Kept and Keep read and write them as values
// of a type.
type Library string

// The libraries.
const (
	Shelf  Library = "shelf"  // offcuts of cloth and foam
	Cloths Library = "cloths" // cloths to copy into jobs
	Foams  Library = "foams"  // foams to copy into jobs
)

// Limits of a library.
const (
	MaxItems    = 5_000
	maxItemSize = 1 << 20
)

// Item is one thing in a library.
type Item struct {
	ID      job.ID    `json:"id"`
	Changed time.Time `json:"changed"`
	// By is the job that a piece of the shelf is reserved for; empty for none.
	By   job.ID          `json:"by,omitempty"`
	Data json.RawMessage `json:"data"`
}

// ShelfChange is what goes with a job's save in one transaction. Everything is
// done or nothing: a piece that is gone or held by another job refuses it all.
type ShelfChange struct {
	Reserve []job.ID // for the job that is saved
	Free    []job.ID // what the job had reserved; others' are left alone
	Take    []job.ID // off the shelf, because they were cut up
	Put     []Item   // onto it; the IDs must be new
}

// Inverse is the change that takes this one back, given the items that it
// took. It is refused in its turn when an offcut that was put has been used
// elsewhere since.
func (c ShelfChange) Inverse(taken []Item) ShelfChange {
	back := ShelfChange{Reserve: c.Free, Free: c.Reserve, Put: taken}
	for _, it := range c.Put {
		back.Take = append(back.Take, it.ID)
	}
	return back
}

func (l Library) known() bool { return l == Shelf || l == Cloths || l == Foams }

// Items implements Store.
func (s *file) Items(of Library) (items []Item, lost int, err error) {
	if !of.known() {
		return nil, 0, unit.Fault{Code: CodeKey, Args: []unit.Arg{unit.A("key", string(of))}}
	}
	err = s.view(func(tx *bolt.Tx) error {
		b := tx.Bucket([]byte(of))
		return b.ForEach(func(key, _ []byte) error {
			if it, ok := itemIn(b, key); ok {
				items = append(items, it)
			} else {
				lost++
			}
			return nil
		})
	})
	slices.SortFunc(items, func(a, b Item) int {
		return cmp.Or(b.Changed.Compare(a.Changed), cmp.Compare(a.ID, b.ID))
	})
	return items, lost, err
}

func itemIn(b *bolt.Bucket, key []byte) (Item, bool) {
	raw, err := get(b, string(key))
	if err != nil {
		return Item{}, false
	}
	return readItem(string(key), raw)
}

func readItem(key string, raw []byte) (Item, bool) {
	var it Item
	ok := raw != nil && json.Unmarshal(raw, &it) == nil && string(it.ID) == key
	return it, ok
}

func putItem(b *bolt.Bucket, it Item) error {
	raw, err := json.Marshal(it)
	if err != nil || len(raw) > maxItemSize || !it.ID.Valid() {
		return unit.Fault{Code: CodeItem, Args: []unit.Arg{unit.A("id", printable([]byte(it.ID)))}}
	}
	return put(b, string(it.ID), raw)
}

// PutItem implements Store.
func (s *file) PutItem(of Library, it Item) error {
	if !of.known() {
		return unit.Fault{Code: CodeKey, Args: []unit.Arg{unit.A("key", string(of))}}
	}
	return s.update(func(tx *bolt.Tx) error {
		b := tx.Bucket([]byte(of))
		old, there := itemIn(b, []byte(it.ID))
		if !there && b.Stats().KeyN >= MaxItems {
			return unit.Fault{Code: CodeItems, Args: []unit.Arg{unit.A("limit", MaxItems)}}
		}
		it.By, it.Changed = old.By, s.now()
		return putItem(b, it)
	})
}

// DropItem implements Store.
func (s *file) DropItem(of Library, id job.ID) error {
	if !of.known() {
		return unit.Fault{Code: CodeKey, Args: []unit.Arg{unit.A("key", string(of))}}
	}
	return s.update(func(tx *bolt.Tx) error {
		b := tx.Bucket([]byte(of))
		if it, ok := itemIn(b, []byte(id)); ok && it.By != "" {
			return held(tx, it)
		}
		return b.Delete([]byte(id))
	})
}

// held says which job a piece is reserved for.
func held(tx *bolt.Tx, it Item) error {
	name := ""
	if b := jobBucket(tx, it.By); b != nil {
		name = infoIn(b, it.By).Name
	}
	return unit.Fault{Code: CodeHeld, Args: []unit.Arg{unit.A("id", string(it.ID)), unit.A("name", name)}}
}

// SaveWith implements Store.
func (s *file) SaveWith(r Record, c ShelfChange) error {
	if err := r.check(); err != nil {
		return err
	}
	return s.update(func(tx *bolt.Tx) error {
		if err := s.changeShelf(tx, r.Info.ID, c); err != nil {
			return err
		}
		return s.save(tx, r)
	})
}

func (s *file) changeShelf(tx *bolt.Tx, by job.ID, c ShelfChange) error {
	shelf := tx.Bucket(inShelf)
	usable := func(id job.ID) (Item, error) {
		it, ok := itemIn(shelf, []byte(id))
		switch {
		case !ok:
			return it, unit.Fault{Code: CodeShelfGone, Args: []unit.Arg{unit.A("id", string(id))}}
		case it.By != "" && it.By != by && jobBucket(tx, it.By) != nil:
			return it, held(tx, it)
		}
		return it, nil
	}
	for _, id := range c.Free {
		if it, ok := itemIn(shelf, []byte(id)); ok && it.By == by {
			it.By = ""
			if err := putItem(shelf, it); err != nil {
				return err
			}
		}
	}
	for _, id := range c.Take {
		if _, err := usable(id); err != nil {
			return err
		}
		if err := shelf.Delete([]byte(id)); err != nil {
			return err
		}
	}
	for _, it := range c.Put {
		if _, there := itemIn(shelf, []byte(it.ID)); there {
			return unit.Fault{Code: CodeTaken, Args: []unit.Arg{unit.A("id", string(it.ID))}}
		}
		if it.Changed.IsZero() {
			it.Changed = s.now()
		}
		if err := putItem(shelf, it); err != nil {
			return err
		}
	}
	for _, id := range c.Reserve {
		it, err := usable(id)
		if err != nil {
			return err
		}
		it.By = by
		if err := putItem(shelf, it); err != nil {
			return err
		}
	}
	if len(c.Put) > 0 && shelf.Stats().KeyN > MaxItems {
		return unit.Fault{Code: CodeItems, Args: []unit.Arg{unit.A("limit", MaxItems)}}
	}
	return nil
}

// freeAll lets go of everything on the shelf that a job has reserved.
func freeAll(tx *bolt.Tx, by job.ID) error {
	shelf := tx.Bucket(inShelf)
	var free []Item
	err := shelf.ForEach(func(key, _ []byte) error {
		if it, ok := itemIn(shelf, key); ok && it.By == by {
			it.By = ""
			free = append(free, it)
		}
		return nil
	})
	for _, it := range free {
		if err == nil {
			err = putItem(shelf, it)
		}
	}
	return err
}

// Kept is an item read as a value of a type.
type Kept[T any] struct {
	ID      job.ID
	Changed time.Time
	By      job.ID
	Value   T
}

// ReadAll reads a library's items as values of a type, the latest first, and
// counts those that cannot be read so.
func ReadAll[T any](s Store, of Library) (list []Kept[T], lost int, err error) {
	items, lost, err := s.Items(of)
	for _, it := range items {
		k := Kept[T]{ID: it.ID, Changed: it.Changed, By: it.By}
		if json.Unmarshal(it.Data, &k.Value) != nil {
			lost++
			continue
		}
		list = append(list, k)
	}
	return list, lost, err
}

// NewItem makes an item of a value. The error is that of writing it as JSON.
func NewItem[T any](id job.ID, v T) (Item, error) {
	data, err := json.Marshal(v)
	return Item{ID: id, Data: data}, err
}

// Keep puts a value into a library under an ID, in place of what was there.
func Keep[T any](s Store, of Library, id job.ID, v T) error {
	it, err := NewItem(id, v)
	if err != nil {
		return unit.Fault{Code: CodeItem, Args: []unit.Arg{unit.A("id", string(id))}}
	}
	return s.PutItem(of, it)
}
