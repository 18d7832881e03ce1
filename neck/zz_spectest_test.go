package neck

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawSpec draws a spec that may or may not be buildable: necks of every size
// that a builder may bring, from a toy 10 mm wide to a bass, with features
// left out at random.
func drawSpec(t *rapid.T) *Spec {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	yes := func(label string) bool { return rapid.Bool().Draw(t, label) }

	s := &Spec{Name: "drawn", Limits: Limits{Cover: 2}, Wood: Wood{Species: "sugar maple"}}
	if yes("inches") {
		s.Units = Inch
	}
	kind := rapid.SampledFrom([]string{"guitar", "bass", "toy", "small"}).Draw(t, "kind")
	size := 1.0
	switch kind {
	case "guitar":
		s.Scale = Scale{f(600, 680, "scale"), rapid.IntRange(19, 24).Draw(t, "frets")}
		s.Width = Width{Nut: f(40, 54, "nut"), PastLastFret: f(1, 15, "past")}
	case "bass":
		s.Scale = Scale{f(760, 900, "scale"), rapid.IntRange(20, 24).Draw(t, "frets")}
		s.Width = Width{Nut: f(38, 60, "nut"), PastLastFret: f(1, 15, "past")}
	case "toy":
		size = 0.25
		s.Scale = Scale{f(150, 200, "scale"), rapid.IntRange(8, 16).Draw(t, "frets")}
		s.Width = Width{Nut: f(8, 12, "nut"), PastLastFret: f(1, 4, "past")}
	case "small":
		size = 0.7
		s.Scale = Scale{f(330, 450, "scale"), rapid.IntRange(12, 18).Draw(t, "frets")}
		s.Width = Width{Nut: f(28, 38, "nut"), PastLastFret: f(1, 8, "past")}
	}
	s.Width.End = s.Width.Nut * f(1.0, 1.45, "taper")
	s.Board.Thickness = f(4, 7, "board") * math.Sqrt(size)
	if yes("radiused") {
		s.Board.RadiusNut = s.Width.Nut * f(4, 9, "radius nut")
		s.Board.RadiusEnd = s.Width.End * f(4, 12, "radius end")
	}
	if yes("wall") {
		s.Wall = f(0, 2.5, "wall height") * size
	}
	total := func(label string) float64 { return s.Board.Thickness + f(9, 20, label)*math.Sqrt(size) }
	first := f(0.5, 2, "first")
	s.Depth = []DepthTarget{{At: AtFret(first), Total: total("total 1")}}
	if yes("more depths") {
		for i, fr := range []float64{4.5, 7}[:rapid.IntRange(1, 2).Draw(t, "targets")] {
			s.Depth = append(s.Depth, DepthTarget{At: AtFret(fr), Total: s.Depth[i].Total + f(-0.8, 1.2, "rise")*size})
		}
	}
	for _, fr := range []float64{0, 5, 8}[:rapid.IntRange(1, 3).Draw(t, "profiles")] {
		a := s.Width.Nut / 2
		p := ProfileStation{At: AtFret(fr), Bass: drawFullness(t), Treble: drawFullness(t)}
		if yes("lopsided") {
			p.Apex = a * f(-0.5, 0.5, "apex")
		}
		s.Profile = append(s.Profile, p)
	}
	end := s.BoardEnd()
	if yes("heel") {
		h := &Heel{
			Start:  AtX(end * f(0.72, 0.8, "heel start")),
			Full:   AtX(end * f(0.86, 0.93, "heel full")),
			End:    AtX(end * f(0.95, 1.06, "heel end")),
			Total:  s.Board.Thickness + f(12, 26, "heel total")*math.Sqrt(size),
			Width:  s.Width.End * f(0.85, 1.2, "heel width"),
			Corner: f(0.5, 6, "heel corner") * size,
		}
		if yes("heel as wide as the board") {
			h.Width = s.Width.End
		}
		if yes("heel ends with the board") {
			h.End = AtX(end)
		}
		s.Heel = h
	}
	if yes("headstock") {
		h := &Headstock{
			Thickness: f(11, 18, "headstock thickness") * math.Sqrt(size),
			Length:    f(90, 220, "headstock length") * math.Sqrt(size),
			Width:     s.Width.Nut * f(0.9, 2.2, "headstock width"),
			Shelf:     f(2, 8, "shelf"),
			Corner:    f(0.3, 2.5, "headstock corner") * size,
		}
		if yes("flat") {
			h.Step = f(3, 9, "step") * size
			h.Cove = h.Step * f(1, 4, "cove")
		} else {
			h.Angle = f(3, 17, "angle") * math.Pi / 180
		}
		s.Headstock = h
		if yes("volute") {
			s.Volute = &Volute{Rise: f(0.5, 6, "rise") * size, Centre: AtX(f(-25, -8, "crest")), Length: f(10, 45, "volute length")}
		}
	}
	if yes("rod") {
		r := &Rod{
			Width: s.Width.Nut * f(0.08, 0.2, "rod width"),
			From:  AtX(f(0, 10, "rod from")),
			To:    AtX(end * f(0.6, 1, "rod to")),
		}
		r.Depth = (s.Depth[0].Total - s.Board.Thickness) * f(0.3, 0.75, "rod depth")
		if yes("round floor") {
			r.Floor = FloorRound
		}
		s.Rod = r
	}
	return s
}

