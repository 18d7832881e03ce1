package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/render/live"
)

// downloaded returns what the live page hands out in one file of a spec, with
// their names.
func downloaded(t *testing.T, text string) map[string][]byte {
	opts, err := (&program{in: strings.NewReader(text), err: io.Discard}).liveOptions([]string{"-"})
	require.NoError(t, err)
	opts.Folder = t.TempDir()
	s, err := live.New(opts)
	require.NoError(t, err)
	defer s.Close()
	l, err := live.Listen(0)
	require.NoError(t, err)
	address := l.Addr().String()
	_, token, _ := strings.Cut(s.URL(l), "#")
	require.NoError(t, l.Close())
	body, err := json.Marshal(map[string]string{"text": text, "name": "all.zip"})
	require.NoError(t, err)
	r := httptest.NewRequest(http.MethodPost, "http://"+address+"/api/make", bytes.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("X-Neckloft-Token", token)
	w := httptest.NewRecorder()
	s.Handler(address).ServeHTTP(w, r)
	require.Equal(t, http.StatusOK, w.Code, "%.300s", w.Body)
	z, err := zip.NewReader(bytes.NewReader(w.Body.Bytes()), int64(w.Body.Len()))
	require.NoError(t, err)
	out := map[string][]byte{}
	for _, f := range z.File {
		in, err := f.Open()
		require.NoError(t, err)
		out[f.Name], err = io.ReadAll(in)
		require.NoError(t, err)
	}
	return out
}

// TestDownloadIsWhatMakeWrites compares every byte of both for a plan that is refused
// and for a blank that is too thin, and with DRAWN=all for every third of the specs.
func TestDownloadIsWhatMakeWrites(t *testing.T) {
	change := func(old, new string) string {
		text := strings.Replace(spec.Starter(), old, new, 1)
		require.NotEqual(t, spec.Starter(), text)
		return text
	}
	type sample struct {
		text          string
		code          int
		says, missing string
	}
	texts := map[string]sample{
		"refused":    {change("cover = 4.0 ", "cover = 5.45 "), exitFailed, "**Refused: do not cut by it.**", ""},
		"thin blank": {change("thickness = 32", "thickness = 16"), exitDone, "plan.pdf is missing: ", "plan.pdf"},
	}
	paths, err := filepath.Glob("../../testdata/specs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for i, f := range paths {
		if i%3 != 0 || !drawn.All() {
			continue // TestEverySpecOfTestdataIsMade makes them
		}
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		texts[filepath.Base(f)] = sample{text: string(text), code: -1}
	}
	for name, c := range texts {
		t.Run(name, func(t *testing.T) {
			r := made(t, c.text)
			if c.code >= 0 {
				require.Equal(t, c.code, r.code, r.err)
			}
			got := downloaded(t, c.text)
			want := filesIn(t, r.dir)
			assert.Len(t, got, len(want))
			for name, data := range want {
				if name == "index.md" {
					assert.Equal(t, data, string(got[name]))
				}
				assert.True(t, data == string(got[name]), name)
			}
			assert.Contains(t, string(got["index.md"]), c.says)
			if c.missing != "" {
				assert.NotContains(t, got, c.missing)
			}
		})
	}
}
