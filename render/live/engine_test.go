package live_test

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
	"neckloft/render/live"
)

// TestEngineAnswers asks the engine as a page without a program does.
func TestEngineAnswers(t *testing.T) {
	e := live.NewEngine(live.Options{Cautions: []string{"Mind the cutter."}})
	ask := func(name string, body any) live.Reply {
		data, err := json.Marshal(body)
		require.NoError(t, err)
		return e.Answer(context.Background(), name, data)
	}
	text := map[string]any{"text": spec.Starter(), "x": 40.0, "name": "stations.csv"}

	r := ask("begin", struct{}{})
	require.Equal(t, 200, r.Status)
	require.Equal(t, "application/json", r.Type)
	require.Contains(t, string(r.Data), "Mind the cutter.")

	r = ask("section", text)
	require.Equal(t, 200, r.Status)
	require.Contains(t, string(r.Data), "40 mm")

	r = ask("make", text)
	require.Equal(t, 200, r.Status)
	require.Equal(t, "application/octet-stream", r.Type)
	require.Contains(t, string(r.Data), "station,x_mm,width_mm")

	r = ask("make", map[string]any{"text": "scale = 1", "name": "stations.csv"})
	require.Equal(t, 422, r.Status)
	require.Contains(t, string(r.Data), "the spec has errors")

	r = ask("make", map[string]any{"text": spec.Starter(), "name": "all.zip", "only": []string{"stations.csv", "index.md", "nothing.pdf"}})
	require.Equal(t, 200, r.Status)
	z, err := zip.NewReader(bytes.NewReader(r.Data), int64(len(r.Data)))
	require.NoError(t, err)
	var names []string
	for _, f := range z.File {
		names = append(names, f.Name)
	}
	require.Equal(t, []string{"stations.csv", "index.md"}, names)

	r = ask("probe", map[string]any{"text": spec.Starter(), "x": 317.8})
	require.Equal(t, 200, r.Status)
	require.Contains(t, string(r.Data), "22.40 mm thick", "at the deepest line, which lies off the middle")

	r = ask("picture", map[string]any{"text": spec.Starter(), "name": "sheet-top"})
	require.Equal(t, 200, r.Status)
	require.Contains(t, string(r.Data), "<svg")
	require.Equal(t, 422, ask("picture", map[string]any{"text": spec.Starter(), "name": "nothing"}).Status)
	require.Equal(t, 422, ask("picture", map[string]any{"text": "scale = 1", "name": "preview"}).Status)

	// What only a program with a folder answers.
	require.Equal(t, 404, ask("save", text).Status)
	require.Equal(t, 400, e.Answer(context.Background(), "model", []byte("{")).Status)
}
