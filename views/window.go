// Package views is the window: the start page with the jobs, and the six
// stages of an open job. It talks to the session only; it maps pixels, shows
// what the session has and hands commands on.
package views

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/app/words"
	"slipseat/engine/unit"
	"slipseat/views/kit"
	"slipseat/views/stages"
)

// Options are what a window needs from outside.
type Options struct {
	Session *session.Session
	Runner  session.Runner
	// Random draws the IDs of new things.
	Random func([]byte)
	// Probe, if not nil, is told what a script wants to know.
	Probe *Probe
	// Home is the folder that file dialogs and exports start in.
	Home string
	// Backups is the folder of the backups, to be named to the user.
	Backups string
	// SetTheme shows another variant.
	SetTheme func(kit.Mode, float32)
}

// Window is the program's window.
type Window struct {
	o   Options
	s   *session.Session
	w   *words.Words
	win fyne.Window

	root  *fyne.Container
	page  *fyne.Container // holds the jobs page or the open job
	toast *kit.Toast
	menu  kit.FieldMenu

	jobs   *jobsPage
	top    *topBar
	left   *leftColumn
	bottom *bottomBar
	tabs   *kit.Tabs
	job    fyne.CanvasObject // the frame of an open job
	ground *kit.Panel        // the sheet that the stage lies on
	sheet  *fyne.Container   // holds the middle of the stage
	form   *fyne.Container   // holds the form of the stage
	stages [6]stages.Stage
	shown  session.Stage
	made   job.Units // units the words of the frame were made for
	modal  *kit.Modal
	past   *pastView // shown last
	folder string    // where exports went last
	images map[string]kit.Picture
	looks  looks
}

// New fills a window. The caller shows it.
func New(win fyne.Window, o Options) *Window {
	v := &Window{o: o, s: o.Session, w: o.Session.Words(), win: win, shown: -1, images: map[string]kit.Picture{}}
	v.menu = kit.FieldMenu{Cut: v.say("field-menu.cut"), Copy: v.say("field-menu.copy"), Paste: v.say("field-menu.paste"), SelectAll: v.say("field-menu.select-all")}
	kit.Guard = v.s.Guard
	v.looks = v.newLooks()
	v.theme()
	v.page = container.NewStack()
	v.toast = kit.NewToast(v.after())
	v.root = container.NewStack(v.page, v.toast, kit.NewTipLayer(v.after()))
	v.makeJobs()
	v.makeJob()
	win.SetPadded(false)
	win.SetContent(v.root)
	win.SetTitle(v.say("app-name"))
	win.SetCloseIntercept(v.close)
	win.SetOnDropped(v.dropped)
	v.shortcuts()
	v.s.OnChange(v.changed)
	v.showPage()
	v.poke()
	return v
}

// say gives the words of a label with lengths in the job's units.
func (v *Window) say(key string, args ...unit.Arg) string {
	return v.w.LabelIn(key, v.units(), args...)
}

func (v *Window) units() unit.Units {
	if v.s.IsOpen() {
		return v.s.Units()
	}
	return unit.UnitsFor(unit.Inches)
}

// theme shows the variant that the user chose.
func (v *Window) theme() {
	if v.o.SetTheme == nil {
		return
	}
	mode := kit.LightMode
	switch v.s.Variant() {
	case "dark":
		mode = kit.DarkMode
	case "system":
		mode = kit.FollowSystem
	}
	v.o.SetTheme(mode, 1)
}

