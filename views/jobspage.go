package views

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"slipseat/views/kit"
)

// jobCard is one job on the jobs page.
type jobCard struct {
	id, name, customer string
	detail             string // seats and when it was last changed
	picture            kit.Picture
}

// jobsActions are what the page's buttons and cards do.
type jobsActions struct {
	newJob, openFile, demo, menu         func()
	open                                 func(id string)
	rename, duplicate, saveFile, deleteJ func(id string)
}

// jobsPage is the page the program starts on: the jobs there are, a new one, a
// file, or the demo.
type jobsPage struct {
	say     func(string) string
	do      jobsActions
	cards   []jobCard
	search  *kit.Field
	gallery *fyne.Container
	none    *kit.Text
	welcome fyne.CanvasObject
	list    *fyne.Container
	scroll  *kit.Scroll
	content fyne.CanvasObject
	popUp   func(at fyne.Position, entries ...kit.MenuEntry)
}

// pageWidth is the largest width of the page's column.
const pageWidth = 1060

func newJobsPage(say func(string) string, menu kit.FieldMenu, welcomePicture kit.Picture, do jobsActions, popUp func(at fyne.Position, entries ...kit.MenuEntry)) *jobsPage {
	p := &jobsPage{say: say, do: do, popUp: popUp}
	p.search = kit.NewField("field:search").SetHint(say("jobs.search")).SetMenu(menu)
	p.search.OnType = func(string) { p.fill() }
	p.gallery = kit.NewGallery(250, kit.Gap16)
	p.none = kit.NewPara("", kit.Body, kit.Ink2)
	p.none.Hide()
	buttons := kit.NewRow(kit.Gap8,
		kit.NewAction("button:new-job", "plus", say("jobs.new"), do.newJob),
		kit.NewButton("button:open-file", "open", say("jobs.open-file"), do.openFile),
		kit.NewButton("button:demo", "seat", say("jobs.demo"), do.demo),
		kit.NewSpring(),
		kit.FixedWidth(230, p.search),
	)
	p.list = kit.NewColumn(kit.Gap16, kit.NewText(say("jobs.title"), kit.Banner, kit.Ink), buttons, p.gallery, p.none)
	p.welcome = p.makeWelcome(welcomePicture)
	p.scroll = kit.NewScroll(kit.NewCentred(pageWidth, kit.Inset(kit.NewColumn(0, p.list, p.welcome), 44, 28, 40, 28)))
	bar := kit.NewPanel(kit.Paper, kit.Clear, 0, kit.FixedHeight(topHeight, kit.Inset(kit.NewRow(kit.Gap12,
		kit.NewMark(30), kit.NewText(say("app-name"), kit.Title, kit.Ink), kit.NewSpring(),
		kit.NewBare("button:menu", "menu", "", do.menu).Tip(say("top.menu.tip")),
	), 0, 16)))
	p.content = &fyne.Container{Layout: pageLayout{}, Objects: []fyne.CanvasObject{bar, kit.NewRule(), p.scroll}}
	return p
}

// makeWelcome is what is shown while there is no job.
func (p *jobsPage) makeWelcome(pic kit.Picture) fyne.CanvasObject {
	words := kit.NewColumn(kit.Gap14,
		kit.NewPara(p.say("welcome.title"), kit.Banner, kit.Ink),
		kit.NewPara(p.say("welcome.text"), kit.Body, kit.Ink2),
		kit.NewFlow(kit.Gap8,
			kit.NewAction("button:new-job", "plus", p.say("jobs.new"), p.do.newJob),
			kit.NewButton("button:demo", "seat", p.say("jobs.demo"), p.do.demo),
			kit.NewButton("button:open-file", "open", p.say("jobs.open-file"), p.do.openFile)),
		kit.NewPara(p.say("welcome.demo"), kit.Small, kit.Ink2),
	)
	return kit.NewPanel(kit.Raised, kit.Line, 14, &fyne.Container{Layout: welcomeLayout{}, Objects: []fyne.CanvasObject{
		kit.Inset(words, 40), kit.NewPictureBox(pic),
	}})
}

// set shows the jobs.
func (p *jobsPage) set(cards []jobCard) {
	p.cards = cards
	setVisible(p.list, len(cards) > 0)
	setVisible(p.welcome, len(cards) == 0)
	p.fill()
}

// fill shows the cards that the search finds.
func (p *jobsPage) fill() {
	find := strings.ToLower(strings.TrimSpace(p.search.Text()))
	p.gallery.Objects = nil
	for i, c := range p.cards {
		if find != "" && !strings.Contains(strings.ToLower(c.name+" "+c.customer), find) {
			continue
		}
		sub := c.detail
		if c.customer != "" {
			sub = c.customer + "\n" + sub
		}
		p.gallery.Add(kit.NewBigCard("job:"+strconv.Itoa(i), c.name, sub, p.say("jobs.more"), c.picture,
			func() { p.do.open(c.id) }, func(at fyne.Position) { p.menu(c.id, at) }))
	}
	none := ""
	if len(p.gallery.Objects) == 0 && len(p.cards) > 0 {
		none = p.say("jobs.none-found")
	}
	p.none.SetText(none)
	setVisible(p.none, none != "")
	p.scroll.Refresh()
}

func (p *jobsPage) menu(id string, at fyne.Position) {
	item := func(key string, do func(string)) kit.MenuEntry {
		return kit.MenuEntry{Name: "menu:" + key, Words: p.say(key), Do: func() { do(id) }}
	}
	p.popUp(at, item("jobs.open", p.do.open), item("jobs.rename", p.do.rename), item("jobs.duplicate", p.do.duplicate),
		item("jobs.save-file", p.do.saveFile), kit.MenuEntry{}, item("jobs.delete", p.do.deleteJ))
}

// pageLayout is a bar, a rule and the rest.
type pageLayout struct{}

func (pageLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	top := kit.U(topHeight)
	for i, r := range [][2]float32{{0, top}, {top, 1}, {top + 1, s.Height - top - 1}} {
		o[i].Move(fyne.NewPos(0, r[0]))
		o[i].Resize(fyne.NewSize(s.Width, max(0, r[1])))
	}
}

func (pageLayout) MinSize([]fyne.CanvasObject) fyne.Size { return leastWindow }

// wordsShare is how much of the welcome's width its words take.
const wordsShare = 0.58

// welcomeLayout puts words beside a picture.
type welcomeLayout struct{}

func (welcomeLayout) HeightFor(o []fyne.CanvasObject, width float32) float32 {
	return max(kit.U(360), kit.HeightFor(o[0], width*wordsShare))
}

func (l welcomeLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := s.Width * wordsShare
	h := kit.HeightFor(o[0], w)
	o[0].Move(fyne.NewPos(0, max(0, (s.Height-h)/2)))
	o[0].Resize(fyne.NewSize(w, h))
	o[1].Move(fyne.NewPos(w, 1))
	o[1].Resize(fyne.NewSize(s.Width-w-1, s.Height-2))
}

func (l welcomeLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(kit.U(600), l.HeightFor(o, kit.U(900)))
}
