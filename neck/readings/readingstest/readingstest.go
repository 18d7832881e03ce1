package readingstest

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// Known returns an invented neck without heel, headstock or rod, with two
// depth targets and two shapes, to take readings from.
func Known(t testing.TB) *neck.Neck {
	t.Helper()
	s := spec.Defaults()
	s.Name = "known"
	s.Scale = spec.Scale{Length: 636, Frets: 22}
	s.Width = spec.Width{Nut: 42.8, End: 56.2, PastLastFret: 9.5}
	s.Board = spec.Board{Thickness: 5.6, RadiusNut: 305, RadiusEnd: 406}
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 20.6}, {At: spec.AtFret(12), Total: 22.4}}
	s.Profile = []spec.ProfileStation{
		{At: spec.AtFret(1), Bass: 2.0, Treble: 1.9, Apex: -0.5},
		{At: spec.AtFret(12), Bass: 2.5, Treble: 2.2, Apex: -1},
	}
	s.Wall = 1.2
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// Bench is a builder with instruments: readings of a neck, with normal errors
// of `noise` times their standard deviation.
type Bench struct {
	n     *neck.Neck
	rng   *rand.Rand
	noise float64
	Set   *readings.Set
}

func NewBench(n *neck.Neck, seed uint64, noise float64) *Bench {
	s := n.Spec()
	return &Bench{n, rand.New(rand.NewPCG(seed, 7)), noise, &readings.Set{
		File: "readings.csv", Units: s.Units,
		Scale: s.Scale.Length, Frets: s.Scale.Frets, BoardEnd: s.BoardEnd(),
	}}
}

func (b *Bench) Add(k readings.Kind, at spec.Place, y, value float64) {
	r := readings.Reading{Kind: k, At: at, Placed: k.Placed(), Y: y, Sigma: k.Sigma(), Line: len(b.Set.Readings) + 2}
	r.Value = value + b.noise*r.Sigma*b.rng.NormFloat64()
	b.Set.Readings = append(b.Set.Readings, r)
}

func (b *Bench) Total(fret float64) {
	at := spec.AtFret(fret)
	b.Add(readings.Total, at, 0, b.n.Total(b.n.Spec().X(at)))
}

func (b *Bench) Width(fret float64) {
	at := spec.AtFret(fret)
	b.Add(readings.Width, at, 0, b.n.Width(b.n.Spec().X(at)))
}

func (b *Bench) Girth(fret float64) {
	at := spec.AtFret(fret)
	s := b.n.Section(b.n.Spec().X(at))
	b.Add(readings.Girth, at, 0, s.Girth())
}

func (b *Bench) Board() { b.Add(readings.BoardAt, spec.Place{}, 0, b.n.Spec().Board.Thickness) }

// Contour adds n points spread evenly over the directions of the surface. The
// error of a contour gauge is square to the surface.
func (b *Bench) Contour(fret float64, n int) {
	at := spec.AtFret(fret)
	s := b.n.Section(b.n.Spec().X(at))
	for i := range n {
		a := math.Pi * (float64(i) + 0.5) / float64(n)
		side := neck.MinusY
		if a > math.Pi/2 {
			side, a = neck.PlusY, math.Pi-a
		}
		q := s.Point(side, a)
		e := b.noise * readings.Point.Sigma() * b.rng.NormFloat64()
		q.Y += side.Sign() * math.Cos(a) * e
		q.Z -= math.Sin(a) * e
		b.Set.Readings = append(b.Set.Readings, readings.Reading{Kind: readings.Point, At: at, Placed: true, Y: q.Y, Value: -q.Z, Sigma: readings.Point.Sigma(), Line: len(b.Set.Readings) + 2})
	}
}

// Whole takes about 60 readings of all kinds.
func Whole(n *neck.Neck, seed uint64, noise float64) *readings.Set {
	b := NewBench(n, seed, noise)
	b.Board()
	for _, f := range []float64{0, 5, 12, 22} {
		b.Width(f)
	}
	for _, f := range []float64{1, 3, 5, 7, 9, 12} {
		b.Total(f)
	}
	b.Girth(1)
	b.Girth(7)
	b.Girth(12)
	b.Contour(1, 16)
	b.Contour(7, 15)
	b.Contour(12, 16)
	return b.Set
}

// FarApex returns an invented neck whose deepest line runs far on the treble
// side, or, with mirrored, on the bass side.
func FarApex(t testing.TB, mirrored bool) *neck.Neck {
	t.Helper()
	profile := "bass = 1.4\ntreble = 2.6\napex = 9\n"
	if mirrored {
		profile = "bass = 2.6\ntreble = 1.4\napex = -9\n"
	}
	s, err := spec.Read(strings.NewReader(`[scale]
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

// ReadingsOf reads readings from text.
func ReadingsOf(t testing.TB, text string) *readings.Set {
	t.Helper()
	set, err := readings.Read(strings.NewReader("kind,station,y_mm,value_mm\n"+text), "readings.csv")
	require.NoError(t, err)
	return set
}
