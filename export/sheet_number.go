package export

import (
	"bytes"
	"strconv"

	"neckloft/neck/numeric"
)

// appendFixed appends a coordinate with four decimals, without trailing zeros
// and without a negative zero.
func appendFixed(b []byte, v float64) []byte {
	start := len(b)
	b = strconv.AppendFloat(b, numeric.Steady(v), 'f', 4, 64)
	b = bytes.TrimRight(b, "0")
	b = bytes.TrimSuffix(b, []byte("."))
	if string(b[start:]) == "-0" {
		b = append(b[:start], '0')
	}
	return b
}
