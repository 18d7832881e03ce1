package render

import (
	"bytes"
	"testing"

	"neckloft/neck"
	"neckloft/neck/spec"
)

func demo(tb testing.TB) *neck.Neck {
	tb.Helper()
	n, err := neck.New(spec.Demo())
	if err != nil {
		tb.Fatal(err)
	}
	return n
}

// BenchmarkPreview draws each view of the demo neck at the default size.
func BenchmarkPreview(b *testing.B) {
	n := demo(b)
	for _, v := range Views() {
		b.Run(v.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Preview(n, Options{View: v}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkWritePNG encodes the sheet.
func BenchmarkWritePNG(b *testing.B) {
	img, err := Preview(demo(b), Options{})
	if err != nil {
		b.Fatal(err)
	}
	var buf bytes.Buffer
	for b.Loop() {
		buf.Reset()
		if err := WritePNG(&buf, img); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(buf.Len()), "bytes")
}
