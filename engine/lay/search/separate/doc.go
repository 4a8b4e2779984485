// Package separate lays arbitrary simple polygons by removing overlap: it
// shortens the goods, lets the pieces overlap, and moves one piece at a time
// to where it collides least until nothing collides; pairs that keep colliding
// weigh more and more, so that pieces push each other out of the way (guided
// local search; LAY.md section 4).
//
// Inside, lengths are whole numbers of grid units of 50 nm, in which 1/32 in
// and 0.1 mm are both whole. Whether two pieces collide is decided exactly in
// these integers; how deep they collide, which only steers the search, is
// float64. Touching is allowed.
package separate
