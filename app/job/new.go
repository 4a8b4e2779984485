package job

// Defaults of a new seat are a plain dining chair in the job's own system of
// units, ready to be typed over (common practice, no source).

// New is an empty job with one seat, a cover cloth, a dust cloth and a foam.
func New(random func([]byte), name string, units Units) Job {
	id := func() ID { return NewID(random) }
	metric := units == UnitsCM || units == UnitsMM
	pick := func(inch, cm Measure) Measure {
		if metric {
			return cm
		}
		return inch
	}
	j := Job{Format: Format, ID: id(), Name: name, Units: units, ClothUnits: ClothInYards, Step: "1/16 in"}
	if metric {
		j.ClothUnits, j.Step = ClothInMetres, "1 mm"
	}
	cover := Cloth{ID: id(), Name: "Cover cloth", Use: UseCover, Width: pick("54 in", "140 cm"), SelvedgeNear: pick("1/2 in", "1 cm"),
		SelvedgeFar: pick("1/2 in", "1 cm"), Gap: pick("1/4 in", "0.5 cm"), SquareUp: pick("1 in", "2.5 cm"),
		SellStep: pick("1/4 yd", "0.1 m"), PriceUnit: pick("1 yd", "1 m"), Direction: SetDirection}
	dust := Cloth{ID: id(), Name: "Dust cloth", Use: UseDustCloth, Width: pick("36 in", "90 cm"), Gap: pick("1/4 in", "0.5 cm"),
		SquareUp: pick("1/2 in", "1 cm"), SellStep: pick("1/4 yd", "0.1 m"), PriceUnit: pick("1 yd", "1 m")}
	foam := Foam{ID: id(), Name: "Foam", Thickness: pick("1 in", "2.5 cm"), SawCut: pick("1/8 in", "0.3 cm")}
	j.Cloths = []Cloth{cover, dust}
	j.Foams = []Foam{foam}
	j.Prices = Prices{StapleSpare: "10 %", StapleBox: 1000}
	j.Seats = []Seat{NewSeat(random, j, "Chair")}
	return j
}

// NewSeat is a seat of a plain dining chair, cut from the job's first cloths
// and foam.
func NewSeat(random func([]byte), j Job, name string) Seat {
	metric := j.Units == UnitsCM || j.Units == UnitsMM
	pick := func(inch, cm Measure) Measure {
		if metric {
			return cm
		}
		return inch
	}
	s := Seat{ID: NewID(random), Name: name, Kind: PulledOver, Count: 1}
	s.Outline = Outline{From: Measured, MeasuredOn: BareBoard, FrontWidth: pick("18 in", "46 cm"), BackWidth: pick("16 in", "41 cm"),
		Depth: pick("16 in", "41 cm"), FrontBow: pick("1/2 in", "1.5 cm"), FrontRadius: pick("3/4 in", "2 cm"), BackRadius: pick("3/4 in", "2 cm")}
	s.Build = Build{Board: pick("1/2 in", "1.2 cm"), Oversize: pick("1/2 in", "1 cm"), Overhang: pick("0 in", "0 cm"), FoamEdge: SquareEdge,
		TurnUnder: pick("1 1/4 in", "3 cm"), Pull: pick("1/2 in", "1.5 cm"), DustInset: pick("3/8 in", "1 cm"), DustHem: pick("1/2 in", "1.5 cm"),
		StaplePitch: pick("1 in", "2.5 cm"), DustPitch: pick("1 1/2 in", "4 cm"), StapleLeg: pick("3/8 in", "1 cm")}
	for _, c := range j.Cloths {
		switch {
		case c.Use == UseCover && s.Cover == "":
			s.Cover = c.ID
		case c.Use == UseDustCloth && s.DustCloth == "":
			s.DustCloth = c.ID
		}
	}
	if len(j.Foams) > 0 {
		s.Foam = j.Foams[0].ID
	}
	return s
}
