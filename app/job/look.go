package job

import (
	"crypto/sha256"
	"encoding/hex"
	"image/color"
	"strconv"
	"strings"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Colour is a colour in sRGB: "#2f7f78". Empty means not given.
type Colour string

// RGBA reads the colour; false when it is not given or cannot be read.
func (c Colour) RGBA() (color.RGBA, bool) {
	if len(c) != 7 || c[0] != '#' {
		return color.RGBA{}, false
	}
	v, err := strconv.ParseUint(string(c[1:]), 16, 32)
	if err != nil {
		return color.RGBA{}, false
	}
	return color.RGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}, true
}

// ColourOf writes a colour.
func ColourOf(c color.RGBA) Colour {
	return Colour("#" + hex.EncodeToString([]byte{c.R, c.G, c.B}))
}

// PictureID names a picture by what is in it: the SHA-256 of its bytes, in
// hexadecimal. Empty means none.
type PictureID string

// PictureIDOf names a picture.
func PictureIDOf(data []byte) PictureID {
	sum := sha256.Sum256(data)
	return PictureID(hex.EncodeToString(sum[:]))
}

// Valid tells whether it is a name of a picture.
func (id PictureID) Valid() bool {
	if len(id) != 2*sha256.Size {
		return false
	}
	for _, c := range id {
		if !(c >= '0' && c <= '9' || c >= 'a' && c <= 'f') {
			return false
		}
	}
	return true
}

// Points is a list of places on a picture, each as shares of its width from
// the left and of its height from the top: "0.12 0.3, 0.88 0.31". Empty means
// none.
type Points string

// maxPoints is the number of places that a text of points may hold.
const maxPoints = 64

// List reads the points.
func (p Points) List() ([]geom.Pt, bool) {
	if p == "" {
		return nil, true
	}
	items := strings.Split(string(p), ",")
	if len(items) > maxPoints {
		return nil, false
	}
	out := make([]geom.Pt, 0, len(items))
	for _, item := range items {
		x, y, ok := strings.Cut(strings.TrimSpace(item), " ")
		if !ok {
			return nil, false
		}
		px, errX := strconv.ParseFloat(x, 64)
		py, errY := strconv.ParseFloat(strings.TrimSpace(y), 64)
		// A corner may lie a little outside of the picture.
		if errX != nil || errY != nil || !(px > -1 && px < 2 && py > -1 && py < 2) {
			return nil, false
		}
		out = append(out, geom.P(px, py))
	}
	return out, true
}

// PointsOf writes places, to a hundred-thousandth of the picture.
func PointsOf(pts []geom.Pt) Points {
	items := make([]string, len(pts))
	for i, p := range pts {
		items[i] = strconv.FormatFloat(p.X, 'f', 5, 64) + " " + strconv.FormatFloat(p.Y, 'f', 5, 64)
	}
	return Points(strings.Join(items, ", "))
}

func (s *field) checkLook(text string) *unit.Fault {
	ok := true
	switch s.kind {
	case kindColour:
		_, ok = Colour(text).RGBA()
	case kindPicture:
		ok = PictureID(text).Valid()
	case kindPoints:
		_, ok = Points(text).List()
	}
	if !ok {
		return fault(CodeType)
	}
	return nil
}
