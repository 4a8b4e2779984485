package store

import (
	"encoding/binary"
	"encoding/json"

	"github.com/boltdb/bolt"

	"slipseat/app/edit"
	"slipseat/app/job"
)

// A history is stored as a list of its entries ("log"), a record for every
// entry ("e" and its number) and the chunks that the records name ("c" and the
// chunk's ID). Saving writes what is new and takes away what nothing names any
// more.

const keyLog = "log"

// logRec is the list of entries.
type logRec struct {
	Cursor  int      `json:"cursor"`
	Next    uint64   `json:"next"`
	Entries []logKey `json:"entries"`
}

// logKey tells an entry from others with its number: a history that was begun
// anew counts from 1 again.
type logKey struct {
	Seq uint64 `json:"seq"`
	At  int64  `json:"at"` // Unix time in nanoseconds
}

func keyOf(e edit.Entry) logKey { return logKey{e.Seq, e.At.UnixNano()} }

func entryKey(seq uint64) string {
	return "e" + string(binary.BigEndian.AppendUint64(nil, seq))
}

func chunkKey(id job.ChunkID) string { return "c" + string(id) }

// cachedLog remembers what is stored of one job's history, so that a save does
// not read it all again. It is dropped whenever a transaction fails.
type cachedLog struct {
	of     job.ID
	chunks map[logKey][]job.ChunkID
}

// stored gives what is stored of a history: its entries with the chunks that
// each names. What cannot be read counts as not stored.
func (s *file) stored(h *bolt.Bucket, id job.ID) map[logKey][]job.ChunkID {
	if s.cached.of == id && s.cached.chunks != nil {
		return s.cached.chunks
	}
	chunks := map[logKey][]job.ChunkID{}
	rec, ok := readLogRec(from(h))
	if !ok {
		return chunks
	}
	for _, k := range rec.Entries {
		raw, err := get(h, entryKey(k.Seq))
		if names := edit.ChunksOf(raw); err == nil && names != nil {
			chunks[k] = names
		}
	}
	return chunks
}

// getter fetches the payload under a key; nil when there is none.
type getter func(key string) ([]byte, error)

func from(b *bolt.Bucket) getter {
	return func(key string) ([]byte, error) { return get(b, key) }
}

func readLogRec(get getter) (logRec, bool) {
	var rec logRec
	raw, err := get(keyLog)
	return rec, err == nil && raw != nil && json.Unmarshal(raw, &rec) == nil && len(rec.Entries) <= edit.MaxEntries
}

// writeLog brings the stored history up to l.
func (s *file) writeLog(h *bolt.Bucket, l edit.Log) error {
	id := l.Job().ID
	have := s.stored(h, id)
	now := make(map[logKey][]job.ChunkID, len(l.Entries))
	rec := logRec{Cursor: l.Cursor, Next: l.Next}
	kept := map[string]bool{}
	for _, e := range l.Entries {
		k := keyOf(e)
		rec.Entries = append(rec.Entries, k)
		kept[entryKey(e.Seq)] = true
		if names, ok := have[k]; ok {
			now[k] = names
			for _, c := range names {
				kept[chunkKey(c)] = true
			}
			continue
		}
		raw, chunks := e.Pack()
		if err := put(h, entryKey(e.Seq), raw); err != nil {
			return err
		}
		for _, c := range chunks {
			now[k] = append(now[k], c.ID)
			key := chunkKey(c.ID)
			if there, err := get(h, key); !kept[key] && (err != nil || there == nil) {
				if err := put(h, key, c.Data); err != nil {
					return err
				}
			}
			kept[key] = true
		}
	}
	if err := dropOthers(h, kept, have, now); err != nil {
		return err
	}
	raw, err := json.Marshal(rec)
	if err != nil {
		return err
	}
	if err := put(h, keyLog, raw); err != nil {
		return err
	}
	s.cached = cachedLog{of: id, chunks: now}
	return nil
}

// dropOthers takes away the entries and chunks that are not kept. When no
// entry went there is nothing to look for.
func dropOthers(h *bolt.Bucket, kept map[string]bool, have, now map[logKey][]job.ChunkID) error {
	gone := false
	for k := range have {
		if _, ok := now[k]; !ok {
			gone = true
		}
	}
	if !gone && len(have) > 0 {
		return nil
	}
	var drop [][]byte
	err := h.ForEach(func(key, _ []byte) error {
		if (key[0] == 'e' || key[0] == 'c') && !kept[string(key)] {
			drop = append(drop, append([]byte(nil), key...))
		}
		return nil
	})
	for _, key := range drop {
		if err == nil {
			err = h.Delete(key)
		}
	}
	return err
}

// readLog reads a history and leaves out the entries that cannot be read; it
// counts them. The current one is the nearest before the one that was, or the
// nearest after it.
func readLog(get getter, id job.ID) (l edit.Log, lost int) {
	rec, ok := readLogRec(get)
	if !ok {
		return edit.Log{}, 1
	}
	g := &job.Joiner{Get: func(c job.ChunkID) ([]byte, error) {
		raw, err := get(chunkKey(c))
		if err == nil && raw == nil {
			err = valueFault(chunkKey(c))
		}
		return raw, err
	}}
	l.Next = rec.Next
	cursor := -1
	for i, k := range rec.Entries {
		raw, err := get(entryKey(k.Seq))
		var e edit.Entry
		if err == nil {
			e, err = edit.Unpack(raw, g)
		}
		if err != nil || keyOf(e) != k || e.Job.ID != id {
			lost++
			continue
		}
		l.Entries = append(l.Entries, e)
		if i <= rec.Cursor || cursor < 0 {
			cursor = len(l.Entries) - 1
		}
	}
	l.Cursor = max(cursor, 0)
	if len(l.Entries) > 0 && !l.Valid() {
		return edit.Log{}, len(rec.Entries)
	}
	return l, lost
}
