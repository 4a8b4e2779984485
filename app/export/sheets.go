package export

import (
	"fmt"
	"io"

	"slipseat/engine/drawing"
)

// Kind is a kind of file.
type Kind string

// Kinds of files for pages.
const (
	KindPNG Kind = "png"
	KindPDF Kind = "pdf"
	KindSVG Kind = "svg"
)

// PageFiles gives the files for a document of one or more pages under a base
// name such as "cut-sheet-cloth-1": one PDF with all pages, and for pictures
// one file a page, the second and later ones with "-page-2" added. dpi is for
// pictures.
func PageFiles(base, title string, pages []drawing.Drawing, kinds []Kind, dpi float64, p *drawing.Palette) []File {
	var files []File
	for _, kind := range kinds {
		if kind == KindPDF {
			files = append(files, File{base + ".pdf", func(w io.Writer) error {
				return PDF(w, title, []Part{{Pages: pages}}, p)
			}})
			continue
		}
		for i, page := range pages {
			name := base
			if i > 0 {
				name = fmt.Sprintf("%s-page-%d", base, i+1)
			}
			switch kind {
			case KindPNG:
				files = append(files, File{name + ".png", func(w io.Writer) error { return PNG(w, page, dpi, p) }})
			case KindSVG:
				files = append(files, File{name + ".svg", func(w io.Writer) error { return SVG(w, page, title, p) }})
			}
		}
	}
	return files
}
