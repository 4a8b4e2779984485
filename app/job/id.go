package job

import (
	"crypto/sha256"
	"strconv"
)

// ID names an object of a job for good: ten random letters and digits.
type ID string

// idLen is the length of an ID: 32^10 = 2^50 of them, so that a million
// objects share one with a chance of less than 1 in 2,000.
const idLen = 10

// idLetters leave out what is easily confused when read aloud; there are 32,
// so that five bits of randomness make a letter and none is likelier.
const idLetters = "abcdefghijkmnpqrstuvwxyz23456789"

// NewID draws an ID from a source of random bytes.
func NewID(random func([]byte)) ID {
	var b [idLen]byte
	random(b[:])
	return spell(b[:])
}

func spell(b []byte) ID {
	var s [idLen]byte
	for i := range s {
		s[i] = idLetters[b[i]%byte(len(idLetters))]
	}
	return ID(s[:])
}

// Child gives the ID of a part of a copy: the copy's own random ID and the
// original part's ID make it, so that a copy is the same however often it is
// made.
func (id ID) Child(original ID) ID {
	sum := sha256.Sum256([]byte(string(id) + "/" + string(original)))
	return spell(sum[:])
}

// Nth gives the ID of the nth new part of the object that id names.
func (id ID) Nth(n int) ID { return id.Child(ID("+" + strconv.Itoa(n))) }

// Valid tells whether id has the form of an ID: ten lower-case letters and
// digits.
func (id ID) Valid() bool {
	if len(id) != idLen {
		return false
	}
	for i := range len(id) {
		if c := id[i]; (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return true
}
