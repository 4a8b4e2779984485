// Package caution holds the rules that look at a whole job and notice what
// would spoil the work or hurt somebody. Every rule is a pure function of
// Facts. A caution is a code with its place and figures; title, text and
// remedy are words under "caution.<code>.title", ".text" and ".remedy".
//
// Where health or law is concerned the words defer to local codes and to
// licensed and qualified people. No caution, and no absence of one, says that
// anything complies with a rule.
package caution

import (
	"slices"

	"slipseat/engine/unit"
)

// Severity orders cautions; the highest is shown first.
type Severity uint8

// Severities.
const (
	Advice Severity = iota // general care and pointers to rules
	Check                  // something to look at before cutting
	Spoils                 // would spoil the work
	Harms                  // could hurt somebody
)

// Caution is something that was noticed.
type Caution struct {
	Code     string
	Severity Severity
	Where    unit.Where
	Args     []unit.Arg
}

// Key names the caution and its place for as long as the job's IDs last, so
// that it can be dismissed with a note. A caution whose figures change keeps
// its key.
func (c Caution) Key() string {
	return c.Code + "/" + c.Where.Seat + "/" + c.Where.Goods + "/" + c.Where.Piece + "/" + c.Where.Field
}

// Codes of cautions.
const (
	CannotReach    = "cannot-reach-staples"
	WrapShort      = "wrap-too-short"
	LessPull       = "less-to-pull-by"
	DustShort      = "dust-cloth-too-small"
	FoamSmall      = "foam-smaller-than-board"
	StaplesThrough = "staples-come-through"
	StaplesLoose   = "staples-will-not-hold"
	Binds          = "seat-binds"
	PackEdge       = "seat-loose-in-frame"
	OverOldCover   = "measured-over-old-cover"
	NotFlipped     = "traced-from-below"
	TracedOff      = "traced-reads-otherwise"
	JointInFront   = "joint-under-front-edge"
	BlankTooWide   = "blank-wider-than-cloth"
	FoamTooLarge   = "foam-larger-than-sheet"
	TurningAllowed = "turning-against-the-cloth"
	PatternStart   = "pattern-start-not-measured"
	NoRepeatSpare  = "no-spare-for-the-pattern"
	PhaseAcross    = "pattern-start-across"
	MayNotFit      = "pattern-may-not-fit"
	PieceTooShort  = "piece-at-hand-too-short"
	DifferentRolls = "seats-from-different-rolls"
	OldFilling     = "old-filling"
	Adhesive       = "adhesive-vapours"
	Stapler        = "stapler-and-eyes"
	Knives         = "knives"
	FireGeneral    = "fire-rules"
	FireUK         = "fire-rules-uk"
	FireUKContract = "fire-rules-uk-contract"
	FireUS         = "fire-rules-us"
	FireEurope     = "fire-rules-europe"
)

// rule finds the cautions of one kind.
type rule struct {
	codes []string // every code it may return
	find  func(Facts) []Caution
}

// rules lists every rule; Codes and All walk it.
func rules() []rule {
	return []rule{
		{[]string{CannotReach, WrapShort, LessPull}, wraps},
		{[]string{DustShort}, dustCloth},
		{[]string{FoamSmall}, foamSmall},
		{[]string{StaplesThrough, StaplesLoose}, bite},
		{[]string{Binds, PackEdge}, frame},
		{[]string{OverOldCover}, oldCover},
		{[]string{NotFlipped}, notFlipped},
		{[]string{TracedOff}, tracedOff},
		{[]string{JointInFront}, joints},
		{[]string{BlankTooWide}, blankTooWide},
		{[]string{FoamTooLarge}, foamTooLarge},
		{[]string{TurningAllowed}, turning},
		{[]string{PatternStart, NoRepeatSpare}, patternStart},
		{[]string{PhaseAcross, MayNotFit}, phaseAcross},
		{[]string{PieceTooShort}, pieceTooShort},
		{[]string{DifferentRolls}, differentRolls},
		{[]string{OldFilling, Adhesive, Stapler, Knives}, workshop},
		{[]string{FireGeneral, FireUK, FireUKContract, FireUS, FireEurope}, fire},
	}
}

// Codes lists every code there is, in the order of the rules.
func Codes() []string {
	var out []string
	for _, r := range rules() {
		out = append(out, r.codes...)
	}
	return out
}

// All gives every caution, the most serious first, otherwise in the order of
// the rules and of the facts.
func All(f Facts) []Caution {
	var out []Caution
	for _, r := range rules() {
		out = append(out, r.find(f)...)
	}
	slices.SortStableFunc(out, func(a, b Caution) int { return int(b.Severity) - int(a.Severity) })
	return out
}
