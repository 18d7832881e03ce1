package live_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/export/bench"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/live"
)

const address = "127.0.0.1:4711"

// served is a server whose handler is asked directly.
type served struct {
	t       testing.TB
	handler http.Handler
	token   string
	dir     string
}

func serve(t testing.TB, sets func(*neck.Neck, spec.Problems) *bench.Set) *served {
	dir := t.TempDir()
	file := filepath.Join(dir, "tern.toml")
	require.NoError(t, os.WriteFile(file, []byte(spec.Starter()), 0o600))
	s, err := live.New(live.Options{File: file, Bench: sets})
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	l, err := live.Listen(0)
	require.NoError(t, err)
	_, token, ok := strings.Cut(s.URL(l), "#")
	require.True(t, ok)
	require.True(t, strings.HasPrefix(l.Addr().String(), "127.0.0.1:"))
	require.NoError(t, l.Close())
	return &served{t, s.Handler(address), token, dir}
}

// request returns a request as the page sends it.
func (s *served) request(path string, body any) *http.Request {
	data, err := json.Marshal(body)
	require.NoError(s.t, err)
	r := httptest.NewRequest(http.MethodPost, "http://"+address+"/api/"+path, bytes.NewReader(data))
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("X-Neckloft-Token", s.token)
	r.Header.Set("Origin", "http://"+address)
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return r
}

func (s *served) do(r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	s.handler.ServeHTTP(w, r)
	return w
}

func (s *served) ask(path string, body any) *httptest.ResponseRecorder {
	return s.do(s.request(path, body))
}

