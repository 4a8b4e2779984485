package kit

import "testing"

func TestTyping(t *testing.T) {
	var e typing
	e.set("18 1/2")
	e.selectAll()
	e.insert("1", true)
	e.insert("7", true)
	if got := e.String(); got != "17" {
		t.Fatalf("typing over a selection: got %q, want %q", got, "17")
	}
	e.insert(" 3/4", false)
	for _, want := range []string{"17", "18 1/2"} {
		// Letters typed in a row are taken back together, a paste by itself.
		e.undo()
		if got := e.String(); got != want {
			t.Fatalf("undo: got %q, want %q", got, want)
		}
	}
	if e.undo(); e.String() != "18 1/2" {
		t.Fatalf("undo past the beginning: got %q", e.String())
	}
	e.redo()
	e.redo()
	if got := e.String(); got != "17 3/4" {
		t.Fatalf("redo: got %q, want %q", got, "17 3/4")
	}
}

func TestTypingMoves(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(e *typing)
		text string
		sel  string
		at   int
	}{
		{"step left past the start stays", func(e *typing) { e.moveTo(0, false); e.step(-1, false) }, "17 1/2 in", "", 0},
		{"step right past the end stays", func(e *typing) { e.step(1, false) }, "17 1/2 in", "", 9},
		{"a word back", func(e *typing) { e.moveTo(e.word(e.caret, -1), false) }, "17 1/2 in", "", 7},
		{"two words back with selection", func(e *typing) { e.moveTo(e.word(e.word(e.caret, -1), -1), true) }, "17 1/2 in", "1/2 in", 3},
		{"a word forward from the start", func(e *typing) { e.moveTo(0, false); e.moveTo(e.word(0, 1), false) }, "17 1/2 in", "", 3},
		{"double click takes the word", func(e *typing) { e.selectWord(4) }, "17 1/2 in", "1/2", 6},
		{"backspace", func(e *typing) { e.remove(e.caret - 1) }, "17 1/2 i", "", 8},
		{"backspace at the start", func(e *typing) { e.moveTo(0, false); e.remove(-1) }, "17 1/2 in", "", 0},
		{"delete at the end", func(e *typing) { e.remove(e.caret + 1) }, "17 1/2 in", "", 9},
		{"a step drops the selection at its near end", func(e *typing) { e.selectAll(); e.step(-1, false) }, "17 1/2 in", "", 0},
		{"line breaks become spaces", func(e *typing) { e.selectAll(); e.insert("a\nb\tc", false) }, "a b c", "", 5},
	} {
		var e typing
		e.set("17 1/2 in")
		c.do(&e)
		if e.String() != c.text || e.selected() != c.sel || e.caret != c.at {
			t.Errorf("%s: got %q, selected %q, caret %d; want %q, %q, %d", c.name, e.String(), e.selected(), e.caret, c.text, c.sel, c.at)
		}
	}
}

func TestTypingLimit(t *testing.T) {
	var e typing
	long := make([]rune, 3*maxTyped)
	for i := range long {
		long[i] = 'ß'
	}
	e.insert(string(long), false)
	if len(e.text) != maxTyped {
		t.Fatalf("a paste of %d letters left %d, want %d", len(long), len(e.text), maxTyped)
	}
}
