package fit

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
)

// known returns an invented neck without heel, headstock or rod, with two
// depth targets and two shapes, to take readings from.
func known(t testing.TB) *neck.Neck {
	t.Helper()
	s := defaults()
	s.Name = "known"
	s.Scale = neck.Scale{Length: 636, Frets: 22}
	s.Width = neck.Width{Nut: 42.8, End: 56.2, PastLastFret: 9.5}
	s.Board = neck.Board{Thickness: 5.6, RadiusNut: 305, RadiusEnd: 406}
	s.Depth = []neck.DepthTarget{{At: neck.AtFret(1), Total: 20.6}, {At: neck.AtFret(12), Total: 22.4}}
	s.Profile = []neck.ProfileStation{
		{At: neck.AtFret(1), Bass: 2.0, Treble: 1.9, Apex: -0.5},
		{At: neck.AtFret(12), Bass: 2.5, Treble: 2.2, Apex: -1},
	}
	s.Wall = 1.2
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// bench is a builder with instruments: readings of a neck, with normal errors
// of `noise` times their standard deviation.
type bench struct {
	n     *neck.Neck
	rng   *rand.Rand
	noise float64
	set   *Set
}

func newBench(n *neck.Neck, seed uint64, noise float64) *bench {
	s := n.Spec()
	return &bench{n, rand.New(rand.NewPCG(seed, 7)), noise, &Set{
		File: "readings.csv", Units: s.Units,
		Scale: s.Scale.Length, Frets: s.Scale.Frets, BoardEnd: s.BoardEnd(),
	}}
}

func (b *bench) add(k Kind, at neck.Place, y, value float64) {
	r := Reading{Kind: k, At: at, Placed: k.placed(), Y: y, Sigma: k.Sigma(), Line: len(b.set.Readings) + 2}
	r.Value = value + b.noise*r.Sigma*b.rng.NormFloat64()
	b.set.Readings = append(b.set.Readings, r)
}

func (b *bench) total(fret float64) {
	at := neck.AtFret(fret)
	b.add(Total, at, 0, b.n.Total(b.n.Spec().X(at)))
}

func (b *bench) width(fret float64) {
	at := neck.AtFret(fret)
	b.add(Width, at, 0, b.n.Width(b.n.Spec().X(at)))
}

func (b *bench) girth(fret float64) {
	at := neck.AtFret(fret)
	s := b.n.Section(b.n.Spec().X(at))
	b.add(Girth, at, 0, s.Girth())
}

func (b *bench) board() { b.add(BoardAt, neck.Place{}, 0, b.n.Spec().Board.Thickness) }

// contour adds n points spread evenly over the directions of the surface. The
// error of a contour gauge is square to the surface.
func (b *bench) contour(fret float64, n int) {
	at := neck.AtFret(fret)
	s := b.n.Section(b.n.Spec().X(at))
	for i := range n {
		a := math.Pi * (float64(i) + 0.5) / float64(n)
		side := neck.Bass
		if a > math.Pi/2 {
			side, a = neck.Treble, math.Pi-a
		}
		q := s.Point(side, a)
		e := b.noise * Point.Sigma() * b.rng.NormFloat64()
		q.Y += side.Sign() * math.Cos(a) * e
		q.Z -= math.Sin(a) * e
		b.set.Readings = append(b.set.Readings, Reading{Kind: Point, At: at, Placed: true, Y: q.Y, Value: -q.Z, Sigma: Point.Sigma(), Line: len(b.set.Readings) + 2})
	}
}

// whole takes about 60 readings of all kinds.
func whole(n *neck.Neck, seed uint64, noise float64) *Set {
	b := newBench(n, seed, noise)
	b.board()
	for _, f := range []float64{0, 5, 12, 22} {
		b.width(f)
	}
	for _, f := range []float64{1, 3, 5, 7, 9, 12} {
		b.total(f)
	}
	b.girth(1)
	b.girth(7)
	b.girth(12)
	b.contour(1, 16)
	b.contour(7, 15)
	b.contour(12, 16)
	return b.set
}

// farApex returns an invented neck whose deepest line runs far on the treble
// side, or, with mirrored, on the bass side.
func farApex(t testing.TB, mirrored bool) *neck.Neck {
	t.Helper()
	profile := "bass = 1.4\ntreble = 2.6\napex = 9\n"
	if mirrored {
		profile = "bass = 2.6\ntreble = 1.4\napex = -9\n"
	}
	s, err := neck.Read(strings.NewReader(`[scale]
length = 640
frets = 20
[width]
nut = 46
end = 56
[board]
thickness = 5
[[depth]]
fret = 1
total = 22
[[depth]]
fret = 12
total = 24
[[profile]]
fret = 1
`+profile+`[rod]
width = 5
depth = 8
from = { x = 5 }
to = { fret = 14 }
`), "far.toml")
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// readingsOf reads readings from text.
func readingsOf(t testing.TB, text string) *Set {
	t.Helper()
	set, err := Read(strings.NewReader("kind,station,y_mm,value_mm\n"+text), "readings.csv")
	require.NoError(t, err)
	return set
}
