// Package assets embeds what the program ships: fonts, words, icons and the
// demo job. It imports nothing of ours.
package assets

import "embed"

// InterRegular, InterMedium and InterSemiBold are the Inter typeface as TrueType files
// (SIL Open Font License 1.1, see fonts/LICENSE-Inter.txt).
var (
	//go:embed fonts/Inter-Regular.ttf
	InterRegular []byte
	//go:embed fonts/Inter-Medium.ttf
	InterMedium []byte
	//go:embed fonts/Inter-SemiBold.ttf
	InterSemiBold []byte
)

// WordsEN is the catalogue of every word a person reads, as one flat JSON
// object from code to text.
//
//go:embed words/en.json
var WordsEN []byte

// Icons are the program's own drawings, one SVG file for each, all in one ink.
//
//go:embed icons/*.svg
var Icons embed.FS

// AppIcon is the program's own picture, 512 pixels square.
//
//go:embed app/slipseat.png
var AppIcon []byte

// Demo is the job that shows the program: the reading room.
//
//go:embed demo/reading-room.slipseat
var Demo []byte
