// Package kit holds the widgets and the theme the window is made of. It knows
// no seats: every word a person reads comes in from outside, already in the
// user's language, and every value goes out through a callback.
package kit
