package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"testing"

	"slipseat/engine/unit"
)

// tiff is the smallest Exif block with an orientation and a focal length for
// 35 mm film, in either order of bytes.
func tiff(order binary.AppendByteOrder, turn, focal uint16) []byte {
	var b []byte
	if order == binary.AppendByteOrder(binary.BigEndian) {
		b = append(b, "MM"...)
	} else {
		b = append(b, "II"...)
	}
	b = order.AppendUint16(b, 42)
	b = order.AppendUint32(b, 8)
	entry := func(tag, kind uint16, count uint32, value uint32, short bool) {
		b = order.AppendUint16(b, tag)
		b = order.AppendUint16(b, kind)
		b = order.AppendUint32(b, count)
		if short {
			b = order.AppendUint16(b, uint16(value))
			b = order.AppendUint16(b, 0)
		} else {
			b = order.AppendUint32(b, value)
		}
	}
	b = order.AppendUint16(b, 2)
	entry(0x0112, 3, 1, uint32(turn), true)
	entry(0x8769, 4, 1, 38, false) // the camera's own table
	b = order.AppendUint32(b, 0)
	b = order.AppendUint16(b, 1)
	entry(0xA405, 3, 1, uint32(focal), true)
	return order.AppendUint32(b, 0)
}

// jpegWith puts an Exif block into a JPEG file.
func jpegWith(t *testing.T, img image.Image, block []byte) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	file := buf.Bytes()
	block = append([]byte("Exif\x00\x00"), block...)
	out := append([]byte{}, file[:2]...)
	out = append(out, 0xff, 0xe1)
	out = binary.BigEndian.AppendUint16(out, uint16(len(block)+2))
	out = append(out, block...)
	return append(out, file[2:]...)
}

func pngWith(t *testing.T, img image.Image, block []byte) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := png.Encode(&buf, img); err != nil {
		t.Fatal(err)
	}
	file := buf.Bytes()
	chunk := append([]byte("eXIf"), block...)
	out := append([]byte{}, file[:33]...) // signature and IHDR
	out = binary.BigEndian.AppendUint32(out, uint32(len(block)))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, file[33:]...)
}

// The scene: red in its upper left, green in its upper right, blue in its lower
// left quarter, white in the last.
var scene = [2][2]color.RGBA{
	{{255, 0, 0, 255}, {0, 255, 0, 255}},
	{{0, 0, 255, 255}, {255, 255, 255, 255}},
}

const sceneW, sceneH = 96, 64

// taken is the file's own picture of the scene for an orientation, made from
// the standard's words: the 0th row of the file is the scene's side rowIs, its
// 0th column the side columnIs.
func taken(rowIs, columnIs string) image.Image {
	rowsAcross := rowIs == "top" || rowIs == "bottom"
	w, h := sceneW, sceneH
	if !rowsAcross {
		w, h = sceneH, sceneW
	}
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for r := range h {
		for c := range w {
			var x, y int // in the scene
			along := func(side string, n int) {
				switch side {
				case "top":
					y = n
				case "bottom":
					y = sceneH - 1 - n
				case "left":
					x = n
				case "right":
					x = sceneW - 1 - n
				}
			}
			along(rowIs, r)
			along(columnIs, c)
			img.SetRGBA(c, r, scene[y*2/sceneH][x*2/sceneW])
		}
	}
	return img
}

