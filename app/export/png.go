package export

import (
	"bufio"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"io"
	"math"

	"slipseat/app/raster"
	"slipseat/engine/drawing"
	"slipseat/engine/unit"
)

// Codes of the faults of this package.
const (
	// CodePictureTooLarge carries the pixels asked for and the most there can
	// be, in millions.
	CodePictureTooLarge = "export.picture-too-large"
	// CodeResolution carries the resolution asked for, in dots an inch.
	CodeResolution = "export.resolution"
)

// maxPixels bounds the time that a picture takes and what viewers open
// without trouble; a roll at its true size would be far beyond, a PDF serves
// that.
const maxPixels = 60e6

// bandRows is the height in pixels of the bands a picture is painted in, one
// after the other in the same memory: a page of any size takes a few megabytes
// only.
const bandRows = 192

// PNG writes a page as a picture of dpi dots an inch, with its true physical
// size in the chunk pHYs. The error is a unit.Fault when the picture would be
// too large.
func PNG(w io.Writer, page drawing.Drawing, dpi float64, p *drawing.Palette) error {
	if !(dpi >= 10 && dpi <= 2400) {
		return unit.Fault{Code: CodeResolution, Args: []unit.Arg{unit.A("dpi", dpi)}}
	}
	perMM := dpi / 25.4
	wpx, hpx := math.Round(page.Bounds.W()*perMM), math.Round(page.Bounds.H()*perMM)
	if !(wpx >= 1 && hpx >= 1) || wpx*hpx > maxPixels {
		return unit.Fault{Code: CodePictureTooLarge, Args: []unit.Arg{unit.A("pixels", wpx*hpx/1e6), unit.A("most", maxPixels/1e6)}}
	}
	width, height := int(wpx), int(hpx)
	enc, err := newPNGWriter(w, width, height, dpi)
	if err != nil {
		return err
	}
	band := image.NewRGBA(image.Rect(0, 0, width, min(bandRows, height)))
	for y := 0; y < height; y += bandRows {
		rows := min(bandRows, height-y)
		part := band.SubImage(image.Rect(0, 0, width, rows)).(*image.RGBA)
		raster.Clear(part, drawing.Paper, p)
		raster.Render(part, page, raster.Transform{
			Scale: perMM, X: -page.Bounds.Min.X * perMM, Y: hpx + page.Bounds.Min.Y*perMM - float64(y), Paper: perMM,
		}, p)
		if err := enc.rows(part); err != nil {
			return err
		}
	}
	return enc.close()
}

// pngWriter writes an opaque picture row by row as a PNG file of 8-bit RGB
// (PNG specification, third edition, W3C 2025; chunks in section 11, filters
// in section 9). Every row is stored as its difference to the row above, which
// suits drawings with large even areas.
type pngWriter struct {
	out   io.Writer
	buf   *bufio.Writer
	z     *zlib.Writer
	above []byte
	row   []byte
}

func newPNGWriter(out io.Writer, width, height int, dpi float64) (*pngWriter, error) {
	p := &pngWriter{out: out, above: make([]byte, 3*width), row: make([]byte, 1+3*width)}
	if _, err := io.WriteString(out, "\x89PNG\r\n\x1a\n"); err != nil {
		return nil, err
	}
	head := binary.BigEndian.AppendUint32(nil, uint32(width))
	head = binary.BigEndian.AppendUint32(head, uint32(height))
	head = append(head, 8, 2, 0, 0, 0) // 8 bits, RGB, deflate, adaptive filters, not interlaced
	if err := p.chunk("IHDR", head); err != nil {
		return nil, err
	}
	perMetre := uint32(math.Round(dpi / 0.0254))
	phys := binary.BigEndian.AppendUint32(nil, perMetre)
	phys = append(binary.BigEndian.AppendUint32(phys, perMetre), 1) // unit: metre
	if err := p.chunk("pHYs", phys); err != nil {
		return nil, err
	}
	p.buf = bufio.NewWriterSize(idat{p}, 1<<15)
	z, err := zlib.NewWriterLevel(p.buf, zlib.BestSpeed)
	p.z = z
	return p, err
}

// idat passes compressed bytes on as chunks.
type idat struct{ p *pngWriter }

func (i idat) Write(b []byte) (int, error) {
	if err := i.p.chunk("IDAT", b); err != nil {
		return 0, err
	}
	return len(b), nil
}

func (p *pngWriter) chunk(name string, data []byte) error {
	head := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	head = append(head, name...)
	sum := crc32.Update(crc32.ChecksumIEEE(head[4:]), crc32.IEEETable, data)
	for _, b := range [][]byte{head, data, binary.BigEndian.AppendUint32(nil, sum)} {
		if _, err := p.out.Write(b); err != nil {
			return err
		}
	}
	return nil
}

// rows adds the rows of a band; its width is that of the picture.
func (p *pngWriter) rows(img *image.RGBA) error {
	const up = 2 // the filter: difference to the byte above
	for y := range img.Rect.Dy() {
		src := img.Pix[y*img.Stride:]
		p.row[0] = up
		for x, o := 0, 0; o < len(p.above); x, o = x+4, o+3 {
			r, g, b := src[x], src[x+1], src[x+2]
			p.row[1+o], p.row[2+o], p.row[3+o] = r-p.above[o], g-p.above[o+1], b-p.above[o+2]
			p.above[o], p.above[o+1], p.above[o+2] = r, g, b
		}
		if _, err := p.z.Write(p.row); err != nil {
			return err
		}
	}
	return nil
}

func (p *pngWriter) close() error {
	if err := p.z.Close(); err != nil {
		return err
	}
	if err := p.buf.Flush(); err != nil {
		return err
	}
	return p.chunk("IEND", nil)
}

// Image writes a finished picture as a PNG of dpi dots an inch, with its true
// physical size.
func Image(w io.Writer, img *image.RGBA, dpi float64) error {
	if img == nil || img.Bounds().Empty() {
		return unit.Fault{Code: CodePictureTooLarge, Args: []unit.Arg{unit.A("pixels", 0.0), unit.A("most", maxPixels/1e6)}}
	}
	b := img.Bounds()
	enc, err := newPNGWriter(w, b.Dx(), b.Dy(), dpi)
	if err != nil {
		return err
	}
	for y := b.Min.Y; y < b.Max.Y; y += bandRows {
		part := img.SubImage(image.Rect(b.Min.X, y, b.Max.X, min(y+bandRows, b.Max.Y))).(*image.RGBA)
		if err := enc.rows(part); err != nil {
			return err
		}
	}
	return enc.close()
}
