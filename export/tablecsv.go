package export

import (
	"bytes"
	"encoding/csv"

	"neckloft/neck/spec"
)

// csv returns the table as RFC 4180 has it, with a header and in UTF-8, but
// with lines ended by LF alone, which the tools of a command line expect and
// spreadsheets take as well.
func (t *Table) csv(unit spec.Unit) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	record := make([]string, len(t.Columns))
	for i := range t.Columns {
		record[i] = t.Columns[i].key(unit)
	}
	w.Write(record)
	for _, row := range t.Rows {
		for i, cell := range row {
			switch {
			case !cell.filled:
				record[i] = ""
			case cell.number:
				record[i] = t.Columns[i].number(cell.value, unit, 3)
			default:
				record[i] = cell.text
			}
		}
		w.Write(record)
	}
	w.Flush() // into memory, which does not fail
	return b.Bytes()
}
