package neck

import (
	"fmt"
	"neckloft/neck/spec"
	"testing"
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
