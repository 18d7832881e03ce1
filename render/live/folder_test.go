package live_test

import (
	"context"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
	"neckloft/render/live"
)

func TestFileThatIsNotUTF8IsRefused(t *testing.T) {
	s := serve(t, nil)
	// "Björk" as Latin-1 has it.
	latin := strings.Replace(spec.Starter(), "name", "# Bj\xf6rk\nname", 1)
	path := filepath.Join(s.dir, "latin.toml")
	require.NoError(t, os.WriteFile(path, []byte(latin), 0o600))
	for _, request := range []string{"open", "watch"} {
		w := s.ask(request, map[string]string{"name": "latin.toml"})
		require.Equal(t, 422, w.Code, request)
		require.Contains(t, w.Body.String(), "not text in UTF-8")
	}
	w := s.ask("save", map[string]string{"name": "latin.toml", "text": spec.Starter()})
	require.Equal(t, 422, w.Code)
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, latin, string(got))
	_, err = live.New(live.Options{File: path})
	require.ErrorContains(t, err, "not text in UTF-8")
}

func TestSaveOfWhatTheFileHoldsIsNoConflict(t *testing.T) {
	s := serve(t, nil)
	path := filepath.Join(s.dir, "tern.toml")
	f := decode[file](t, s.ask("open", map[string]string{"name": "tern.toml"}).Body)
	mine := f.Text + "# mine\n"
	for range 2 { // both know the file as it was before either
		w := s.ask("save", map[string]string{"name": "tern.toml", "text": mine, "hash": f.Hash})
		require.Equal(t, 200, w.Code, w.Body)
		require.NotEqual(t, f.Hash, decode[file](t, w.Body).Hash)
	}
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, mine, string(got))
}

func TestSaveRefusesWhatCouldNotBeReadAgain(t *testing.T) {
	s := serve(t, nil)
	f := decode[file](t, s.ask("open", map[string]string{"name": "tern.toml"}).Body)
	full := f.Text + "#" + strings.Repeat("x", spec.MaxFileSize-len(f.Text)-1)
	w := s.ask("save", map[string]string{"name": "tern.toml", "text": full + "x", "hash": f.Hash})
	require.Equal(t, 422, w.Code)
	require.Contains(t, w.Body.String(), "larger than 1 MiB")
	w = s.ask("save", map[string]string{"name": "tern.toml", "text": full, "hash": f.Hash})
	require.Equal(t, 200, w.Code)
	require.Equal(t, 200, s.ask("open", map[string]string{"name": "tern.toml"}).Code)
}

func TestMarkInFrontIsKept(t *testing.T) {
	s := serve(t, nil)
	w := s.ask("model", map[string]any{"text": "\ufeff" + spec.Starter(), "edits": []any{map[string]any{"op": "set", "path": "width.nut", "value": 43}}})
	require.Equal(t, 200, w.Code, w.Body)
	f := parse(t, w.Body.Bytes())
	require.True(t, f.OK)
	require.True(t, strings.HasPrefix(f.Text, "\ufeff"))
	require.Contains(t, f.Text, "nut = 43 ")
}

// TestWatchAnswersAtOnce keeps the browser's few connections free.
func TestWatchAnswersAtOnce(t *testing.T) {
	s := serve(t, nil)
	f := decode[file](t, s.ask("open", map[string]string{"name": "tern.toml"}).Body)
	watch := func(hash string) file {
		ctx, stop := context.WithTimeout(context.Background(), 5*time.Second)
		defer stop()
		w := s.do(s.request("watch", map[string]string{"name": "tern.toml", "hash": hash}).WithContext(ctx))
		require.Equal(t, http.StatusOK, w.Code)
		return decode[file](t, w.Body)
	}
	require.Empty(t, watch(f.Hash).Name, "nothing has happened")
	require.NoError(t, os.Remove(filepath.Join(s.dir, "tern.toml")))
	require.Equal(t, file{Name: "tern.toml"}, watch(f.Hash))
}
