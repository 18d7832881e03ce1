package export

import (
	"bytes"
	"encoding/json"

	"neckloft/neck/spec"
)

// json returns the table as an array with one object a row, a line each, its
// keys in the order of the columns.
func (t *Table) json(unit spec.Unit) []byte {
	keys := make([]string, len(t.Columns))
	for i := range t.Columns {
		keys[i] = quoteJSON(t.Columns[i].key(unit))
	}
	var b bytes.Buffer
	b.WriteByte('[')
	for n, row := range t.Rows {
		if n > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n  {")
		for i, cell := range row {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(keys[i] + ": ")
			switch {
			case !cell.filled:
				b.WriteString("null")
			case cell.number:
				b.WriteString(t.Columns[i].number(cell.value, unit, 3))
			default:
				b.WriteString(quoteJSON(cell.text))
			}
		}
		b.WriteByte('}')
	}
	if len(t.Rows) > 0 {
		b.WriteByte('\n')
	}
	b.WriteString("]\n")
	return b.Bytes()
}

// quoteJSON returns s as a JSON string.
func quoteJSON(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // no page will hold it, and a reader may be a person
	e.Encode(s)            // a string into memory does not fail
	return string(bytes.TrimSuffix(b.Bytes(), []byte("\n")))
}
