package live_test

import (
	"testing"

	"neckloft/neck/spec"
)

// BenchmarkModel is what the program does for one move of a control: read,
// edit, check, mesh at 0.1 mm and draw. Each move is of another text.
func BenchmarkModel(b *testing.B) {
	s := serve(b, nil)
	i := 0
	for b.Loop() {
		i++
		w := s.ask("model", map[string]any{"text": spec.Starter(), "x": 40, "edits": []any{
			map[string]any{"op": "set", "path": "depth[1].total", "value": 20.6 + float64(i%1000)/1000},
		}})
		if w.Code != 200 {
			b.Fatal(w.Body)
		}
	}
}
