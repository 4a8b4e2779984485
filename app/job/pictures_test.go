package job

import (
	"bytes"
	"image/color"
	"reflect"
	"strings"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

func TestPicturesTravel(t *testing.T) {
	j := New(random(5), testNames, UnitsMM)
	one, other := []byte("one picture"), bytes.Repeat([]byte{0, 255, 7}, 1000)
	j.Cloths[0].Swatch.Picture = PictureIDOf(other)
	f := File{Job: j, Pictures: map[PictureID][]byte{PictureIDOf(one): one, PictureIDOf(other): other}}
	data := EncodeFile(f)
	back, err := DecodeFile(data)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back.Pictures, f.Pictures) {
		t.Error("the pictures are others after the journey")
	}
	if again := EncodeFile(back); !bytes.Equal(again, data) {
		t.Error("written again the file differs")
	}
	if got := j.Pictures(); len(got) != 1 || got[0] != PictureIDOf(other) {
		t.Errorf("the job refers to %v", got)
	}
	for name, bad := range map[string]string{
		"other bytes":  strings.Replace(string(data), `"b25l`, `"b25m`, 1),
		"no base64":    strings.Replace(string(data), `"b25l`, `"b25*`, 1),
		"another name": strings.Replace(string(data), string(PictureIDOf(one)), string(PictureIDOf([]byte("x"))), 1),
	} {
		if bad == string(data) {
			t.Fatal("nothing was changed: " + name)
		}
		_, err := DecodeFile([]byte(bad))
		if flt, ok := err.(unit.Fault); !ok || flt.Code != CodePicture || !strings.HasPrefix(flt.Where.Field, "pictures.") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestLooks(t *testing.T) {
	c := color.RGBA{R: 0x2f, G: 0x07, B: 0xa0, A: 255}
	if got, ok := ColourOf(c).RGBA(); !ok || got != c {
		t.Errorf("the colour %v came back as %v", c, got)
	}
	for _, bad := range []Colour{"2f07a0", "#2f07a", "#2f07ag", "#-2f07a", "red", "#2f07a00"} {
		if _, ok := bad.RGBA(); ok {
			t.Errorf("%q was taken as a colour", bad)
		}
	}
	pts := []geom.Pt{{X: 0.125, Y: 0}, {X: -0.25, Y: 1.5}}
	if got, ok := PointsOf(pts).List(); !ok || !reflect.DeepEqual(got, pts) {
		t.Errorf("the points came back as %v", got)
	}
	for _, bad := range []Points{"0.1", "0.1 0.2,", "a b", "0.1 NaN", "3 0", "0 -1", "1e300 0", Points(strings.Repeat("0 0,", 64) + "0 0")} {
		if _, ok := bad.List(); ok {
			t.Errorf("%.20q was taken as points", bad)
		}
	}
	for _, bad := range []PictureID{"", "abc", PictureID(strings.Repeat("G", 64)), PictureID(strings.Repeat("A", 64))} {
		if bad.Valid() {
			t.Errorf("%q was taken as a picture's name", bad)
		}
	}
}
