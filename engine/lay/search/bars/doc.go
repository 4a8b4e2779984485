// Package bars proves that lays cannot be shorter, and finds lays of squared
// blanks, by their places along the goods alone: every piece becomes a bar as
// long as the piece and as wide as it is across, and on no line across the
// bars may be wider together than the goods. A lay gives such places, so where
// there are none there is no lay (the cumulative relaxation of strip packing:
// Martello, Monaci and Vigo, "An exact approach to the strip-packing problem",
// INFORMS Journal on Computing 15, 2003).
//
// A shaped piece becomes the bar of a stretch on which it is nowhere narrower
// than the bar; what it has before and behind the stretch still counts at the
// ends of the lay. Flaws and locked pieces part the goods across where they
// lie. A pattern that binds along the goods leaves few places along.
//
// Bars can be pushed towards the cut end one after another, in the order in
// which they begin, each to the first place that those before it leave. So the
// search runs over orders alone; when it has seen all of them, the length
// asked for is out of reach. Lengths are whole numbers of units of 50 nm.
package bars
