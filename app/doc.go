// Package app is the root of everything between the engine and the window:
// jobs and their history, the store, words, raster and export. It has no code
// of its own.
package app
