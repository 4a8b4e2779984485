package separate

// The settings of the search. They were chosen by trials on the irregular
// bench instances at equal numbers of evaluations; changing one changes every
// lay, so the tests that pin a lay must be looked at again.
const (
	// Loss of a pair of weight 1 = size^sizePower · √(area + slopeShare·s·depth):
	// size is the fourth root of the product of the hull areas in decimetres, so
	// that large pieces settle first; s is the side of a square as large as the
	// smaller hull. The depth gives a slope where the area has none, with one
	// piece wholly inside another.
	sizePower  = 1.0
	slopeShare = 0.1

	// Samples of a move over all the goods and around the piece, and how many
	// of the best go downhill.
	wideSamples  = 50
	closeSamples = 25
	keepSamples  = 3

	// Weights: a pair that overlaps is multiplied by lighter, the worst one by
	// heavier, in between in proportion; the others decay towards 1.
	heavier = 2.0
	lighter = 1.2
	decay   = 0.95

	// A separation ends after so many strikes, each so many sweeps without
	// progress, when exploring and when compressing.
	exploreSweeps   = 200
	exploreStrikes  = 3
	compressSweeps  = 100
	compressStrikes = 5

	// Steps by which the goods are shortened, as shares of their length.
	exploreStep  = 0.001
	compressFrom = 0.0005
	compressTo   = 0.00001

	// Part of a round that is spent on compression.
	compressShare = 0.2
)
