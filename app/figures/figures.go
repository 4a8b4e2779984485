// Package figures is a plan as plain figures in JSON, for other programs:
// lengths in millimetres, money in minor units, null where a value does not
// apply.
package figures

import (
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"

	"slipseat/engine/buildup"
	"slipseat/engine/caution"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Format is the version of the figures' layout.
const Format = 1

// pair is a width and a depth, or a length and a width; nil writes null.
type pair *[2]float64

type figures struct {
	Format   int          `json:"format"`
	Seats    []seatFig    `json:"seats"`
	Cloths   []cloth      `json:"cloths"`
	Foams    []foam       `json:"foams"`
	Order    []item       `json:"order"`
	Totals   totals       `json:"totals"`
	Cautions []cautionFig `json:"cautions"`
}

type seatFig struct {
	Letter    string                        `json:"letter"`
	Name      string                        `json:"name"`
	Count     int                           `json:"count"`
	Kind      string                        `json:"kind"`
	Board     pair                          `json:"board_mm"`
	Edge      *float64                      `json:"edge_mm"`
	Area      *float64                      `json:"area_mm2"`
	Foam      []pair                        `json:"foam_mm"`
	Cover     pair                          `json:"cover_mm"`
	Wadding   pair                          `json:"wadding_mm"`
	DustCloth pair                          `json:"dust_cloth_mm"`
	Wrap      map[string]*float64           `json:"wrap_mm"`
	WrapTerms map[string]map[string]float64 `json:"wrap_terms"`
	Staples   *int                          `json:"staples"`
	Welt      *float64                      `json:"welt_mm"`
	Clearance *float64                      `json:"clearance_mm"`
	Pieces    []piece                       `json:"pieces"`
	Faults    []string                      `json:"faults"`
}

type piece struct {
	ID    string  `json:"id"`
	Part  string  `json:"part"`
	Cloth string  `json:"cloth"`
	Size  pair    `json:"size_mm"`
	Area  float64 `json:"area_mm2"`
}

type cloth struct {
	Name    string       `json:"name"`
	Usable  float64      `json:"usable_width_mm"`
	Pieces  int          `json:"pieces"`
	Placed  int          `json:"placed"`
	Length  *float64     `json:"length_mm"`
	Bound   *float64     `json:"bound_mm"`
	Proved  *bool        `json:"proved"`
	Spare   float64      `json:"repeat_spare_mm"`
	Buy     *float64     `json:"buy_mm"`
	Best    *float64     `json:"best_buy_mm"`
	Hand    *hand        `json:"at_hand"`
	Density *float64     `json:"density_percent"`
	Offcuts [][2]float64 `json:"offcuts"`
}

// hand is what the piece at hand, or the roll as it came, gives.
type hand struct {
	Pieces  int      `json:"pieces"`
	Used    float64  `json:"used_mm"`
	Seats   []string `json:"seats"`
	Short   []string `json:"seats_short"`
	Missing []string `json:"missing"`
}

type foam struct {
	Name      string       `json:"name"`
	Thickness float64      `json:"thickness_mm"`
	Sheets    *int         `json:"sheets"`
	Pieces    int          `json:"pieces"`
	GlueUps   []string     `json:"glue_ups"`
	Offcuts   [][2]float64 `json:"offcuts"`
}

type item struct {
	Item     string   `json:"item"`
	Name     string   `json:"name"`
	Quantity *float64 `json:"quantity"`
	Unit     string   `json:"unit"`
	Buy      *float64 `json:"buy"`
	Reason   []reason `json:"reason"`
	Price    *int64   `json:"price"`
}

type reason struct {
	Code  string  `json:"code"`
	Value float64 `json:"value"`
}

type totals struct {
	Materials *int64 `json:"materials"`
	Labour    *int64 `json:"labour"`
	Tax       *int64 `json:"tax"`
	Total     *int64 `json:"total"`
	Currency  string `json:"currency"`
}

type cautionFig struct {
	Code   string `json:"code"`
	Where  string `json:"where"`
	Text   string `json:"text"`
	Remedy string `json:"remedy"`
}

// round keeps figures free of float noise: a ten-thousandth of a millimetre.
func round(v float64) float64 { return math.Round(v*1e4) / 1e4 }

func some(v float64) *float64 { v = round(v); return &v }

func size(w, d unit.Length) pair { return &[2]float64{round(w.MM()), round(d.MM())} }

// JSON writes the figures of a plan; currency is the job's, say puts a caution
// into words.
func JSON(p *plan.Plan, currency string, say func(caution.Caution) (where, text, remedy string)) ([]byte, error) {
	f := figures{Format: Format, Seats: []seatFig{}, Cloths: []cloth{}, Foams: []foam{}, Order: []item{}, Cautions: []cautionFig{}}
	for i, s := range p.Seats {
		f.Seats = append(f.Seats, seatOf(p, i, s))
	}
	for i := range p.Goods {
		g := &p.Goods[i]
		if g.Sheet != nil {
			f.Foams = append(f.Foams, foamOf(p, g))
		} else {
			f.Cloths = append(f.Cloths, clothOf(p, g))
		}
	}
	for _, it := range p.Order.Items {
		row := item{Item: it.Code, Name: it.Name, Unit: it.Unit.Code(), Reason: []reason{}}
		if !it.Pending {
			row.Quantity, row.Buy = some(it.Needed()), some(it.Buy.Value())
			price := int64(it.Cost())
			row.Price = &price
		}
		for _, t := range it.Buy.Terms {
			row.Reason = append(row.Reason, reason{t.Code, round(t.Value)})
		}
		f.Order = append(f.Order, row)
	}
	for _, c := range p.Cautions {
		where, text, remedy := say(c)
		f.Cautions = append(f.Cautions, cautionFig{c.Code, where, text, remedy})
	}
	f.Totals.Currency = currency
	if t := p.Order.Totals; !t.Pending {
		m := func(w unit.Why) *int64 { v := int64(math.Round(w.Value())); return &v }
		f.Totals.Materials, f.Totals.Labour, f.Totals.Tax, f.Totals.Total = m(t.Materials), m(t.Labour), m(t.Tax), m(t.Total)
	}
	return json.MarshalIndent(f, "", "  ")
}

func seatOf(p *plan.Plan, index int, s plan.SeatPlan) seatFig {
	out := seatFig{Letter: s.Letter, Name: s.Name, Count: s.Count, Kind: [...]string{"pulled-over", "drop-in", "boxed-pad", "stool"}[s.Build.Kind],
		Foam: []pair{}, Wrap: map[string]*float64{"front": nil, "left": nil, "right": nil, "back": nil},
		WrapTerms: map[string]map[string]float64{}, Pieces: []piece{}, Faults: []string{}}
	for _, f := range s.Faults {
		out.Faults = append(out.Faults, f.Code+" "+f.Where.Field)
	}
	if !s.OK() {
		return out
	}
	out.Board = size(s.Outline.Size())
	out.Edge, out.Area = some(s.Outline.Edge().MM()), some(float64(s.Outline.Area()))
	for _, b := range s.Result.Blanks {
		switch b.Part {
		case buildup.PartFoam:
			out.Foam = append(out.Foam, size(b.Size()))
		case buildup.PartCover, buildup.PartTop:
			out.Cover = size(b.Size())
		case buildup.PartWadding:
			out.Wadding = size(b.Size())
		case buildup.PartDust:
			out.DustCloth = size(b.Size())
		}
	}
	for _, r := range seat.Roles() {
		if w, ok := s.Result.Wrap(r); ok {
			out.Wrap[r.String()] = some(w.Used.Value())
			terms := map[string]float64{}
			for _, t := range w.Used.Terms {
				terms[t.Code] += round(t.Value)
			}
			out.WrapTerms[r.String()] = terms
		}
	}
	if n := int(math.Round(s.Result.Staples.Value())); n > 0 {
		out.Staples = &n
	}
	if v := s.Result.WeltEdge.Value(); v > 0 {
		out.Welt = some(v)
	}
	for _, g := range s.Result.Gaps {
		if v := g.Have.Value() - g.Need.Value(); out.Clearance == nil || v < *out.Clearance {
			out.Clearance = some(v)
		}
	}
	for i := range p.Goods {
		g := &p.Goods[i]
		if g.Lay == nil {
			continue
		}
		for _, at := range g.Lay.Places {
			k := g.Kinds[at.Kind]
			if k.Seat != index || k.Spoiled > 0 {
				continue
			}
			name := ""
			if g.Roll != nil {
				name = g.Roll.Name
			} else if g.Sheet != nil {
				name = g.Sheet.Name
			}
			out.Pieces = append(out.Pieces, piece{ID: g.PieceName(at, p), Part: k.Blank.Part.Code(), Cloth: name, Size: size(k.Blank.Size()), Area: round(float64(k.Blank.Area()))})
		}
	}
	return out
}

func offcuts(g *plan.GoodsPlan) [][2]float64 {
	out := [][2]float64{}
	for _, o := range g.Offcuts {
		out = append(out, [2]float64{round(o.Rect.W()), round(o.Rect.H())})
	}
	return out
}

func clothOf(p *plan.Plan, g *plan.GoodsPlan) cloth {
	c := cloth{Name: g.Roll.Name, Usable: round(g.Roll.UsableWidth().MM()), Pieces: g.Pieces, Offcuts: offcuts(g)}
	for _, t := range g.Buy.Terms {
		if t.Code == "buy.repeat-spare" {
			c.Spare = round(t.Value)
		}
	}
	if l := g.Lay; l != nil {
		for _, at := range l.Places {
			if g.Kinds[at.Kind].Spoiled == 0 {
				c.Placed++
			}
		}
		c.Length, c.Bound, c.Proved, c.Buy = some(l.Length.MM()), some(l.Bound.MM()), &l.Proved, some(g.Buy.Value())
		area := 0.0
		for _, k := range g.Problem.Kinds {
			area += k.Shape.Area() * float64(k.Count)
		}
		if l.Length > 0 {
			c.Density = some(100 * area / (l.Length.MM() * g.Roll.UsableWidth().MM()))
		}
	}
	if g.Phases != nil && !g.Pending {
		c.Best = some(g.Best.Value())
	}
	if h := g.Hand; h != nil {
		names := func(list []plan.SeatNumber) []string {
			out := []string{}
			for _, n := range list {
				out = append(out, p.Seats[n.Seat].Letter+strconv.Itoa(n.Number))
			}
			return out
		}
		c.Hand = &hand{Pieces: h.Pieces, Used: round(h.Used.MM()), Seats: names(h.Whole), Short: names(h.Short), Missing: []string{}}
		for _, at := range h.Missing {
			c.Hand.Missing = append(c.Hand.Missing, g.PieceName(at, p))
		}
	}
	return c
}

func foamOf(p *plan.Plan, g *plan.GoodsPlan) foam {
	f := foam{Name: g.Sheet.Name, Thickness: round(g.Sheet.Thickness.MM()), Pieces: g.Pieces, GlueUps: []string{}, Offcuts: offcuts(g)}
	if g.Lay != nil {
		n := g.Lay.Sheets
		f.Sheets = &n
		for _, at := range g.Lay.Places {
			if k := g.Kinds[at.Kind]; k.Glued == 1 && k.Spoiled == 0 {
				f.GlueUps = append(f.GlueUps, strings.TrimSuffix(g.PieceName(at, p), "-1"))
			}
		}
		slices.Sort(f.GlueUps)
	}
	return f
}
