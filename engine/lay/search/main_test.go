package search

import "flag"

var seed = flag.Uint64("seed", 1, "seed of the random trials")
