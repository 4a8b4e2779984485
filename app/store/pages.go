package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"strings"

	"slipseat/engine/unit"
)

// A bolt file is pages of one size. Pages 0 and 1 are the headers, written in
// turn; the one with the higher transaction number and a right checksum counts.
// It names the root of the tree of buckets, the page with the list of free
// pages, and the number of pages in use. bolt takes all that for granted and
// panics, crashes or runs for ever when it is not so; a damaged list of free
// pages even makes it write over pages in use. So the whole structure is
// examined here first, by reading the file and nothing else.

// Report is what Examine found.
type Report struct {
	// Fault says why the file must not be opened; nil when its structure is
	// whole.
	Fault *unit.Fault
	// OneHeader: one of the two headers is damaged. The file is opened at the
	// other, which may be one save older.
	OneHeader bool
	// Values counts the values, Damaged lists those whose checksum is wrong, by
	// the way to them.
	Values  int
	Damaged []string
	Pages   int
	Free    int // pages that are not in use
	// Size is that of a page in bytes, Saves counts the transactions so far.
	Size  int
	Saves uint64
}

const (
	boltMagic   = 0xED0CDAED
	boltVersion = 2

	pageHead    = 16
	elementSize = 16
	bucketSize  = 16
	metaSize    = 64

	flagBranch   = 0x01
	flagLeaf     = 0x02
	flagMeta     = 0x04
	flagFreelist = 0x10
	flagBucket   = 0x01 // of a leaf's element

	maxDepth = 64 // of the tree with its buckets; jobs/<id>/history is far less deep
)

