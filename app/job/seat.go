package job

// Seat is one kind of seat in the job, with a count.
type Seat struct {
	ID    ID        `json:"id,required"`
	Name  string    `json:"name,required"`
	Kind  SeatKind  `json:"kind,required"`
	Count int       `json:"count,required" least:"1" most:"500"`
	Note  string    `json:"note" text:"long"`
	Frame string    `json:"frame_number"`
	Own   []OwnSeat `json:"own" most:"500"`

	Outline Outline `json:"outline,required"`
	Build   Build   `json:"build_up,required"`

	// What it is cut from: IDs of the job's cloths and foams, empty while not
	// chosen.
	Cover       ID      `json:"cover"`
	Foam        ID      `json:"foam"`
	Wadding     ID      `json:"wadding"`
	DustCloth   ID      `json:"dust_cloth"`
	Lining      ID      `json:"lining"`
	Barrier     ID      `json:"fire_barrier"`
	Welt        ID      `json:"welt"`
	MotifAcross Measure `json:"motif_across" most:"5 m"`
	MotifLeft   bool    `json:"motif_left"`
	MotifFront  Measure `json:"motif_from_front" most:"5 m"`

	Extra Extra `json:"-"`
}

// Outline is where the board's shape comes from: four measurements and what
// goes with them, a width and a depth for a round or oval seat, or points that
// were traced.
type Outline struct {
	From OutlineFrom `json:"from,required"`

	FrontWidth  Measure `json:"front_width" most:"5 m"`
	BackWidth   Measure `json:"back_width" most:"5 m"`
	Depth       Measure `json:"depth" most:"5 m"`
	FrontBow    Measure `json:"front_bow" most:"5 m"`
	SideBow     Measure `json:"side_bow" most:"5 m"`
	FrontRadius Measure `json:"front_radius" most:"5 m"`
	BackRadius  Measure `json:"back_radius" most:"5 m"`
	OverRounded bool    `json:"over_rounded"`
	NotchWidth  Measure `json:"notch_width" most:"5 m"`
	NotchDepth  Measure `json:"notch_depth" most:"5 m"`

	MeasuredOn MeasuredOn `json:"measured_on"`
	OldLayers  Measure    `json:"old_layers" most:"200 mm"` // thickness of the old cover's layers at the edge
	Holes      []Hole     `json:"holes" most:"100"`

	// Of a traced outline. It is kept as seen from the top, whichever face was
	// up when it was traced.
	Points          []TracePoint `json:"points" most:"1000"`
	TracedFace      TracedFace   `json:"traced_face"`
	LeftNotchWidth  Measure      `json:"left_notch_width" most:"5 m"`
	LeftNotchDepth  Measure      `json:"left_notch_depth" most:"5 m"`
	RightNotchWidth Measure      `json:"right_notch_width" most:"5 m"`
	RightNotchDepth Measure      `json:"right_notch_depth" most:"5 m"`
	KnownWhat       KnownWhat    `json:"known"`
	KnownLength     Measure      `json:"known_length" most:"10 m"`
	KnownFrom       int          `json:"known_from" most:"1000"`
	KnownTo         int          `json:"known_to" most:"1000"`

	Extra Extra `json:"-"`
}