func TestOnlyThePageIsAnswered(t *testing.T) {
	s := serve(t, nil)
	for _, c := range []struct {
		name   string
		change func(*http.Request)
		status int
	}{
		{"as the page asks", func(*http.Request) {}, 200},
		{"no token", func(r *http.Request) { r.Header.Del("X-Neckloft-Token") }, 403},
		{"wrong token", func(r *http.Request) { r.Header.Set("X-Neckloft-Token", strings.Repeat("0", 48)) }, 403},
		{"a name that leads here", func(r *http.Request) { r.Host = "evil.example:4711"; r.Header.Del("Origin") }, 421},
		{"another port", func(r *http.Request) { r.Host = "127.0.0.1:80" }, 421},
		{"localhost", func(r *http.Request) { r.Host = "localhost:4711"; r.Header.Set("Origin", "http://localhost:4711") }, 200},
		{"another site", func(r *http.Request) { r.Header.Set("Origin", "https://evil.example") }, 403},
		{"a page without origin", func(r *http.Request) { r.Header.Set("Origin", "null") }, 403},
		{"another port's page", func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:80") }, 403},
		{"said to be cross-site", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, 403},
		{"a form", func(r *http.Request) { r.Header.Set("Content-Type", "application/x-www-form-urlencoded") }, 415},
		{"plain text", func(r *http.Request) { r.Header.Set("Content-Type", "text/plain") }, 415},
		{"GET", func(r *http.Request) { r.Method = http.MethodGet }, 405},
		{"preflight", func(r *http.Request) { r.Method = http.MethodOptions }, 405},
	} {
		r := s.request("files", struct{}{})
		c.change(r)
		w := s.do(r)
		require.Equal(t, c.status, w.Code, c.name)
		require.Empty(t, w.Header().Get("Access-Control-Allow-Origin"), c.name)
		require.Contains(t, w.Header().Get("Content-Security-Policy"), "default-src 'none'", c.name)
		require.NotContains(t, w.Header().Get("Content-Security-Policy"), "unsafe", c.name)
	}
	for path, status := range map[string]int{"/": 200, "/app.js": 200, "/style.css": 200, "/icon.svg": 200,
		"/page/": 404, "/../server.go": 404, "/tern.toml": 404} {
		r := httptest.NewRequest(http.MethodGet, "http://"+address+"/", nil)
		r.URL.Path = path
		w := s.do(r)
		if status == 404 && w.Code == http.StatusMovedPermanently || w.Code == http.StatusTemporaryRedirect {
			continue // the cleaned path is one of those here
		}
		require.Equal(t, status, w.Code, path)
	}
}

func TestNoPathLeavesTheFolder(t *testing.T) {
	s := serve(t, nil)
	outside := filepath.Join(t.TempDir(), "outside.toml")
	require.NoError(t, os.WriteFile(outside, []byte("name = \"secret\"\n"), 0o600))
	require.NoError(t, os.Symlink(outside, filepath.Join(s.dir, "link.toml")))
	require.NoError(t, os.Mkdir(filepath.Join(s.dir, "folder.toml"), 0o700))
	for _, name := range []string{outside, "../outside.toml", "..", "", ".toml", ".hidden.toml", "a/b.toml", `a\b.toml`,
		"link.toml", "folder.toml", "tern.txt", "a\x00.toml", "a\n.toml", strings.Repeat("a", 200) + ".toml"} {
		for _, path := range []string{"open", "save", "watch"} {
			w := s.ask(path, map[string]string{"name": name, "text": "x", "hash": "none"})
			require.Equal(t, 422, w.Code, "%s %q: %s", path, name, w.Body)
			require.NotContains(t, w.Body.String(), "secret")
		}
	}
	data, err := os.ReadFile(outside)
	require.NoError(t, err)
	require.Equal(t, "name = \"secret\"\n", string(data))
	require.JSONEq(t, `["tern.toml"]`, s.ask("files", struct{}{}).Body.String())
}

type file struct{ Name, Text, Hash string }

func decode[T any](t *testing.T, r io.Reader) T {
	var out T
	require.NoError(t, json.NewDecoder(r).Decode(&out))
	return out
}

func TestSaveNeverOverwritesUnseen(t *testing.T) {
	s := serve(t, nil)
	path := filepath.Join(s.dir, "tern.toml")
	f := decode[file](t, s.ask("open", map[string]string{"name": "tern.toml"}).Body)
	mine := strings.Replace(f.Text, "42.8", "43.0", 1)

	theirs := f.Text + "# an editor was here\n"
	require.NoError(t, os.WriteFile(path, []byte(theirs), 0o600))
	w := s.ask("save", map[string]string{"name": "tern.toml", "text": mine, "hash": f.Hash})
	require.Equal(t, http.StatusConflict, w.Code)
	current := decode[struct{ Current file }](t, w.Body).Current
	require.Equal(t, theirs, current.Text)
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, theirs, string(got))

	w = s.ask("save", map[string]string{"name": "tern.toml", "text": mine, "hash": current.Hash})
	require.Equal(t, 200, w.Code)
	got, err = os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, mine, string(got))

	// A new name that is taken, and one that is free.
	w = s.ask("save", map[string]string{"name": "tern.toml", "text": "x", "hash": ""})
	require.Equal(t, http.StatusConflict, w.Code)
	w = s.ask("save", map[string]string{"name": "other.toml", "text": mine, "hash": ""})
	require.Equal(t, 200, w.Code)
	require.NoError(t, os.Remove(path))
	w = s.ask("save", map[string]string{"name": "tern.toml", "text": mine, "hash": current.Hash})
	require.Equal(t, http.StatusConflict, w.Code, "a file that is gone is not made anew unasked")
}

func TestWatchSeesAnEditor(t *testing.T) {
	s := serve(t, nil)
	f := decode[file](t, s.ask("open", map[string]string{"name": "tern.toml"}).Body)
	require.NoError(t, os.WriteFile(filepath.Join(s.dir, "tern.toml"), []byte(f.Text+"# more\n"), 0o600))
	got := decode[file](t, s.ask("watch", map[string]string{"name": "tern.toml", "hash": f.Hash}).Body)
	require.Equal(t, f.Text+"# more\n", got.Text)
}

// frame is a binary answer.
type frame struct {
	Text     string
	OK       bool
	Problems []struct{ Key, Message string }
	Values   map[string]any
	Meshes   []struct {
		Part              string
		Vertices, Indices int
	}
	solids []*mesh.Mesh
}

