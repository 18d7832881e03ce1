package main

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"github.com/spf13/pflag"

	"neckloft/neck/spec"
)

// lengthSlip says what to type where a length has a comma for its decimal point,
// or is in centimetres, or returns "".
func lengthSlip(text string, bare spec.Unit) string {
	dotted := strings.Replace(text, ",", ".", 1)
	if rest, ok := strings.CutSuffix(dotted, "cm"); ok {
		v, err := spec.ParseLength(strings.TrimSpace(rest), spec.Millimetre)
		if err != nil {
			return ""
		}
		return fmt.Sprintf("%q is in centimetres, which are not read; type %smm", text, spec.Number(10*v, 6))
	}
	if _, err := spec.ParseLength(dotted, bare); err != nil || dotted == text {
		return ""
	}
	return fmt.Sprintf("%q has a decimal comma, and the decimal point is a dot here; type %s", text, dotted)
}

// listComma says what to type where two neighbours of a list are the halves of a
// distance with a decimal comma, or returns "".
func listComma(items []string, i int, bare spec.Unit) string {
	for k := max(0, i-1); k <= i && k+1 < len(items); k++ {
		whole, part := strings.TrimSpace(items[k]), items[k+1]
		if !strings.Contains(whole, "=") || part == "" || part[0] < '0' || part[0] > '9' {
			continue
		}
		if _, err := spec.ParsePlace(whole+"."+part, bare); err == nil {
			return fmt.Sprintf("a comma parts stations, and the decimal point is a dot; if \"%s,%s\" is one distance, type %s.%s", whole, part, whole, part)
		}
	}
	return ""
}

// decimalNumber is a number with a decimal comma.
var decimalNumber = regexp.MustCompile(`^[+-]?\d+,\d+$`)

// commaHint says what to type where a flag that is a plain number has a decimal
// comma, or returns "".
func commaHint(err error) string {
	var invalid *pflag.InvalidValueError
	if !errors.As(err, &invalid) || invalid.GetFlag().Value.Type() != "float64" || !decimalNumber.MatchString(invalid.GetValue()) {
		return ""
	}
	return fmt.Sprintf(" (the decimal point is a dot: %s)", strings.Replace(invalid.GetValue(), ",", ".", 1))
}
