package live_test

import (
	"context"
	"encoding/json"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/export/bench"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/live"
)

// TestEngineKeeps asks for a neck, another one and the first again, and for its
// files and pictures at the same time: the answers are the same, and what is made of
// each neck is computed once.
func TestEngineKeeps(t *testing.T) {
	var mu sync.Mutex
	made := map[string]int{}
	e := live.NewEngine(live.Options{Bench: func(n *neck.Neck, p spec.Problems) *bench.Set {
		mu.Lock()
		defer mu.Unlock()
		made[n.Spec().Hash()]++
		return bench.New(n, p)
	}})
	ask := func(name, text, file string, fine bool) string {
		data, err := json.Marshal(map[string]any{"text": text, "x": 40.0, "name": file, "fine": fine})
		require.NoError(t, err)
		r := e.Answer(context.Background(), name, data)
		require.Equal(t, 200, r.Status, "%s", r.Data)
		return string(r.Data)
	}
	first := spec.Starter()
	other := strings.Replace(first, "nut = 42.8", "nut = 43.8", 1)
	require.NotEqual(t, first, other)
	coarse, fine := ask("model", first, "", false), ask("model", first, "", true)
	require.NotEqual(t, coarse, fine)
	ask("model", other, "", true)
	require.Equal(t, coarse, ask("model", first, "", false))
	require.Equal(t, fine, ask("model", first, "", true))
	var wg sync.WaitGroup
	for _, name := range []string{"plan-1", "sheet-top"} {
		wg.Go(func() { ask("picture", first, name, false) })
	}
	wg.Go(func() { require.Equal(t, fine, ask("model", first, "", true)) })
	wg.Wait()
	require.Len(t, made, 2)
	for hash, times := range made {
		require.Equal(t, 1, times, hash)
	}
}
