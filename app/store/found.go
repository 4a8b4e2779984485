package store

import (
	"encoding/binary"
	"io"
	"slices"

	"github.com/boltdb/bolt"
)

// What a damaged file still holds is read here without bolt, which takes a
// file's structure for granted. Every page is tested before it is followed;
// what cannot be followed is left out and the bucket around it marked. The
// checksums of the values say which of what was found is as it was written.

// found is a bucket as far as it can be read.
type found struct {
	values  map[string][]byte // payloads by key; their checksums are right
	buckets map[string]*found
	bad     []string // keys of values whose checksum is wrong
	broken  bool     // a page of it could not be followed
}

func newFound() *found { return &found{values: map[string][]byte{}, buckets: map[string]*found{}} }

// get is get of a bucket that was found.
func (f *found) get(key string) ([]byte, error) {
	if f == nil {
		return nil, nil
	}
	if v, ok := f.values[key]; ok {
		return v, nil
	}
	if slices.Contains(f.bad, key) {
		return nil, valueFault(key)
	}
	return nil, nil
}

// at gives a bucket inside; an empty broken one when it is not there.
func (f *found) at(name string) *found {
	if f != nil && f.buckets[name] != nil {
		return f.buckets[name]
	}
	return &found{broken: true}
}

// whole tells whether nothing of it and of what it holds is missing.
func (f *found) whole() bool {
	if f.broken || len(f.bad) > 0 {
		return false
	}
	for _, b := range f.buckets {
		if !b.whole() {
			return false
		}
	}
	return true
}

// mostScan bounds how many pages are looked at one by one.
const mostScan = 1 << 18

// gleaner reads the pages of a file that may be damaged.
type gleaner struct {
	file     io.ReaderAt
	size     int64
	pageSize int64
	pages    uint64
	free     map[uint64]bool // pages known to be free
	seen     map[uint64]bool
}

// glean reads a file: the tree that its header names, and, when something of
// that is missing, the buckets on all pages that it does not reach. root is
// nil when no header can be trusted.
func glean(file io.ReaderAt, size int64) (root *found, loose []*found) {
	g := &gleaner{file: file, size: size, free: map[uint64]bool{}, seen: map[uint64]bool{}}
	e := examiner{file: file, size: size}
	h, err := e.headers()
	if err == nil {
		g.pageSize = int64(h.pageSize)
	} else {
		g.pageSize = 4096
	}
	g.pages = uint64(size / g.pageSize)
	if err == nil {
		g.readFree(h.freelist)
		root = newFound()
		g.follow(root, h.root, 0)
		if root.whole() && hasTops(root) {
			return root, nil
		}
	}
	reached := g.seen
	for id := uint64(2); id < min(g.pages, mostScan); id++ {
		if reached[id] || g.free[id] {
			continue
		}
		g.seen = map[uint64]bool{}
		if b, ok := g.loosePage(id); ok {
			loose = append(loose, b)
		}
	}
	return root, loose
}

// hasTops tells whether all buckets of the top are there.
func hasTops(root *found) bool {
	for _, name := range topBuckets() {
		if root.buckets[string(name)] == nil {
			return false
		}
	}
	return true
}

// readFree takes in the list of free pages if it makes sense. Such pages hold
// what was given up; none of it must come back.
func (g *gleaner) readFree(id uint64) {
	b, ok := g.read(id)
	le := binary.LittleEndian
	if !ok || le.Uint16(b[8:]) != flagFreelist {
		return
	}
	n, at := uint64(le.Uint16(b[10:])), uint64(pageHead)
	if n == 0xFFFF {
		n = le.Uint64(b[at:])
		at += 8
	}
	if n > (uint64(len(b))-at)/8 {
		return
	}
	for i := range n {
		g.free[le.Uint64(b[at+8*i:])] = true
	}
}

// read gives a page with those that belong to it, when it is what it says.
func (g *gleaner) read(id uint64) ([]byte, bool) {
	if id < 2 || id >= g.pages {
		return nil, false
	}
	head := make([]byte, pageHead)
	if _, err := g.file.ReadAt(head, int64(id)*g.pageSize); err != nil {
		return nil, false
	}
	le := binary.LittleEndian
	more := uint64(le.Uint32(head[12:]))
	if le.Uint64(head) != id || more >= g.pages-id {
		return nil, false
	}
	b := make([]byte, int64(more+1)*g.pageSize)
	_, err := g.file.ReadAt(b, int64(id)*g.pageSize)
	return b, err == nil
}

