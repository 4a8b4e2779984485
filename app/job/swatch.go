package job

// Swatch is what a cloth looks like: a simple drawing in two colours, or a
// picture of it on which one repeat is marked.
type Swatch struct {
	Look    SwatchLook `json:"look"`
	Ground  Colour     `json:"ground"`
	Figure  Colour     `json:"figure"`
	Picture PictureID  `json:"picture"`
	// Corners are the four corners of one repeat on the picture, from the upper
	// left one clockwise as the pattern stands upright; none for all of it.
	Corners Points `json:"corners"`
	// Motif is where the motif lies on the picture; the middle of the repeat
	// when absent.
	Motif Points `json:"motif"`

	Extra Extra `json:"-"`
}
