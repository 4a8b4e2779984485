package views

import (
	"fyne.io/fyne/v2"

	"slipseat/views/kit"
)

// total is one figure of the strip at the bottom.
type total struct {
	name            string // for scripts
	figure, caption string
	stale           bool
	tap             func()
}

// bottomBar holds the running totals and the most serious caution.
type bottomBar struct {
	content *fyne.Container
	row     *fyne.Container
	totals  []*kit.Total
	taps    []func()
	worst   *kit.CautionButton
	more    *kit.Button
	calm    *kit.Text
	names   string
}

func newBottomBar(openWorst, openAll func()) *bottomBar {
	b := &bottomBar{}
	b.worst = kit.NewCautionButton("button:caution", "", openWorst)
	b.more = kit.NewBare("button:cautions", "", " ", openAll)
	b.calm = kit.NewText("", kit.Body, kit.Ink2)
	b.row = kit.NewRow(kit.Gap14)
	b.content = kit.FixedHeight(bottomHeight, kit.Inset(b.row, 0, 10))
	return b
}

// set shows totals and cautions: the worst in words, and how many more there
// are in words, or that there is none.
func (b *bottomBar) set(totals []total, worst, more, calm string) {
	names := ""
	for _, t := range totals {
		names += t.name + "|"
	}
	b.taps = b.taps[:0]
	for _, t := range totals {
		b.taps = append(b.taps, t.tap)
	}
	rebuilt := names != b.names || b.totals == nil
	if rebuilt {
		b.names = names
		b.totals = nil
		objs := []fyne.CanvasObject{}
		for i, t := range totals {
			w := kit.NewTotal("total:"+t.name, t.figure, t.caption, func() {
				if b.taps[i] != nil {
					b.taps[i]()
				}
			})
			b.totals = append(b.totals, w)
			objs = append(objs, w)
		}
		objs = append(objs, kit.NewSpring(), b.calm, b.worst, b.more)
		b.row.Objects = objs
	}
	for i, t := range totals {
		b.totals[i].Set(t.figure, t.caption, t.stale)
	}
	show := func(o fyne.CanvasObject, on bool) {
		if on != o.Visible() {
			setVisible(o, on)
		}
	}
	b.worst.SetWords(worst)
	b.more.SetWords(more)
	b.calm.SetText(calm)
	show(b.worst, worst != "")
	show(b.more, more != "")
	show(b.calm, worst == "")
	if rebuilt {
		b.row.Refresh()
	} else {
		kit.Relayout(b.row)
	}
}