// makeJob makes the frame of an open job; it is filled by refresh.
func (v *Window) makeJob() {
	desk := &stages.Desk{Bench: v.s, Words: v.w, Menu: v.menu, Stamp: v.stamp, Cautions: v.cautionsOf, Act: v.act, After: v.o.Runner.After, PopUp: v.popUp, NewID: v.newID, Tile: v.tile, TileFault: v.tileFault}
	v.stages = [6]stages.Stage{stages.NewOutline(desk), stages.NewBuild(desk), stages.NewRoll(desk), stages.NewFoam(desk), stages.NewOrder(desk), stages.NewCutSheet(desk)}
	var names, titles []string
	for _, st := range session.Stages() {
		names = append(names, "stage:"+st.Code())
		titles = append(titles, v.say("stage."+st.Code()))
	}
	v.tabs = kit.NewTabs(names, titles, 0, func(i int) { v.s.SetStage(session.Stage(i)) })
	v.top = newTopBar(func(k string) string { return v.say(k) }, v.menu, topActions{
		menu: v.openMenu, undo: v.undo, redo: v.s.Redo, jobs: v.s.CloseJob, export: v.export,
		units: v.switchUnits, rename: v.setJob("name"), customer: v.setJob("customer"),
	})
	v.left = newLeftColumn(func(k string) string { return v.say(k) }, leftActions{
		seat: func(id string) { v.s.Select(job.ID(id)) }, goods: v.openGoods,
		seatMenu: v.seatMenu, goodsMenu: v.goodsMenu, addSeat: v.addSeat, addGoods: v.addGoods,
	})
	v.bottom = newBottomBar(v.openWorst, v.openCautions)
	v.sheet, v.form = container.NewStack(), container.NewStack()
	v.ground = kit.NewSheet(v.sheet)
	v.job = frame{top: v.top.content, left: v.left.content, middle: tabbed(v.tabs, v.ground), right: v.form, bottom: v.bottom.content}.content()
}

// showPage shows the jobs or the open job.
func (v *Window) showPage() {
	v.closeModal()
	if v.s.IsOpen() {
		v.page.Objects = []fyne.CanvasObject{v.job}
		v.shown = -1
		v.refresh()
	} else {
		v.page.Objects = []fyne.CanvasObject{v.jobs.content}
		v.refreshJobs()
	}
	v.page.Refresh()
}

// changed follows the session.
func (v *Window) changed(c session.Change) {
	defer v.poke()
	if c.Has(session.TopicView) {
		v.theme()
	}
	if c.Has(session.TopicNotice) {
		v.showNotice()
	}
	if c.Has(session.TopicPage) {
		v.showPage()
		return
	}
	if !v.s.IsOpen() {
		if c.Has(session.TopicJobs) {
			v.refreshJobs()
		}
		return
	}
	switch {
	case c.Has(session.TopicJob) && !c.Has(session.TopicHistory) && !c.Has(session.TopicLays):
		// A preview of a drag: only what follows the hand.
		v.refreshStage()
		v.refreshBottom()
	case c.Has(session.TopicJob) || c.Has(session.TopicSelection):
		v.refresh()
	case c.Has(session.TopicLays):
		v.refreshStage()
		v.refreshBottom()
		v.refreshTabs()
	case c.Has(session.TopicSaved) || c.Has(session.TopicHistory):
		v.refreshTop()
	}
}

// refresh puts all of the present state into the frame.
func (v *Window) refresh() {
	v.refreshTop()
	v.refreshLeft()
	v.refreshTabs()
	v.refreshStage()
	v.refreshBottom()
}

func (v *Window) refreshStage() {
	st := v.s.Stage()
	stage := v.stages[st]
	stage.Refresh()
	if v.shown != st {
		v.shown = st
		v.tabs.Set(int(st))
		if stage.OwnSheet() {
			v.ground.SetRoles(kit.Clear, kit.Clear)
		} else {
			v.ground.SetRoles(kit.Sheet, kit.Line)
		}
		v.sheet.Objects = []fyne.CanvasObject{stage.Middle()}
		v.form.Objects = []fyne.CanvasObject{stage.Form()}
		v.sheet.Refresh()
		v.form.Refresh()
	}
}

// close saves and ends the program. A job that cannot be saved keeps the
// window open, so that nothing is lost unseen.
func (v *Window) close() {
	if c := v.win.Canvas(); c.Focused() != nil {
		c.Unfocus()
	}
	if err := v.s.Close(); err != nil {
		words, ok := v.w.Error(err, v.units())
		if !ok {
			words = v.say("close.unsaved")
		}
		v.ask("ask:close", v.say("close.title"), words, v.say("close.stay"), v.say("close.anyway"), v.win.Close)
		return
	}
	v.win.SetCloseIntercept(nil)
	v.win.Close()
}

func (v *Window) closeModal() {
	if v.modal != nil {
		v.modal.Close()
		v.modal = nil
	}
}
