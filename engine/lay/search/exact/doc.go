// Package exact treats squared blanks exactly: closed forms for one size,
// exhaustive search for a few sizes, and proofs that nothing shorter exists. It
// works on the whole steps of skyline.Grid, so that nothing is lost or won by
// rounding.
package exact