// TestAllEightOrientations follows the table of the Exif standard (CIPA DC-008,
// 4.6.5.1.2, Orientation).
func TestAllEightOrientations(t *testing.T) {
	table := [9][2]string{1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"},
		5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"}}
	for turn := 1; turn <= 8; turn++ {
		for name, order := range map[string]binary.AppendByteOrder{"Motorola": binary.BigEndian, "Intel": binary.LittleEndian} {
			img := taken(table[turn][0], table[turn][1])
			block := tiff(order, uint16(turn), 26)
			for format, file := range map[string][]byte{"jpeg": jpegWith(t, img, block), "png": pngWith(t, img, block)} {
				p, err := Decode(file)
				if err != nil {
					t.Fatalf("orientation %d, %s, %s: %v", turn, name, format, err)
				}
				if p.Focal35 != 26 || p.Format != format {
					t.Errorf("orientation %d, %s: focal length %v, format %q, want 26 and %q", turn, name, p.Focal35, p.Format, format)
				}
				checkScene(t, p.Image, format, turn)
			}
		}
	}
}

func checkScene(t *testing.T, img *image.RGBA, format string, turn int) {
	t.Helper()
	w, h := sceneW, sceneH
	if format == "heic" {
		w, h = 1024, 768
	}
	if img.Rect != image.Rect(0, 0, w, h) {
		t.Fatalf("%s, orientation %d: %v, want %d × %d", format, turn, img.Rect, w, h)
	}
	for j := range 2 {
		for i := range 2 {
			got := img.RGBAAt(w/4+i*w/2, h/4+j*h/2)
			want := scene[j][i]
			for _, d := range []int{int(got.R) - int(want.R), int(got.G) - int(want.G), int(got.B) - int(want.B)} {
				if d > 30 || d < -30 {
					t.Errorf("%s, orientation %d, quarter %d %d: got %v, want %v", format, turn, i, j, got, want)
					break
				}
			}
		}
	}
}

func TestLargePictureIsShrunk(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 6000, 3000))
	for i := range img.Pix {
		img.Pix[i] = 200
	}
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, nil); err != nil {
		t.Fatal(err)
	}
	p, err := Decode(buf.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if p.Image.Rect.Dx() != MostSide || p.Image.Rect.Dy() != MostSide/2 {
		t.Errorf("got %v, want %d × %d", p.Image.Rect, MostSide, MostSide/2)
	}
	if c := p.Image.RGBAAt(2000, 1000); c.R < 195 || c.R > 205 {
		t.Errorf("gray 200 became %v", c)
	}
}

func TestClearPictureLiesOnWhite(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 40, 40))
	var buf bytes.Buffer
	if err := png.Encode(&buf, img); err != nil {
		t.Fatal(err)
	}
	p, err := Decode(buf.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if c := p.Image.RGBAAt(20, 20); c != (color.RGBA{255, 255, 255, 255}) {
		t.Errorf("clear became %v, want white", c)
	}
}

// TestHEIC reads a picture of the scene that heif-enc of libheif 1.15.1 (Debian)
// wrote.
func TestHEIC(t *testing.T) {
	file, err := os.ReadFile("testdata/scene.heic")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	if p.Format != "heic" {
		t.Errorf("format %q", p.Format)
	}
	checkScene(t, p.Image, "heic", 1)
}

func TestBadFiles(t *testing.T) {
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, taken("top", "left"), nil); err != nil {
		t.Fatal(err)
	}
	good := buf.Bytes()
	heicFile, err := os.ReadFile("testdata/scene.heic")
	if err != nil {
		t.Fatal(err)
	}
	// A PNG header that claims 60,000 × 60,000 pixels.
	huge := pngWith(t, image.NewGray(image.Rect(0, 0, 1, 1)), nil)
	binary.BigEndian.PutUint32(huge[16:], 60000)
	binary.BigEndian.PutUint32(huge[20:], 60000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	for _, c := range []struct {
		name string
		file []byte
		code string
	}{
		{"empty", nil, CodeNotAPicture},
		{"words", []byte("not a picture at all"), CodeNotAPicture},
		{"cut JPEG", good[:len(good)/3], CodeDamaged},
		{"JPEG header only", good[:4], CodeDamaged},
		{"huge PNG", huge, CodeTooLarge},
		{"cut HEIC", heicFile[:len(heicFile)/2], CodeDamaged},
		{"HEIC header only", heicFile[:24], CodeDamaged},
		{"too many bytes", append([]byte{0xff, 0xd8, 0xff}, make([]byte, MaxBytes)...), CodeFileTooLarge},
	} {
		_, err := Decode(c.file)
		var f *unit.Fault
		if !errors.As(err, &f) || f.Code != c.code {
			t.Errorf("%s: got %v, want %s", c.name, err, c.code)
		}
	}
}

// FuzzDecode: a picture or a fault, never a panic.
func FuzzDecode(f *testing.F) {
	var buf bytes.Buffer
	_ = jpeg.Encode(&buf, taken("right", "top"), nil)
	f.Add(buf.Bytes())
	buf.Reset()
	_ = png.Encode(&buf, taken("top", "left"))
	f.Add(buf.Bytes())
	f.Add([]byte("\x00\x00\x00\x18ftypheic"))
	f.Add(append([]byte{0xff, 0xd8, 0xff, 0xe1, 0, 40}, append([]byte("Exif\x00\x00"), tiff(binary.BigEndian, 6, 26)...)...))
	f.Fuzz(func(t *testing.T, file []byte) {
		p, err := Decode(file)
		if err == nil && (p.Image == nil || p.Image.Rect.Empty()) {
			t.Error("neither a picture nor a fault")
		}
		if err != nil {
			var fault *unit.Fault
			if !errors.As(err, &fault) {
				t.Errorf("an error that is no fault: %v", err)
			}
		}
	})
}
