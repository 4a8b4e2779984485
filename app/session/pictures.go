package session

import (
	"bytes"
	"image"
	"image/jpeg"
	_ "image/png" // stored pictures are either
	"io"
	"sync"

	"golang.org/x/image/draw"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Pictures keeps the pictures that jobs refer to.
type Pictures interface {
	Put(data []byte) (job.PictureID, error)
	Get(id job.PictureID) ([]byte, error)
}

// The longest sides that pictures are kept with, in pixels (DESIGN section 8).
const (
	PhotoSide  = 4000
	SwatchSide = 2000
)

// maxPixels bounds what is unpacked from a stored picture.
const maxPixels = 100_000_000

// CodePicture is the fault of a picture that cannot be read.
const CodePicture = "session.bad-picture"

// memory keeps pictures where there is no folder for them: for as long as the
// window is open.
type memory struct{ m sync.Map }

func (m *memory) Put(data []byte) (job.PictureID, error) {
	id := job.PictureIDOf(data)
	m.m.Store(id, data)
	return id, nil
}

func (m *memory) Get(id job.PictureID) ([]byte, error) {
	if d, ok := m.m.Load(id); ok {
		return d.([]byte), nil
	}
	return nil, unit.Fault{Code: CodePicture}
}

// PictureSource gives kept pictures to work that runs beside the window; it
// may be called from any goroutine.
func (s *Session) PictureSource() func(job.PictureID) (image.Image, error) {
	from := s.o.Pictures
	return func(id job.PictureID) (image.Image, error) {
		data, err := from.Get(id)
		if err != nil {
			return nil, err
		}
		return Unpack(data)
	}
}

// AddPicture keeps a picture, upright as it is given, its longer side shrunk
// to most pixels, and gives its name. The job refers to it by a field of its
// own, which is the caller's to set.
func (s *Session) AddPicture(pic image.Image, most int) (job.PictureID, error) {
	b := pic.Bounds()
	if b.Empty() {
		return "", unit.Fault{Code: CodePicture}
	}
	w, h := b.Dx(), b.Dy()
	if side := max(w, h); side > most {
		w, h = max(1, w*most/side), max(1, h*most/side)
		small := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.CatmullRom.Scale(small, small.Bounds(), pic, b, draw.Src, nil)
		pic = small
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, pic, &jpeg.Options{Quality: 92}); err != nil {
		return "", unit.Fault{Code: CodePicture}
	}
	return s.o.Pictures.Put(out.Bytes())
}

// Picture gives a kept picture. The last few stay unpacked.
func (s *Session) Picture(id job.PictureID) (image.Image, error) {
	for i, p := range s.shownPictures {
		if p.id == id {
			// The one in use stays longest.
			copy(s.shownPictures[1:i+1], s.shownPictures[:i])
			s.shownPictures[0] = p
			return p.img, nil
		}
	}
	data, err := s.o.Pictures.Get(id)
	if err != nil {
		return nil, err
	}
	img, err := Unpack(data)
	if err != nil {
		return nil, err
	}
	s.shownPictures = append([]shownPicture{{id, img}}, s.shownPictures[:min(len(s.shownPictures), keptPictures-1)]...)
	return img, nil
}

// keptPictures is how many pictures stay unpacked.
const keptPictures = 8

type shownPicture struct {
	id  job.PictureID
	img image.Image
}

// Unpack reads the bytes of a kept picture.
func Unpack(data []byte) (image.Image, error) {
	bad := unit.Fault{Code: CodePicture}
	c, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || c.Width <= 0 || c.Height <= 0 || c.Width > maxPixels/c.Height {
		return nil, bad
	}
	img, _, err := image.Decode(io.LimitReader(bytes.NewReader(data), int64(len(data))))
	if err != nil {
		return nil, bad
	}
	return img, nil
}

// picturesOf collects the pictures that travel with a job; a missing one is
// left out.
func (s *Session) picturesOf(j job.Job) map[job.PictureID][]byte {
	out := map[job.PictureID][]byte{}
	for _, id := range j.Pictures() {
		if data, err := s.o.Pictures.Get(id); err == nil {
			out[id] = data
		}
	}
	return out
}

// takePictures keeps the pictures that came with a job. One that cannot be
// read is left out; the job is shown without it.
func (s *Session) takePictures(all map[job.PictureID][]byte) {
	for _, data := range all {
		if _, err := Unpack(data); err == nil {
			if _, err := s.o.Pictures.Put(data); s.report(err) {
				return
			}
		}
	}
}
