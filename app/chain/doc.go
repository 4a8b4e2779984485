// Package chain has tests only: random jobs go through everything there is,
// from measurements to files, and what comes out is held against a second
// judge and other readers.
package chain