// Build is the build-up of a seat, from the board up. An empty measure means
// not given: nothing of the kind, or the usual figure where the engine has
// one. The keys are those of the faults of engine/buildup, so that a fault
// finds its field.
type Build struct {
	Board Measure `json:"board" most:"200 mm"`

	// The base layer of foam is cut from Seat.Foam; Layers lie above it.
	Foam        Measure  `json:"foam_thickness" most:"500 mm"`
	Layers      []Layer  `json:"layers" most:"20"`
	Oversize    Measure  `json:"oversize" most:"300 mm"`
	FoamSmaller bool     `json:"foam_smaller"` // the oversize is taken off instead
	Compression Percent  `json:"compression" most:"90 %"`
	FoamEdge    FoamEdge `json:"foam_edge"`
	EdgeSize    Measure  `json:"edge_size" most:"500 mm"` // radius of a rounded edge, or the bevel
	FoamSquared bool     `json:"foam_squared"`

	// Overhang is what is left of the oversize after pulling.
	Overhang      Measure `json:"overhang" most:"300 mm"`
	OverhangFront Measure `json:"overhang_front" most:"300 mm"`
	OverhangLeft  Measure `json:"overhang_left" most:"300 mm"`
	OverhangRight Measure `json:"overhang_right" most:"300 mm"`
	OverhangBack  Measure `json:"overhang_back" most:"300 mm"`

	Crown          Measure `json:"dome" most:"500 mm"`
	Wadding        Measure `json:"wadding_thickness" most:"300 mm"`
	WaddingOver    bool    `json:"wadding_covers_board_edge"`
	WaddingTrim    Measure `json:"wadding_trim" most:"300 mm"`
	WaddingSquared bool    `json:"wadding_squared"`

	CoverThick Measure `json:"cover_thickness" most:"50 mm"`
	CutAs      CutAs   `json:"cut_as"`
	TurnUnder  Measure `json:"turn_under" most:"300 mm"`
	Pull       Measure `json:"pull" most:"300 mm"`
	FixedWrap  Measure `json:"fixed_wrap" most:"1 m"`
	FixedFront Measure `json:"fixed_wrap_front" most:"1 m"`
	FixedLeft  Measure `json:"fixed_wrap_left" most:"1 m"`
	FixedRight Measure `json:"fixed_wrap_right" most:"1 m"`
	FixedBack  Measure `json:"fixed_wrap_back" most:"1 m"`
	TriedFront Measure `json:"used_wrap_front" most:"1 m"`
	TriedLeft  Measure `json:"used_wrap_left" most:"1 m"`
	TriedRight Measure `json:"used_wrap_right" most:"1 m"`
	TriedBack  Measure `json:"used_wrap_back" most:"1 m"`
	// CornersTrimmed: the folds at the corners are cut away.
	CornersTrimmed bool `json:"corners_trimmed"`

	NoDustCloth bool    `json:"no_dust_cloth"`
	DustHem     Measure `json:"dust_hem" most:"300 mm"`
	DustInset   Measure `json:"dust_inset" most:"300 mm"`
	DustSquared bool    `json:"dust_squared"`

	StaplePitch Measure `json:"staple_pitch" most:"300 mm"`
	DustPitch   Measure `json:"dust_pitch" most:"300 mm"`
	StapleLeg   Measure `json:"staple_leg" most:"50 mm"`
	StapleLine  Measure `json:"staple_line" most:"300 mm"`
	StapleStop  Measure `json:"staple_stop" most:"300 mm"`

	NotchGap      Measure `json:"notch_clearance" most:"300 mm"`
	ReliefShort   Measure `json:"relief_short_of" most:"300 mm"`
	ReliefArm     Measure `json:"relief_arm" most:"300 mm"`
	ReliefSpread  int     `json:"relief_spread" most:"90"` // degrees of each arm to the diagonal; 0 for along the notch's sides
	OpeningWidth  Measure `json:"frame_width" most:"5 m"`
	OpeningDepth  Measure `json:"frame_depth" most:"5 m"`
	OpeningPost   Measure `json:"post_gap" most:"300 mm"`
	Plane         bool    `json:"plane_to_fit"`
	PadThickness  Measure `json:"pad_thickness" most:"500 mm"`
	PadSeam       Measure `json:"pad_seam" most:"300 mm"`
	PadSqueeze    Measure `json:"pad_squeeze" most:"300 mm"`
	PadZip        bool    `json:"pad_zip"`
	PadZipSeam    Measure `json:"zip_seam" most:"300 mm"`
	Ties          int     `json:"ties" most:"20"`
	TieLength     Measure `json:"tie_length" most:"5 m"`
	TieWidth      Measure `json:"tie_width" most:"300 mm"`
	WeltRows      int     `json:"welt_rows" most:"4"`
	WeltCord      Measure `json:"welt_cord" most:"50 mm"`
	WeltSeam      Measure `json:"welt_seam" most:"300 mm"`
	WeltBias      bool    `json:"welt_bias"`
	WeltDouble    bool    `json:"welt_double"`
	WeltOverlap   Measure `json:"welt_overlap" most:"300 mm"`
	WeltCut       WeltCut `json:"welt_cut"`
	WeltShortest  Measure `json:"welt_shortest" most:"5 m"`
	LiningThick   Measure `json:"lining_thickness" most:"50 mm"`
	BarrierThick  Measure `json:"barrier_thickness" most:"50 mm"`
	DustThickness Measure `json:"dust_thickness" most:"50 mm"`
	WebAcross     int     `json:"webbing_across" most:"50"`
	WebAlong      int     `json:"webbing_along" most:"50"`
	WebWidth      Measure `json:"webbing_width" most:"300 mm"`
	WebFold       Measure `json:"webbing_fold" most:"300 mm"`
	WebSpanAcross Measure `json:"webbing_span_across" most:"5 m"`
	WebSpanAlong  Measure `json:"webbing_span_along" most:"5 m"`
	WebStretch    Percent `json:"webbing_stretch" most:"200 %"`

	Extra Extra `json:"-"`
}

// Layer is a layer of foam above the base.
type Layer struct {
	ID        ID      `json:"id,required"`
	Foam      ID      `json:"foam"`
	Thickness Measure `json:"thickness" most:"500 mm"`
	Inset     Measure `json:"inset" most:"5 m"` // smaller than the layers below by this much on each side
	Tapered   bool    `json:"tapered"`

	Extra Extra `json:"-"`
}

// OwnSeat is how a single seat of a kind differs. Empty measures are the
// kind's.
type OwnSeat struct {
	ID           ID      `json:"id,required"`
	Number       int     `json:"number,required" least:"1" most:"500"`
	Frame        string  `json:"frame_number"`
	FrontWidth   Measure `json:"front_width" most:"5 m"`
	BackWidth    Measure `json:"back_width" most:"5 m"`
	Depth        Measure `json:"depth" most:"5 m"`
	FrontBow     Measure `json:"front_bow" most:"5 m"`
	OpeningWidth Measure `json:"frame_width" most:"5 m"`
	OpeningDepth Measure `json:"frame_depth" most:"5 m"`
	Note         string  `json:"note" text:"long"`

	Extra Extra `json:"-"`
}

// Hole is a screw hole in the board.
type Hole struct {
	ID        ID      `json:"id,required"`
	Across    Measure `json:"across,required" most:"5 m"`
	Left      bool    `json:"left"`
	FromFront Measure `json:"from_front,required" most:"5 m"`
	Note      string  `json:"note"`

	Extra Extra `json:"-"`
}
