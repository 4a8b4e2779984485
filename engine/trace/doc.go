// Package trace turns a photo of a board into its outline in millimetres.
//
// The calls, in the order of the work:
//
//	p, err := trace.NewPhoto(img, focal35)        // upright picture; focal35 from the camera, 0 if unknown
//	s, err := trace.FindSheet(ctx, p, trace.A4(), report)
//	s, err  = trace.SheetAt(p, trace.A4(), corners)  // instead, or after a corner was dragged
//	at, ok := trace.SnapCorner(p, s, 2, dragged)     // a dragged corner to the sheet's edges
//	f, err := trace.Flatten(ctx, p, s, report)       // the picture made flat, true to scale
//	o, err := trace.FindOutline(ctx, f, trace.FindOptions{}, report)
//
// FindSheet and FindOutline never guess: an error that is a *unit.Fault says
// that nothing could be told from the picture, and what to do. A cancelled
// context returns its own error.
//
// # Frames of reference
//
// Photo: pixels, x right, y down, the middle of the first pixel is (0.5, 0.5).
// Model: millimetres, x right, y up, the origin in the middle of the sheet, its
// sides along the axes; what was up in the photo stays up. Corners run
// counter-clockwise to the eye from the lower left one, so corners 0 and 1 are
// the ends of the side of length W.
//
// # What is assumed
//
// The sheet and the upper edge of the board lie in one plane, pixels are square,
// and the picture was not cropped off centre. Lens distortion is not corrected;
// the expected error allows for it.
package trace
