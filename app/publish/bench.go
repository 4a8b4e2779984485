package publish

import (
	"strconv"
	"strings"

	"slipseat/app/job"
	"slipseat/engine/buildup"
	"slipseat/engine/caution"
	"slipseat/engine/drawing"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// bench is the work order: for every kind of seat its figures and what to do,
// step by step, with the job's own numbers.
func (k *maker) bench() []Paper {
	for _, s := range k.Plan.Seats {
		if s.OK() && s.Count > 0 {
			return []Paper{k.document("bench-sheet", k.benchSheet)}
		}
	}
	return nil
}

func (k *maker) benchSheet() drawing.DocumentIn {
	in := drawing.DocumentIn{Sub: k.who(), SubRight: k.Day}
	total := 0
	if n := strings.TrimSpace(k.Job.Note); n != "" {
		in.Blocks = append(in.Blocks, drawing.Para{Text: n})
	}
	for i, s := range k.Plan.Seats {
		if !s.OK() || s.Count <= 0 {
			continue
		}
		if total > 0 {
			in.Blocks = append(in.Blocks, drawing.NewPage{})
		}
		total += s.Count
		in.Blocks = append(in.Blocks, k.benchSeat(i)...)
	}
	in.Right = k.say("order.count-seat", unit.A("count", total))
	in.Blocks = append(in.Blocks, k.benchCautions()...)
	return in
}

// benchSeat is one kind of seat.
func (k *maker) benchSeat(i int) []drawing.Block {
	s := k.Plan.Seats[i]
	j := benchJob{maker: k, s: s}
	if i < len(k.Job.Seats) {
		j.own = k.Job.Seats[i].Own
		j.frames, j.note = strings.TrimSpace(k.Job.Seats[i].Frame), strings.TrimSpace(k.Job.Seats[i].Note)
	}
	blocks := []drawing.Block{drawing.Heading{Text: k.say("bench.seat", unit.A("letter", s.Letter), unit.A("name", s.Name), unit.A("pieces", j.numbers()), unit.A("count", s.Count))}}
	if j.note != "" {
		blocks = append(blocks, drawing.Para{Text: j.note})
	}
	blocks = append(blocks, drawing.Facts{Pairs: j.facts()})
	for _, c := range k.Plan.Cautions {
		if c.Where.Seat != s.ID || c.Severity < caution.Check {
			continue
		}
		t := k.Words.Caution(c.Code, k.Units, c.Args...)
		blocks = append(blocks, drawing.Boxed{Title: t.Title, Text: strings.TrimSpace(t.Text + " " + t.Remedy)})
	}
	if pic := k.m.Seat(i, true, false); len(pic.Board) > 1 {
		pic.Handles = nil
		blocks = append(blocks, drawing.Picture{High: 62, Build: func(st drawing.Style) drawing.Drawing { return drawing.NewSeat(pic).Draw(st) }})
	}
	blocks = append(blocks, drawing.Heading{Text: k.say("bench.steps")}, drawing.Steps{Steps: j.steps()})
	blocks = append(blocks, drawing.Heading{Text: k.say("bench.found")}, j.found())
	return blocks
}

// benchJob gathers one kind of seat's figures.
type benchJob struct {
	*maker
	s            plan.SeatPlan
	frames, note string
	own          []job.OwnSeat // seats that differ, with their frames
}

// numbers are the seats' numbers: "A1 to A6".
func (j benchJob) numbers() string {
	first := j.s.Letter + "1"
	if j.s.Count == 1 {
		return first
	}
	return j.say("bench.numbers", unit.A("first", first), unit.A("last", j.s.Letter+strconv.Itoa(j.s.Count)))
}

func (j benchJob) pair(w, d unit.Length) string { return j.Units.PairLabel(w, d) }

// goods is the name of a cloth or foam.
func (j benchJob) goods(id string) string {
	for _, g := range j.Plan.Goods {
		if g.ID == id && g.Roll != nil {
			return g.Roll.Name
		}
		if g.ID == id && g.Sheet != nil {
			return g.Sheet.Name
		}
	}
	return ""
}

// blank is a blank's size and what it is cut from, and whether there is one.
func (j benchJob) blank(p buildup.Part) (string, bool) {
	b, ok := j.s.Result.Blank(p)
	if !ok {
		return "", false
	}
	w, d := b.Size()
	size := j.pair(w, d)
	if name := j.goods(b.Goods); name != "" {
		size = j.say("bench.cut-from", unit.A("size", size), unit.A("goods", name))
	}
	if b.Count > 1 {
		size = strconv.Itoa(b.Count) + " × " + size
	}
	return size, true
}

// facts are the figures at the head.
func (j benchJob) facts() [][2]string {
	s, say := j.s, j.say
	var out [][2]string
	add := func(key, value string) { out = append(out, [2]string{say("bench.fact." + key), value}) }
	w, d := s.Outline.Size()
	if s.Build.Kind == buildup.BoxedPad {
		add("finished", j.pair(w, d))
		add("thickness", j.Units.Label(s.Build.Pad.Thickness))
	} else {
		add("board", say("bench.board", unit.A("size", j.pair(w, d)), unit.A("thick", s.Build.Board)))
	}
	if one, other, ok := s.Outline.Diagonals(); ok {
		v := j.Units.Label(one)
		if o := j.Units.Label(other); o != v {
			v = say("bench.two", unit.A("one", v), unit.A("other", o))
		}
		add("diagonals", v)
	}
	if j.frames != "" {
		add("frames", j.frames)
	}
	for _, b := range s.Result.Blanks {
		if b.Part == buildup.PartFoam {
			bw, bd := b.Size()
			thick := unit.Length(0)
			if b.Layer < len(s.Build.Foam) {
				thick = s.Build.Foam[b.Layer].Thickness
			}
			add("foam", say("bench.foam", unit.A("size", j.Units.Pair(bw, bd)), unit.A("thick", thick)))
		}
	}
	for _, p := range []buildup.Part{buildup.PartWadding, buildup.PartBarrier, buildup.PartLining, buildup.PartCover, buildup.PartTop, buildup.PartDust} {
		if b, ok := s.Result.Blank(p); ok {
			bw, bd := b.Size()
			add(p.Code(), j.pair(bw, bd))
		}
	}
	if v := j.wraps(); v != "" {
		add("wrap", v)
	}
	if n := int(s.Result.Staples.Value() + 0.5); n > 0 {
		v := strconv.Itoa(n)
		if leg := s.Build.Staples.Leg; leg > 0 {
			v = say("bench.staples", unit.A("count", n), unit.A("leg", leg))
		}
		add("staples", v)
	}
	for _, g := range s.Result.Gaps {
		if g.At == buildup.AtPost {
			continue
		}
		key := "gap-across"
		if g.At == buildup.Along {
			key = "gap-along"
		}
		add(key, say("bench.gap", unit.A("have", g.Have.Length()), unit.A("need", g.Need.Length())))
	}
	return out
}

// wraps are the wraps of the edges, one figure where they are all alike.
func (j benchJob) wraps() string {
	var parts []string
	same, first := true, ""
	for _, w := range j.s.Result.Wraps {
		v := j.Units.Label(w.Used.Length())
		if first == "" {
			first = v
		}
		same = same && v == first
		parts = append(parts, j.say("bench.wrap-at", unit.A("edge", j.Words.Term(w.Role.String())), unit.A("wrap", v)))
	}
	if same {
		return first
	}
	return strings.Join(parts, ", ")
}

// found is the table to fill in when the seats come apart.
func (j benchJob) found() drawing.List {
	t := drawing.List{Fill: 1, Ruled: true, Columns: []drawing.Column{{Head: j.say("bench.col.seat"), Bold: true}, {Head: j.say("bench.col.frame")}, {Head: j.say("bench.col.screws")},
		{Head: j.say("bench.col.layers")}, {Head: j.say("bench.col.remarks")}}}
	for n := range j.s.Count {
		row := []string{j.s.Letter + strconv.Itoa(n+1), "", "", "", ""}
		for _, own := range j.own {
			if own.Number == n+1 {
				row[1], row[4] = own.Frame, own.Note
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// steps are what to do, in order.
func (j benchJob) steps() []drawing.Step {
	if j.s.Build.Kind == buildup.BoxedPad {
		return j.padSteps()
	}
	s, b := j.s, j.s.Build
	var out []drawing.Step
	add := func(key string, args ...unit.Arg) {
		out = append(out, drawing.Step{Title: j.say("bench.step." + key), Text: j.say("bench.step."+key+".text", args...)})
	}
	more := func(key string, args ...unit.Arg) {
		last := &out[len(out)-1]
		last.Text += " " + j.say("bench.step."+key, args...)
	}
	w, d := s.Outline.Size()
	add("number", unit.A("pieces", j.numbers()), unit.A("count", s.Count))
	if j.frames != "" {
		more("number.frames", unit.A("frames", j.frames))
	}
	add("screws", unit.A("pieces", j.numbers()))
	add("strip")
	if j.Plan.In.KeepOldFilling {
		more("strip.keep")
	}
	add("layers")
	if b.Kind == buildup.DropIn {
		more("layers.drop-in")
	}
	add("inspect", unit.A("size", j.pair(w, d)))
	if one, other, ok := s.Outline.Diagonals(); ok {
		if one == other {
			more("inspect.diagonals", unit.A("one", one))
		} else {
			more("inspect.diagonals-two", unit.A("one", one), unit.A("other", other))
		}
	}
	for _, g := range s.Result.Gaps {
		switch {
		case g.Plane > 0:
			more("inspect.plane", unit.A("plane", g.Plane))
		case g.Pack > 0:
			more("inspect.pack", unit.A("pack", g.Pack))
		default:
			continue
		}
		break
	}
	add("cut", unit.A("letter", s.Letter))
	for _, p := range []buildup.Part{buildup.PartFoam, buildup.PartWadding, buildup.PartBarrier, buildup.PartLining, buildup.PartCover, buildup.PartDust} {
		if size, ok := j.blank(p); ok {
			more("cut.part", unit.A("part", j.Words.Term(p.Code())), unit.A("size", size))
		}
	}
	add("try", unit.A("wrap", j.wraps()))
	add("foam", unit.A("over", b.Oversize))
	if b.Oversize > 0 {
		more("foam.over", unit.A("over", b.Oversize))
	}
	switch b.Edge {
	case buildup.RoundedEdge:
		more("foam.rounded", unit.A("size", b.EdgeSize))
	case buildup.BevelBelow:
		more("foam.bevelled", unit.A("size", b.EdgeSize))
	}
	if j.Plan.In.Adhesive != nil {
		more("foam.adhesive")
	}
	if b.Wadding.Thickness > 0 {
		add("wadding", unit.A("thick", b.Wadding.Thickness))
		if b.Kind == buildup.DropIn || b.Wadding.StopsAtFoam {
			more("wadding.stops")
		} else {
			more("wadding.over")
		}
	}
	for _, u := range []struct {
		use  buildup.Undercover
		part buildup.Part
	}{{b.Barrier, buildup.PartBarrier}, {b.Lining, buildup.PartLining}} {
		if u.use.Use {
			add("under", unit.A("part", j.Words.Term(u.part.Code())))
		}
	}
	if s.Outline.IsRound() {
		add("pull-round", unit.A("wrap", j.wraps()), unit.A("turn", b.Cover.TurnUnder), unit.A("pull", b.Cover.Pull), unit.A("pitch", b.Staples.Pitch),
			unit.A("line", b.Staples.Line.Or(buildup.UsualLine)))
	} else {
		add("pull", unit.A("wrap", j.wraps()), unit.A("turn", b.Cover.TurnUnder), unit.A("pull", b.Cover.Pull), unit.A("pitch", b.Staples.Pitch),
			unit.A("line", b.Staples.Line.Or(buildup.UsualLine)), unit.A("short", b.Staples.StopShort.Or(buildup.UsualStopShort)))
		add("corners")
		if len(s.Outline.Notches) > 0 {
			more("corners.posts", unit.A("short", b.Relief.ShortOf.Or(buildup.UsualShortOf)), unit.A("arm", b.Relief.Arm.Or(buildup.UsualArm)))
		}
		if b.Cover.TrimmedCorners {
			more("corners.trim")
		}
	}
	if n := int(s.Result.Staples.Value() + 0.5); n > 0 && b.Staples.Leg > 0 {
		more("pull.staples", unit.A("count", n), unit.A("leg", b.Staples.Leg))
	}
	if b.Cover.Pull > 0 {
		more("pull.trim", unit.A("pull", b.Cover.Pull))
	}
	if size, ok := j.blank(buildup.PartDust); ok {
		add("dust", unit.A("size", size), unit.A("inset", b.Dust.Inset), unit.A("pitch", b.Staples.DustPitch.Or(b.Staples.Pitch)))
		if b.Dust.Hem > 0 {
			more("dust.hem", unit.A("hem", b.Dust.Hem))
		}
		more("dust.holes")
	}
	add("refit", unit.A("board", b.Board), unit.A("pieces", j.numbers()))
	add("check")
	return out
}

// padSteps are those of a loose pad, which is sewn.
func (j benchJob) padSteps() []drawing.Step {
	s, b := j.s, j.s.Build
	var out []drawing.Step
	add := func(key string, args ...unit.Arg) {
		out = append(out, drawing.Step{Title: j.say("bench.step." + key), Text: j.say("bench.step."+key+".text", args...)})
	}
	more := func(key string, args ...unit.Arg) {
		last := &out[len(out)-1]
		last.Text += " " + j.say("bench.step."+key, args...)
	}
	w, d := s.Outline.Size()
	add("pad-measure", unit.A("size", j.pair(w, d)), unit.A("thick", b.Pad.Thickness))
	add("pad-cut", unit.A("letter", s.Letter))
	for _, p := range []buildup.Part{buildup.PartTop, buildup.PartBottom} {
		if size, ok := j.blank(p); ok {
			more("cut.part", unit.A("part", j.Words.Term(p.Code())), unit.A("size", size))
		}
	}
	for _, bl := range s.Result.Blanks {
		if bl.Part != buildup.PartBand && bl.Part != buildup.PartZipBand {
			continue
		}
		bw, bd := bl.Size()
		size := j.pair(bw, bd)
		if bl.Count > 1 {
			size = strconv.Itoa(bl.Count) + " × " + size
		}
		more("cut.part", unit.A("part", j.say("bench.band-at", unit.A("part", j.Words.Term(bl.Part.Code())), unit.A("edge", j.Words.Term(roleWord(bl.Role, s))))), unit.A("size", size))
	}
	if b.Welt.Rows > 0 {
		add("pad-welt", unit.A("strip", s.Result.WeltStrip.Length()), unit.A("length", s.Result.WeltEdge.Length()), unit.A("cord", b.Welt.Cord), unit.A("rows", b.Welt.Rows))
	}
	if b.Pad.Zip {
		add("pad-zip", unit.A("seam", b.Pad.ZipSeam))
	}
	add("pad-sew", unit.A("seam", b.Pad.Seam))
	if b.Pad.Ties > 0 {
		more("pad-sew.ties", unit.A("count", b.Pad.Ties), unit.A("length", b.Pad.TieLength))
	}
	if size, ok := j.blank(buildup.PartFoam); ok {
		add("pad-fill", unit.A("size", size))
		if b.Wadding.Thickness > 0 {
			more("pad-fill.wadding")
		}
	}
	add("check")
	return out
}

// roleWord is the word for an edge; a round pad's one edge goes all round.
func roleWord(r seat.Role, s plan.SeatPlan) string {
	if s.Outline.IsRound() {
		return "all-round"
	}
	return r.String()
}

// benchCautions are the job's own cautions and the usual ones, and what is
// said of fire rules.
func (k *maker) benchCautions() []drawing.Block {
	out := []drawing.Block{drawing.Heading{Text: k.say("bench.cautions")}}
	seats := map[string]bool{}
	for _, s := range k.Plan.Seats {
		seats[s.ID] = true
	}
	for _, c := range k.Plan.Cautions {
		if seats[c.Where.Seat] && c.Severity >= caution.Check {
			continue // stands with its seat
		}
		t := k.Words.Caution(c.Code, k.Units, c.Args...)
		out = append(out, drawing.Boxed{Title: t.Title, Text: strings.TrimSpace(t.Text + " " + t.Remedy)})
	}
	return append(out, drawing.Para{Text: k.say("bench.status")})
}
