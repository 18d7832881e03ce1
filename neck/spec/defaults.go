package spec

import (
	"strings"
)

// Defaults returns a spec with what a spec file leaves out at its default.
func Defaults() *Spec {
	s, err := Read(strings.NewReader(`[scale]
length = 640
frets = 22
[width]
nut = 43
end = 56
[board]
thickness = 6
[[depth]]
fret = 1
total = 21
`), "defaults")
	if err != nil {
		panic(err) // the text is read by every test of a fit
	}
	s.Source = nil
	return s
}