// Examine reads a bolt file and says whether it may be opened. The error is
// that of reading; os.ErrNotExist when there is no file.
func Examine(path string) (Report, error) {
	f, err := os.Open(path)
	if err != nil {
		return Report{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return Report{}, err
	}
	return examine(f, info.Size(), path)
}

func examine(f io.ReaderAt, size int64, path string) (Report, error) {
	e := examiner{file: f, size: size, path: path}
	err := e.run()
	var bad damage
	if errors.As(err, &bad) {
		e.Fault = &unit.Fault{Code: CodeDamaged, Args: []unit.Arg{unit.A("path", path), unit.A("detail", string(bad))}}
		err = nil
	}
	return e.Report, err
}

// damage says what is wrong, for the developer.
type damage string

func (d damage) Error() string { return string(d) }

func damaged(format string, args ...any) error { return damage(fmt.Sprintf(format, args...)) }

type examiner struct {
	Report
	file     io.ReaderAt
	size     int64
	path     string
	pageSize int64
	high     uint64 // pages in use
	seen     []bool // pages that something names
}

type header struct {
	pageSize             uint32
	root, freelist, high uint64
	txid                 uint64
}

func (e *examiner) run() error {
	if e.size == 0 {
		return damaged("the file is empty")
	}
	h, err := e.headers()
	if err != nil {
		return err
	}
	e.pageSize, e.high = int64(h.pageSize), h.high
	if e.high < 4 || e.high > uint64(e.size/e.pageSize) {
		return damaged("%d pages of %d bytes are said to be in use, the file has %d bytes", e.high, e.pageSize, e.size)
	}
	e.Pages, e.Size, e.Saves = int(e.high), int(e.pageSize), h.txid
	e.seen = make([]bool, e.high)
	e.seen[0], e.seen[1] = true, true
	if err := e.tree(h.root, nil, 0); err != nil {
		return err
	}
	return e.free(h.freelist)
}

// headers reads the two headers. The page size is in them; the second lies one
// page on, so that a damaged first one is looked for at all usual sizes.
func (e *examiner) headers() (header, error) {
	first, ok := e.header(0)
	if ok {
		second, ok := e.header(int64(first.pageSize))
		if ok && second.pageSize == first.pageSize && second.txid > first.txid {
			return second, nil
		}
		e.OneHeader = !ok
		return first, nil
	}
	for size := int64(1024); size <= 65536; size *= 2 {
		if second, ok := e.header(size); ok && int64(second.pageSize) == size {
			e.OneHeader = true
			return second, nil
		}
	}
	return header{}, damaged("neither header is whole")
}

func (e *examiner) header(at int64) (header, bool) {
	b := make([]byte, pageHead+metaSize)
	if _, err := e.file.ReadAt(b, at); err != nil {
		return header{}, false
	}
	le := binary.LittleEndian
	m := b[pageHead:]
	sum := fnv.New64a()
	sum.Write(m[:56])
	h := header{pageSize: le.Uint32(m[8:]), root: le.Uint64(m[16:]), freelist: le.Uint64(m[32:]), high: le.Uint64(m[40:]), txid: le.Uint64(m[48:])}
	ok := le.Uint32(m) == boltMagic && le.Uint32(m[4:]) == boltVersion && le.Uint64(m[56:]) == sum.Sum64() &&
		le.Uint16(b[8:])&flagMeta != 0 && h.pageSize >= 1024 && h.pageSize <= 65536 && h.pageSize&(h.pageSize-1) == 0
	return h, ok
}

// page reads a page with the pages that belong to it and marks them.
func (e *examiner) page(id uint64, what string) ([]byte, error) {
	if id < 2 || id >= e.high {
		return nil, damaged("%s is on page %d of %d", what, id, e.high)
	}
	head := make([]byte, pageHead)
	if _, err := e.file.ReadAt(head, int64(id)*e.pageSize); err != nil {
		return nil, err
	}
	le := binary.LittleEndian
	more := uint64(le.Uint32(head[12:]))
	if le.Uint64(head) != id {
		return nil, damaged("page %d says that it is page %d", id, le.Uint64(head))
	}
	if more >= e.high-id {
		return nil, damaged("page %d goes on for %d pages", id, more)
	}
	for i := id; i <= id+more; i++ {
		if e.seen[i] {
			return nil, damaged("page %d is in use twice", i)
		}
		e.seen[i] = true
	}
	b := make([]byte, int64(more+1)*e.pageSize)
	_, err := e.file.ReadAt(b, int64(id)*e.pageSize)
	return b, err
}

// tree walks the pages of a bucket. way is the keys of the buckets around it.
func (e *examiner) tree(id uint64, way [][]byte, depth int) error {
	if depth > maxDepth {
		return damaged("the tree is more than %d deep", maxDepth)
	}
	b, err := e.page(id, "a bucket")
	if err != nil {
		return err
	}
	switch flags := binary.LittleEndian.Uint16(b[8:]); flags {
	case flagBranch:
		return e.branch(b, id, way, depth)
	case flagLeaf:
		return e.leaf(b, fmt.Sprintf("page %d", id), way, depth)
	default:
		return damaged("page %d of a tree has the flags %#x", id, flags)
	}
}

func (e *examiner) branch(b []byte, id uint64, way [][]byte, depth int) error {
	le := binary.LittleEndian
	n := int(le.Uint16(b[10:]))
	if n == 0 || pageHead+n*elementSize > len(b) {
		return damaged("page %d has %d branches", id, n)
	}
	var last []byte
	next := pageHead + n*elementSize
	for i := range n {
		at := pageHead + i*elementSize
		key, ok := part(b, at, le.Uint32(b[at:]), le.Uint32(b[at+4:]), &next)
		if !ok || i > 0 && bytes.Compare(key, last) <= 0 {
			return damaged("branch %d of page %d has no proper key", i, id)
		}
		last = key
		if err := e.tree(le.Uint64(b[at+8:]), way, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// part gives the bytes at a place that an element names from its own start.
// bolt writes the elements of a page and then, without a gap, what they name;
// next is where that has to begin, and where the part after it does. So a
// wrong count of elements is noticed as well.
func part(b []byte, at int, pos, size uint32, next *int) ([]byte, bool) {
	from := int64(at) + int64(pos)
	if from != int64(*next) || from+int64(size) > int64(len(b)) {
		return nil, false
	}
	*next += int(size)
	return b[from : from+int64(size)], true
}

func (e *examiner) leaf(b []byte, name string, way [][]byte, depth int) error {
	le := binary.LittleEndian
	n := int(le.Uint16(b[10:]))
	next := pageHead + n*elementSize
	if next > len(b) || n == 0 && !zero(b[pageHead:]) {
		return damaged("%s has %d values", name, n)
	}
	var last []byte
	for i := range n {
		at := pageHead + i*elementSize
		flags, pos, ksize, vsize := le.Uint32(b[at:]), le.Uint32(b[at+4:]), le.Uint32(b[at+8:]), le.Uint32(b[at+12:])
		key, ok := part(b, at, pos, ksize, &next)
		var value []byte
		if ok { // the value follows the key
			value, ok = part(b, next, 0, vsize, &next)
		}
		if !ok || ksize == 0 || i > 0 && bytes.Compare(key, last) <= 0 {
			return damaged("value %d of %s has no proper key or end", i, name)
		}
		last = key
		switch flags {
		case 0:
			e.Values++
			if _, ok := unframe(key, value); !ok {
				e.Damaged = append(e.Damaged, wayTo(way, key))
			}
		case flagBucket:
			if err := e.bucket(value, append(way[:len(way):len(way)], key), depth); err != nil {
				return err
			}
		default:
			return damaged("value %d of %s has the flags %#x", i, name, flags)
		}
	}
	return nil
}

// zero tells whether nothing is written; bolt clears a page before it uses it.
func zero(b []byte) bool { return len(bytes.TrimLeft(b, "\x00")) == 0 }

// bucket follows a bucket to its own pages, or into itself when it is small.
func (e *examiner) bucket(value []byte, way [][]byte, depth int) error {
	if len(value) < bucketSize {
		return damaged("the bucket %s is cut short", wayTo(way, nil))
	}
	if root := binary.LittleEndian.Uint64(value); root != 0 {
		return e.tree(root, way, depth+1)
	}
	inline := value[bucketSize:]
	if len(inline) < pageHead || binary.LittleEndian.Uint16(inline[8:]) != flagLeaf {
		return damaged("the bucket %s holds no values", wayTo(way, nil))
	}
	return e.leaf(inline, "bucket "+wayTo(way, nil), way, depth+1)
}

// free walks the list of free pages: none may be in use or stand there twice.
func (e *examiner) free(id uint64) error {
	b, err := e.page(id, "the list of free pages")
	if err != nil {
		return err
	}
	le := binary.LittleEndian
	if le.Uint16(b[8:]) != flagFreelist {
		return damaged("page %d is no list of free pages", id)
	}
	n, at := uint64(le.Uint16(b[10:])), uint64(pageHead)
	if n == 0xFFFF { // more than fits into the count
		n = le.Uint64(b[at:])
		at += 8
	}
	if n > (uint64(len(b))-at)/8 {
		return damaged("%d free pages do not fit on their list", n)
	}
	e.Free = int(n)
	for i := range n {
		p := le.Uint64(b[at+8*i:])
		if p < 2 || p >= e.high || e.seen[p] {
			return damaged("page %d is in use and free", p)
		}
		e.seen[p] = true
	}
	return nil
}

func wayTo(way [][]byte, key []byte) string {
	var parts []string
	for _, k := range way {
		parts = append(parts, printable(k))
	}
	if key != nil {
		parts = append(parts, printable(key))
	}
	return strings.Join(parts, "/")
}