// drawFullness favours the shapes that builders name, and reaches to the
// extremes.
func drawFullness(t *rapid.T) float64 {
	if rapid.Bool().Draw(t, "named shape") {
		return rapid.SampledFrom(Shapes()).Draw(t, "shape").Fullness
	}
	return rapid.Float64Range(1.15, 6).Draw(t, "fullness")
}

// straightNeck returns a straight, untapered spec without volute, heel, headstock or
// channel: half an elliptic cylinder under a flat board.
func straightNeck() *Spec {
	return &Spec{
		Name:    "plain",
		Scale:   Scale{Length: 600, Frets: 12},
		Width:   Width{Nut: 44, End: 44, PastLastFret: 20},
		Board:   Board{Thickness: 6},
		Depth:   []DepthTarget{{At: AtFret(1), Total: 21}},
		Profile: []ProfileStation{{At: AtFret(0), Bass: 2, Treble: 2}},
		Wood:    Wood{Species: "sugar maple"},
	}
}

// specFiles returns the starter and every spec of testdata.
func specFiles(t testing.TB) []string {
	paths, err := filepath.Glob("../testdata/specs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	texts := []string{Starter()}
	for _, p := range paths {
		b, err := os.ReadFile(p)
		require.NoError(t, err)
		texts = append(texts, string(b))
	}
	return texts
}

// edgeCases are specs that a random draw meets seldom.
func edgeCases() map[string]*Spec {
	change := func(f func(s *Spec)) *Spec {
		s := Demo()
		f(s)
		return s
	}
	return map[string]*Spec{
		"demo":               Demo(),
		"straight":           straightNeck(),
		"no headstock":       change(func(s *Spec) { s.Headstock, s.Volute = nil, nil }),
		"no heel":            change(func(s *Spec) { s.Heel = nil }),
		"no rod":             change(func(s *Spec) { s.Rod = nil }),
		"channel from shelf": change(func(s *Spec) { s.Rod.From = AtX(-5) }),
		"channel through":    change(func(s *Spec) { s.Rod.To = s.Heel.End }),
		"channel at nut":     change(func(s *Spec) { s.Rod.From = AtX(0) }),
		"channel to board":   change(func(s *Spec) { s.Rod.To = AtX(s.BoardEnd()) }),
		"round floor":        change(func(s *Spec) { s.Rod.Floor = FloorRound }),
		"heel under board":   change(func(s *Spec) { s.Heel.End = AtX(450) }),
		"heel at board end":  change(func(s *Spec) { s.Heel.End = AtX(s.BoardEnd()) }),
		"narrow heel":        change(func(s *Spec) { s.Heel.Width = 50 }),
		"wide heel":          change(func(s *Spec) { s.Heel.Width = 64 }),
		"heel width crosses": change(func(s *Spec) { s.Heel.Width = 55.5 }),
		"long heel":          change(func(s *Spec) { s.Heel.End = AtX(520) }),
		"shape flips": change(func(s *Spec) {
			s.Profile = []ProfileStation{
				{At: AtFret(3), Bass: 24, Treble: 1.06, Apex: -9},
				{At: AtFret(5), Bass: 1.06, Treble: 24, Apex: 9},
			}
		}),
		"no wall": change(func(s *Spec) { s.Wall = 0 }),
		"flat headstock": change(func(s *Spec) {
			s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 6.5, 15
		}),
		"no rod, open end, no headstock": change(func(s *Spec) {
			s.Headstock, s.Volute, s.Heel = nil, nil, nil
			s.Rod.From, s.Rod.To = AtX(0), AtX(s.BoardEnd())
		}),
	}
}

// withChecks runs a property as many times as given, unless the command line
// asks for another number.
func withChecks(t *testing.T, checks int, prop func(*rapid.T)) {
	t.Helper()
	if testing.Short() {
		checks /= 10
	}
	f := flag.Lookup("rapid.checks")
	old := f.Value.String()
	if old == f.DefValue {
		require.NoError(t, flag.Set("rapid.checks", fmt.Sprint(checks)))
		defer flag.Set("rapid.checks", old)
	}
	rapid.Check(t, prop)
}
