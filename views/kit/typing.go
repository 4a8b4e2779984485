package kit

import "unicode"

// typing is the text of a field while it is typed in: the characters, the
// caret, the selection and the steps back. It knows nothing of the screen.
type typing struct {
	text   []rune
	caret  int // place of the caret, 0 before the first character
	anchor int // other end of the selection; equal to caret for none

	past, future []typed
	run          bool // the last change was a plain letter; the next joins it
}

type typed struct {
	text  string
	caret int
}

// maxTyped is the longest text a field takes; longer pastes are cut.
const maxTyped = 2000

func (t *typing) set(s string) {
	t.text = []rune(s)
	t.caret = len(t.text)
	t.anchor = t.caret
	t.past, t.future, t.run = nil, nil, false
}

func (t *typing) String() string { return string(t.text) }

// span gives the selection in order.
func (t *typing) span() (from, to int) {
	if t.anchor < t.caret {
		return t.anchor, t.caret
	}
	return t.caret, t.anchor
}

func (t *typing) selected() string {
	a, b := t.span()
	return string(t.text[a:b])
}

func (t *typing) selectAll() { t.anchor, t.caret = 0, len(t.text) }

// moveTo puts the caret; with keep the selection grows or shrinks.
func (t *typing) moveTo(i int, keep bool) {
	t.caret = min(max(i, 0), len(t.text))
	if !keep {
		t.anchor = t.caret
	}
	t.run = false
}

// step moves by one character, or to the selection's end if there is one.
func (t *typing) step(d int, keep bool) {
	if a, b := t.span(); a != b && !keep {
		if d < 0 {
			t.moveTo(a, false)
		} else {
			t.moveTo(b, false)
		}
		return
	}
	t.moveTo(t.caret+d, keep)
}

// word gives the next word border from i in a direction.
func (t *typing) word(i, d int) int {
	space := func(k int) bool { return unicode.IsSpace(t.text[k]) }
	if d < 0 {
		for i > 0 && space(i-1) {
			i--
		}
		for i > 0 && !space(i-1) {
			i--
		}
		return i
	}
	for i < len(t.text) && !space(i) {
		i++
	}
	for i < len(t.text) && space(i) {
		i++
	}
	return i
}

// selectWord selects the word around a place.
func (t *typing) selectWord(i int) {
	i = min(max(i, 0), len(t.text))
	a, b := i, i
	for a > 0 && !unicode.IsSpace(t.text[a-1]) {
		a--
	}
	for b < len(t.text) && !unicode.IsSpace(t.text[b]) {
		b++
	}
	t.anchor, t.caret = a, b
}

func (t *typing) remember(letter bool) {
	if letter && t.run {
		return
	}
	t.past = append(t.past, typed{string(t.text), t.caret})
	t.future = nil
	t.run = letter
}

// insert puts text in the place of the selection. Line breaks become spaces.
func (t *typing) insert(s string, letter bool) {
	rs := []rune(s)
	for i, r := range rs {
		if r == '\n' || r == '\r' || r == '\t' {
			rs[i] = ' '
		}
	}
	a, b := t.span()
	if room := maxTyped - (len(t.text) - (b - a)); len(rs) > room {
		rs = rs[:max(0, room)]
	}
	if len(rs) == 0 && a == b {
		return
	}
	t.remember(letter && a == b)
	t.run = letter
	t.text = append(append(append([]rune{}, t.text[:a]...), rs...), t.text[b:]...)
	t.caret = a + len(rs)
	t.anchor = t.caret
}

// remove deletes the selection, or from the caret to a place.
func (t *typing) remove(to int) {
	a, b := t.span()
	if a == b {
		a, b = min(t.caret, to), max(t.caret, to)
		a, b = max(a, 0), min(b, len(t.text))
	}
	if a == b {
		return
	}
	t.remember(false)
	t.text = append(append([]rune{}, t.text[:a]...), t.text[b:]...)
	t.caret, t.anchor = a, a
}

func (t *typing) canUndo() bool { return len(t.past) > 0 }
func (t *typing) canRedo() bool { return len(t.future) > 0 }

func (t *typing) undo() { t.swing(&t.past, &t.future) }
func (t *typing) redo() { t.swing(&t.future, &t.past) }

func (t *typing) swing(from, to *[]typed) {
	n := len(*from)
	if n == 0 {
		return
	}
	s := (*from)[n-1]
	*from = (*from)[:n-1]
	*to = append(*to, typed{string(t.text), t.caret})
	t.text = []rune(s.text)
	t.caret = min(s.caret, len(t.text))
	t.anchor, t.run = t.caret, false
}
