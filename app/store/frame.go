package store

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"

	"github.com/boltdb/bolt"

	"slipseat/engine/unit"
)

// A value is one byte of framing version, the CRC-32C of key and payload, most
// significant byte first, and the payload. bolt itself checks nothing but its
// two headers, so that without this a damaged page would be read as if it were
// well.
const (
	frameVersion = 1
	frameHead    = 5
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func frame(key, payload []byte) []byte {
	v := make([]byte, frameHead, frameHead+len(payload))
	v[0] = frameVersion
	binary.BigEndian.PutUint32(v[1:], checksum(key, payload))
	return append(v, payload...)
}

func checksum(key, payload []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, payload)
}

// unframe gives the payload, sharing its memory, or false when the value is
// not what was written under the key.
func unframe(key, value []byte) ([]byte, bool) {
	if len(value) < frameHead || value[0] != frameVersion || binary.BigEndian.Uint32(value[1:]) != checksum(key, value[frameHead:]) {
		return nil, false
	}
	return value[frameHead:], true
}

// put writes a framed value.
func put(b *bolt.Bucket, key string, payload []byte) error {
	return b.Put([]byte(key), frame([]byte(key), payload))
}

// get reads a framed value; nil when there is none. The result is a copy that
// outlives the transaction.
func get(b *bolt.Bucket, key string) ([]byte, error) {
	value := b.Get([]byte(key))
	if value == nil {
		return nil, nil
	}
	payload, ok := unframe([]byte(key), value)
	if !ok {
		return nil, valueFault(key)
	}
	return append([]byte{}, payload...), nil
}

// valueFault names a value by its key as far as that can be read aloud.
func valueFault(key string) unit.Fault {
	return unit.Fault{Code: CodeValue, Args: []unit.Arg{unit.A("key", printable([]byte(key)))}}
}

func printable(key []byte) string {
	if bytes.ContainsFunc(key, func(r rune) bool { return r < ' ' || r > '~' }) {
		const digits = "0123456789abcdef"
		var b []byte
		for _, c := range key {
			b = append(b, digits[c>>4], digits[c&15])
		}
		return string(b)
	}
	return string(key)
}
