// Package search finds lays: First gives one at once, Improve better ones for
// as long as it may run. Equal problem, seed and number of evaluations give
// the same lay at any number of workers. It knows no seats.
package search
