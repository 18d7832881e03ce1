package render

import (
	"fmt"
	"maps"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// testNecks returns the demo neck, those of the spec files and some that are
// hard to draw: the same to every test.
func testNecks(t *testing.T) map[string]*neck.Neck {
	t.Helper()
	necks, err := hardNecks()
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(necks), 7+len(extremes))
	return maps.Clone(necks)
}

// fewNecks is how many of the test necks a costly test takes without all cases.
const fewNecks = 6

var hardNecks = sync.OnceValues(func() (map[string]*neck.Neck, error) {
	specs := map[string]*spec.Spec{"demo": spec.Demo()}
	files, err := filepath.Glob("../testdata/specs/*.toml")
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		s, err := spec.ReadFile(f)
		if err != nil {
			return nil, err
		}
		specs[strings.TrimSuffix(filepath.Base(f), ".toml")] = s
	}
	for name, change := range extremes {
		s := spec.Demo()
		change(s)
		specs[name] = s
	}
	necks := map[string]*neck.Neck{}
	for name, s := range specs {
		if necks[name], err = neck.New(s); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return necks, nil
})

// extremes are necks that nobody would build, made from the demo.
var extremes = map[string]func(*spec.Spec){
	"long and thin": func(s *spec.Spec) {
		bare(s)
		s.Scale.Length, s.Width.Nut, s.Width.End = 2400, 20, 22
		s.Width.PastLastFret = 10
		s.Board.RadiusNut, s.Board.RadiusEnd = 0, 0
	},
	"short and wide": func(s *spec.Spec) {
		bare(s)
		s.Scale = spec.Scale{Length: 100, Frets: 5}
		s.Width = spec.Width{Nut: 150, End: 160, PastLastFret: 4}
		s.Board.RadiusNut, s.Board.RadiusEnd = 0, 0
		s.Depth = s.Depth[:1]
	},
	"deep": func(s *spec.Spec) {
		bare(s)
		s.Scale = spec.Scale{Length: 300, Frets: 12}
		s.Board.RadiusNut, s.Board.RadiusEnd = 0, 0
		s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 90}, {At: spec.AtFret(7), Total: 110}}
	},
	"many targets": func(s *spec.Spec) {
		bare(s)
		s.Depth = nil
		for i := range 22 {
			s.Depth = append(s.Depth, spec.DepthTarget{At: spec.AtFret(float64(i + 1)), Total: 20.64 + 0.11*float64(i)})
		}
	},
	"crowded": func(s *spec.Spec) {
		bare(s)
		s.Depth = nil
		for i := range 44 {
			s.Depth = append(s.Depth, spec.DepthTarget{At: spec.AtFret(float64(i+1) / 2), Total: 20.64 + 0.03*float64(i)})
		}
	},
	"close targets": func(s *spec.Spec) {
		s.Depth = []spec.DepthTarget{
			{At: spec.AtFret(11), Total: 22.31}, {At: spec.AtX(302), Total: 22.32},
			{At: spec.AtX(305.25), Total: 22.33}, {At: spec.AtFret(12), Total: 22.34},
		}
	},
	"one fret": func(s *spec.Spec) {
		bare(s)
		s.Scale.Frets = 1
		s.Depth = []spec.DepthTarget{{At: spec.AtFret(0.5), Total: 22}}
		s.Width.End = 43
		s.Name = "A neck whose name is so very long that no narrow sheet could hold the whole of it"
	},
	"fifty frets": func(s *spec.Spec) {
		bare(s)
		s.Scale.Frets = 50
	},
	"leaning": func(s *spec.Spec) {
		for i := range s.Profile {
			s.Profile[i].Apex = -14
			s.Profile[i].Bass, s.Profile[i].Treble = 1.2, 12
		}
		s.Wall = 0
	},
	"inches": func(s *spec.Spec) { s.Units = spec.Inch },
}

// bare takes away all that a neck can do without.
func bare(s *spec.Spec) {
	s.Rod, s.Volute, s.Headstock, s.Heel, s.Blank, s.Strings = nil, nil, nil, nil, nil, nil
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(0), Bass: 2, Treble: 2}}
}
