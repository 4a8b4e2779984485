package kit

import (
	"fyne.io/fyne/v2"
)

// Column is one column of a table.
type Column struct {
	Head  string
	Share float32 // of the width that is left over; 0 takes what it needs
	Right bool
	Face  Face
	Soft  bool // in the second ink
}

// tableLayout lays out cells row by row, the head first, and keeps one rule
// below each row at the end of the objects.
type tableLayout struct {
	cols  []Column
	rows  int
	width float32
}

const (
	cellGap = Gap16
	cellPad = Gap8
)

// NewTable makes a table of words. Every row has a cell for each column; a
// cell is any object, usually a Text.
func NewTable(cols []Column, rows [][]fyne.CanvasObject) *fyne.Container {
	l := &tableLayout{cols: cols, rows: len(rows) + 1}
	var objs []fyne.CanvasObject
	for _, c := range cols {
		t := NewText(c.Head, SmallStrong, Ink2)
		if c.Right {
			t.Right()
		}
		objs = append(objs, t)
	}
	for _, r := range rows {
		for i := range cols {
			if i < len(r) && r[i] != nil {
				objs = append(objs, r[i])
			} else {
				objs = append(objs, NewText("", Body, Ink))
			}
		}
	}
	for range l.rows {
		objs = append(objs, NewRule())
	}
	return &fyne.Container{Layout: l, Objects: objs}
}

// Cell makes the text of a table's cell as its column wants it.
func (c Column) Cell(words string) fyne.CanvasObject {
	role := Ink
	if c.Soft {
		role = Ink2
	}
	t := NewPara(words, c.Face, role)
	if c.Right {
		t = NewText(words, c.Face, role).Right()
	}
	return t
}

func (l *tableLayout) widths(o []fyne.CanvasObject, width float32) []float32 {
	ws := make([]float32, len(l.cols))
	left := width - cellGap*float32(len(l.cols)-1)
	var shares float32
	for c, col := range l.cols {
		shares += col.Share
		if col.Share > 0 {
			continue
		}
		for r := range l.rows {
			ws[c] = max(ws[c], o[r*len(l.cols)+c].MinSize().Width)
		}
		left -= ws[c]
	}
	for c, col := range l.cols {
		if col.Share > 0 {
			ws[c] = max(U(60), left*col.Share/shares)
		}
	}
	return ws
}

func (l *tableLayout) heights(o []fyne.CanvasObject, ws []float32) []float32 {
	hs := make([]float32, l.rows)
	for r := range l.rows {
		for c := range l.cols {
			hs[r] = max(hs[r], HeightFor(o[r*len(l.cols)+c], ws[c]))
		}
		hs[r] += 2 * cellPad
	}
	return hs
}

func (l *tableLayout) HeightFor(o []fyne.CanvasObject, width float32) float32 {
	var h float32
	for _, rh := range l.heights(o, l.widths(o, width)) {
		h += rh + 1
	}
	return h
}

func (l *tableLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	ws := l.widths(o, size.Width)
	hs := l.heights(o, ws)
	var y float32
	n := len(l.cols)
	for r := range l.rows {
		var x float32
		for c := range n {
			cell := o[r*n+c]
			h := HeightFor(cell, ws[c])
			cell.Move(fyne.NewPos(x, y+(hs[r]-h)/2))
			cell.Resize(fyne.NewSize(ws[c], h))
			x += ws[c] + cellGap
		}
		y += hs[r]
		rule := o[n*l.rows+r]
		rule.Move(fyne.NewPos(0, y))
		rule.Resize(fyne.NewSize(size.Width, 1))
		y++
	}
}

func (l *tableLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(U(200), l.HeightFor(o, max(l.width, U(200))))
}
