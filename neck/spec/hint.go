package spec

import (
	"regexp"
	"strings"

	"github.com/agnivade/levenshtein"
)

// keyLine is a line that sets a key, as far as it can be told from a line that
// does not parse.
var keyLine = regexp.MustCompile(`^([A-Za-z0-9_-]+)\s*=\s*(.*)$`)

// slips are the usual slips in a value, tried in order.
var slips = []struct {
	pattern *regexp.Regexp
	hint    string
}{
	{regexp.MustCompile(`^[+-]?\d+,\d+\s*(#.*)?$`), "write the decimal point as a dot, such as 42.8"},
	{regexp.MustCompile(`^[+-]?[\d.]+\s*(mm|in|"|inch|inches)\s*(#.*)?$`), `write the number alone, in the unit of the whole file, which is the key units; or in double quotes with its unit, such as "25.4mm"`},
	{regexp.MustCompile(`^[+-]?[\d.]+\s*(deg|degrees|°)\s*(#.*)?$`), "write the number alone; angles are in degrees"},
	{regexp.MustCompile(`^[+-]?(\d+(\s+|-))?\d+/\d+\s*(in|"|inch|inches)?\s*(#.*)?$`), `write a fraction in double quotes with its unit, such as "1-5/8in", or as a decimal number, such as 1.625`},
	{regexp.MustCompile(`^[+-]?\.\d`), "write a zero before the decimal point, such as 0.5"},
	{regexp.MustCompile(`^[+-]?\d+\.\s*(#.*)?$`), "write a digit after the decimal point, such as 5.0"},
	{regexp.MustCompile(`^[+-]?0\d`), "write the number without leading zeros"},
	{regexp.MustCompile(`^[A-Za-z][A-Za-z -]*(#.*)?$`), `write text in double quotes, such as "mm"`},
	{regexp.MustCompile(`^(#.*)?$`), "the value is missing"},
}

// syntaxHint guesses the key of a line that is not valid TOML, and what its
// writer should have written; either is "" if it cannot be told.
func syntaxHint(line string) (key, hint string) {
	m := keyLine.FindStringSubmatch(line)
	if m == nil {
		if strings.Contains(line, ":") && !strings.Contains(line, "=") {
			return "", "a key and its value are written with an equals sign, such as length = 636"
		}
		return "", ""
	}
	for _, s := range slips {
		if s.pattern.MatchString(m[2]) {
			return m[1], s.hint
		}
	}
	return m[1], ""
}

// nearest returns the allowed word that name is most likely a slip for, or "".
func nearest(name string, allowed []string) string {
	if len(name) > 40 {
		return ""
	}
	name = strings.ToLower(name)
	best, least := "", 2+len(name)/5
	for _, word := range allowed {
		if d := levenshtein.ComputeDistance(name, strings.ToLower(word)); d < least && d < len(name) {
			best, least = word, d
		}
	}
	if best != "" {
		return best
	}
	for _, word := range allowed {
		if len(name) >= 3 && (strings.HasPrefix(word, name) || strings.HasPrefix(name, word)) {
			return word
		}
	}
	return ""
}