// follow reads a page of a bucket into it.
func (g *gleaner) follow(into *found, id uint64, depth int) {
	b, ok := g.read(id)
	if !ok || g.seen[id] || g.free[id] || depth > maxDepth {
		into.broken = true
		return
	}
	g.seen[id] = true
	for i := uint64(1); i < uint64(int64(len(b))/g.pageSize); i++ {
		g.seen[id+i] = true
	}
	switch binary.LittleEndian.Uint16(b[8:]) {
	case flagLeaf:
		g.leaf(into, b, depth)
	case flagBranch:
		g.branch(into, b, depth)
	default:
		into.broken = true
	}
}

func (g *gleaner) branch(into *found, b []byte, depth int) {
	le := binary.LittleEndian
	n := int(le.Uint16(b[10:]))
	if n == 0 || pageHead+n*elementSize > len(b) {
		into.broken = true
		return
	}
	next := pageHead + n*elementSize
	for i := range n {
		at := pageHead + i*elementSize
		if _, ok := part(b, at, le.Uint32(b[at:]), le.Uint32(b[at+4:]), &next); !ok {
			into.broken = true
		}
		g.follow(into, le.Uint64(b[at+8:]), depth+1)
	}
}

// leaf reads the values that are where their elements say.
func (g *gleaner) leaf(into *found, b []byte, depth int) {
	le := binary.LittleEndian
	n := int(le.Uint16(b[10:]))
	next := pageHead + n*elementSize
	if next > len(b) || n == 0 && !zero(b[pageHead:]) {
		into.broken = true
		return
	}
	for i := range n {
		at := pageHead + i*elementSize
		flags, from, ksize, vsize := le.Uint32(b[at:]), int64(at)+int64(le.Uint32(b[at+4:])), int64(le.Uint32(b[at+8:])), int64(le.Uint32(b[at+12:]))
		if from != int64(next) || ksize == 0 || from+ksize+vsize > int64(len(b)) {
			into.broken = true // and what follows is tried where it says it is
			if ksize == 0 || from < pageHead || from+ksize+vsize > int64(len(b)) {
				continue
			}
		}
		next = int(from + ksize + vsize)
		key, value := b[from:from+ksize], b[from+ksize:from+ksize+vsize]
		switch {
		case flags == flagBucket:
			inside := newFound()
			g.bucket(inside, value, depth)
			if into.buckets[string(key)] != nil {
				into.broken = true
				continue
			}
			into.buckets[string(key)] = inside
		case flags != 0:
			into.broken = true
		default:
			if payload, ok := unframe(key, value); ok {
				into.values[string(key)] = payload
			} else {
				into.bad = append(into.bad, string(key))
			}
		}
	}
}

func (g *gleaner) bucket(into *found, value []byte, depth int) {
	if len(value) < bucketSize || depth > maxDepth {
		into.broken = true
		return
	}
	if root := binary.LittleEndian.Uint64(value); root != 0 {
		g.follow(into, root, depth+1)
		return
	}
	inline := value[bucketSize:]
	if len(inline) < pageHead || binary.LittleEndian.Uint16(inline[8:]) != flagLeaf {
		into.broken = true
		return
	}
	g.leaf(into, inline, depth+1)
}

// loosePage reads a page that nothing names any more, if it is one of values.
func (g *gleaner) loosePage(id uint64) (*found, bool) {
	head := make([]byte, pageHead)
	if _, err := g.file.ReadAt(head, int64(id)*g.pageSize); err != nil {
		return nil, false
	}
	le := binary.LittleEndian
	if le.Uint64(head) != id || le.Uint16(head[8:]) != flagLeaf || le.Uint16(head[10:]) == 0 {
		return nil, false
	}
	f := newFound()
	g.follow(f, id, 0)
	return f, len(f.values)+len(f.buckets) > 0
}

// fill writes what was found into a bucket of a new file.
func (f *found) fill(to *bolt.Bucket) error {
	for key, payload := range f.values {
		if err := put(to, key, payload); err != nil {
			return err
		}
	}
	for key, inside := range f.buckets {
		b, err := to.CreateBucketIfNotExists([]byte(key))
		if err != nil {
			return err
		}
		if err := inside.fill(b); err != nil {
			return err
		}
	}
	return nil
}
