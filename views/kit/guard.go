package kit

// Guard runs what a press, a key, a menu or a committed text calls. A window
// sets it to what keeps a panic there from ending the program.
var Guard = func(f func()) { f() }
