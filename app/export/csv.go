package export

import (
	"encoding/csv"
	"io"
)

// CSV writes a list after RFC 4180: a header line, fields parted by commas,
// lines ended by CR LF, quotes where they are needed, UTF-8.
func CSV(w io.Writer, header []string, rows [][]string) error {
	c := csv.NewWriter(w)
	c.UseCRLF = true
	if err := c.Write(header); err != nil {
		return err
	}
	if err := c.WriteAll(rows); err != nil {
		return err
	}
	return c.Error()
}
