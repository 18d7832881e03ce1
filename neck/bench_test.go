package neck

import (
	"fmt"
	"testing"

	"neckloft/mesh/meshtest"
	"neckloft/neck/spec"
)

func benchmarkLoft(b *testing.B, part Part, tolerance float64) {
	n, err := New(spec.Demo())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	triangles := 0
	for b.Loop() {
		m, err := n.Solid(part, tolerance)
		if err != nil {
			b.Fatal(err)
		}
		triangles = len(m.Faces)
	}
	b.ReportMetric(float64(triangles), "triangles")
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(triangles), "ns/triangle")
}

// BenchmarkLoft lofts the demo neck's wood at falling tolerances; the time a
// triangle should stay level.
func BenchmarkLoft(b *testing.B) {
	for _, tol := range []float64{0.1, 0.02, 0.005, 0.002, 0.0005} {
		b.Run(fmt.Sprintf("wood/%gmm", tol), func(b *testing.B) { benchmarkLoft(b, PartWood, tol) })
	}
	b.Run("both/0.02mm", func(b *testing.B) { benchmarkLoft(b, PartBoth, 0.02) })
}

func BenchmarkStations(b *testing.B) {
	n, err := New(spec.Demo())
	if err != nil {
		b.Fatal(err)
	}
	places := n.Spec().FretPlaces()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := n.Stations(places); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCheck(b *testing.B) {
	s := spec.Demo()
	for b.Loop() {
		if _, p := Check(s); p.Err() != nil {
			b.Fatal(p)
		}
	}
}

// BenchmarkCut takes twelve cutters from the demo neck's wood at 0.02 mm: six
// holes through the headstock, a channel and two slots beside each other, the
// heel's end and its sides.
func BenchmarkCut(b *testing.B) {
	n, err := New(spec.Demo())
	if err != nil {
		b.Fatal(err)
	}
	m, err := n.Solid(PartWood, 0.02)
	if err != nil {
		b.Fatal(err)
	}
	var list []cutter
	for i := range 6 {
		hole := meshtest.Moved(meshtest.Bar(48, 4.6, -60, 30), n.start+20+20*float64(i), float64(i%2)*20-10, 0)
		list = append(list, cutter{"a hole", hole})
	}
	for _, y := range []float64{-14, 10} {
		list = append(list, cutter{"a channel", tilted(block(20, y, -6, 150, y+4, 10), 20, 0, 0.003)})
	}
	list = append(list,
		cutter{"a pocket", block(320, -11, -5, 360, 11, 9)},
		cutter{"the end", tilted(block(n.end-2, -60, -60, n.end+20, 60, 30), n.end, 0, -0.05)},
		cutter{"the treble flat", block(n.end-30.3, 20, -61, n.end+21, 61, 31)},
		cutter{"the bass flat", block(n.end-30.3, -61, -61, n.end+21, -20, 31)})
	b.Run("cut", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := takeOut(m, list, Cutting(DefaultTolerance)); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("validate", func(b *testing.B) {
		for b.Loop() {
			if err := m.Validate(); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("loft", func(b *testing.B) { benchmarkLoft(b, PartWood, 0.02) })
}
