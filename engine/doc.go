// Package engine is the root of the reckoning part of Slipseat: pure functions
// from measurements to blanks, lays, orders and drawings. It has no code of
// its own; its test holds the rules of who may import whom.
package engine
