// Package columns finds and proves lays of goods whose pattern says where a
// piece may lie across: every piece then lies in one of few columns of motifs,
// and how far apart two pieces of two columns must be along the goods is known
// beforehand. What remains is an order of pieces.
//
// A lay can always be pushed together towards the cut end: piece by piece,
// taken by the middles of their boxes along the goods, each lies at the first
// place that those before it leave. So the search runs over orders alone; when
// it has seen all of them, the shortest lay is proved.
//
// That holds for pieces that every line along the goods meets in one stretch,
// since such a piece that has passed another one never meets it again. Lengths
// are whole numbers of units of 50 nm.
package columns