// parse reads a frame as its documentation says, on its own.
func parse(t *testing.T, data []byte) *frame {
	require.Equal(t, "NLF1", string(data[:4]))
	size := int(binary.LittleEndian.Uint32(data[4:]))
	f := &frame{}
	require.NoError(t, json.Unmarshal(data[8:8+size], f))
	require.Zero(t, size%4)
	rest := bytes.NewReader(data[8+size:])
	for _, info := range f.Meshes {
		positions := make([]float32, 3*info.Vertices)
		normals := make([]int8, 4*info.Vertices)
		indices := make([]uint16, (info.Indices+1)/2*2)
		require.LessOrEqual(t, info.Vertices, 65536)
		for _, v := range []any{positions, normals, indices} {
			require.NoError(t, binary.Read(rest, binary.LittleEndian, v))
		}
		m := &mesh.Mesh{}
		// Points with several normals are one point of the solid.
		seen := map[mesh.Vec]uint32{}
		index := make([]uint32, info.Vertices)
		for i := range info.Vertices {
			p := mesh.Vec{X: float64(positions[3*i]), Y: float64(positions[3*i+1]), Z: float64(positions[3*i+2])}
			if _, ok := seen[p]; !ok {
				seen[p] = uint32(len(m.Vertices))
				m.Vertices = append(m.Vertices, p)
			}
			index[i] = seen[p]
			n := mesh.Vec{X: float64(normals[4*i]), Y: float64(normals[4*i+1]), Z: float64(normals[4*i+2])}
			require.InDelta(t, 127, n.Norm(), 2)
		}
		for i := 0; i < info.Indices; i += 3 {
			m.Faces = append(m.Faces, mesh.Face{index[indices[i]], index[indices[i+1]], index[indices[i+2]]})
		}
		f.solids = append(f.solids, m)
	}
	require.Zero(t, rest.Len())
	return f
}

func TestModelCarriesClosedSolids(t *testing.T) {
	s := serve(t, nil)
	for _, fine := range []bool{false, true} {
		w := s.ask("model", map[string]any{"text": spec.Starter(), "fine": fine})
		require.Equal(t, 200, w.Code, w.Body)
		f := parse(t, w.Body.Bytes())
		require.True(t, f.OK)
		require.Len(t, f.solids, 2)
		for _, m := range f.solids {
			require.NoError(t, m.Validate())
		}
	}
}

func TestBadValuesSayTheValidatorsSentence(t *testing.T) {
	s := serve(t, nil)
	w := s.ask("model", map[string]any{"text": spec.Starter(), "edits": []any{map[string]any{"op": "set", "path": "width.nut", "value": 900}}})
	require.Equal(t, 200, w.Code)
	f := parse(t, w.Body.Bytes())
	require.False(t, f.OK)
	spec, err := spec.Read(strings.NewReader(f.Text), "")
	require.NoError(t, err)
	_, problems := neck.Check(spec)
	require.NotEmpty(t, problems)
	require.Equal(t, problems[0].Message, f.Problems[0].Message)
	require.Equal(t, "width.nut", f.Problems[0].Key)
	require.Empty(t, f.solids)
}

func TestOneBadRequestEndsNothing(t *testing.T) {
	s := serve(t, func(n *neck.Neck, _ spec.Problems) *bench.Set {
		set := bench.New(n, nil)
		set.Products = []bench.Product{
			{File: "panics", Write: func(io.Writer) error { panic("on purpose") }},
			{File: "fails", Write: func(io.Writer) error { return errors.New("no paper") }},
			{File: "works", Write: func(w io.Writer) error { _, err := io.WriteString(w, "made"); return err }},
		}
		return set
	})
	make := func(name string) *httptest.ResponseRecorder {
		return s.ask("make", map[string]string{"name": name, "text": spec.Starter()})
	}
	w := make("panics")
	require.Equal(t, 500, w.Code)
	require.Contains(t, w.Body.String(), "defect of the program")
	require.Equal(t, 500, make("fails").Code)
	require.Equal(t, 422, make("unknown").Code)
	require.Equal(t, "made", make("works").Body.String())

	for _, body := range []string{"", "{", "[]", `{"text": 3}`, `{"edits": 3}`, `{"edits": [3]}`, strings.Repeat("x", 100)} {
		r := s.request("model", struct{}{})
		r.Body = io.NopCloser(strings.NewReader(body))
		require.Equal(t, 400, s.do(r).Code, body)
	}
	r := s.request("model", struct{}{})
	r.Body = io.NopCloser(strings.NewReader(`{"text": "` + strings.Repeat("x", 5<<20) + `"}`))
	require.Equal(t, http.StatusRequestEntityTooLarge, s.do(r).Code)
	for _, text := range []string{"", "\x00", "= =", "[[", "depth = 3", strings.Repeat("a.", 5000) + "b = 1"} {
		w := s.ask("model", map[string]any{"text": text})
		require.Equal(t, 200, w.Code)
		require.NotEmpty(t, parse(t, w.Body.Bytes()).Problems, text)
	}
	require.Equal(t, 200, s.ask("model", map[string]any{"text": spec.Starter()}).Code)
}
