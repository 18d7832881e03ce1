package live

import (
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/neck/spec"
)

// inFolder returns an opened folder with one spec in it.
func inFolder(t *testing.T) (*folder, string) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a.toml"), []byte("old"), 0o600))
	f, err := openFolder(dir)
	require.NoError(t, err)
	t.Cleanup(func() { f.root.Close() })
	return f, dir
}

// TestSaveGoesWhereItWasRead puts another folder in the place of the one that
// was opened.
func TestSaveGoesWhereItWasRead(t *testing.T) {
	f, dir := inFolder(t)
	require.NoError(t, os.Rename(dir, dir+"-moved"))
	t.Cleanup(func() { os.RemoveAll(dir + "-moved") })
	require.NoError(t, os.Mkdir(dir, 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a.toml"), []byte("other"), 0o600))
	_, err := f.save("a.toml", "new", hashOf("old"))
	require.NoError(t, err)
	for path, want := range map[string]string{dir + "-moved": "new", dir: "other"} {
		got, err := os.ReadFile(filepath.Join(path, "a.toml"))
		require.NoError(t, err)
		require.Equal(t, want, string(got))
	}
}

// TestSaveSeesAChangeAtTheLastMoment has an editor write, or take the file
// away, between the first look and the moment before the rename.
func TestSaveSeesAChangeAtTheLastMoment(t *testing.T) {
	for name, c := range map[string]struct {
		meanwhile func(path string) error
		left      string
	}{
		"changed": {func(path string) error { return os.WriteFile(path, []byte("theirs"), 0o600) }, "theirs"},
		"gone":    {os.Remove, ""},
	} {
		f, dir := inFolder(t)
		path := filepath.Join(dir, "a.toml")
		f.write = func(root *os.Root, name string, write func(io.Writer) error) error {
			require.NoError(t, c.meanwhile(path))
			return export.FileIn(root, name, write)
		}
		_, err := f.save("a.toml", "new", hashOf("old"))
		var con conflict
		require.ErrorAs(t, err, &con, name)
		require.Equal(t, c.left, con.current.Text, name)
		got, _ := os.ReadFile(path)
		require.Equal(t, c.left, string(got), name)
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		require.Len(t, entries, min(1, len(c.left)), "nothing else is left: %s", name)
	}
	// Somebody else has saved the very same meanwhile: that is no conflict.
	f, dir := inFolder(t)
	f.write = func(root *os.Root, name string, write func(io.Writer) error) error {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("new"), 0o600))
		return export.FileIn(root, name, write)
	}
	saved, err := f.save("a.toml", "new", hashOf("old"))
	require.NoError(t, err)
	require.Equal(t, hashOf("new"), saved.Hash)
}

// TestFailedSaveIsTold makes the last step of a save fail.
func TestFailedSaveIsTold(t *testing.T) {
	f, dir := inFolder(t)
	path := filepath.Join(dir, "a.toml")
	f.write = func(root *os.Root, name string, write func(io.Writer) error) error {
		return export.FileIn(root, name, func(w io.Writer) error {
			err := write(w)
			require.NoError(t, os.Remove(path))
			require.NoError(t, os.MkdirAll(filepath.Join(path, "in"), 0o700))
			return err
		})
	}
	_, err := f.save("a.toml", "new", hashOf("old"))
	require.ErrorContains(t, err, "cannot write a.toml")
}

// TestOnlyPlainFilesAreListedReadAndWritten goes through what else a name can
// be.
func TestOnlyPlainFilesAreListedReadAndWritten(t *testing.T) {
	f, dir := inFolder(t)
	require.NoError(t, os.Mkdir(filepath.Join(dir, "folder.toml"), 0o700))
	require.NoError(t, os.Symlink("a.toml", filepath.Join(dir, "inside.toml")))
	outside := filepath.Join(t.TempDir(), "b.toml")
	require.NoError(t, os.WriteFile(outside, []byte("secret"), 0o600))
	require.NoError(t, os.Symlink(outside, filepath.Join(dir, "outside.toml")))
	require.NoError(t, os.Symlink("nowhere.toml", filepath.Join(dir, "dangling.toml")))
	for _, plain := range []string{"notes.txt", ".hidden.toml", "b.TOML"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, plain), nil, 0o600))
	}
	names, err := f.list()
	require.NoError(t, err)
	require.Equal(t, []string{"a.toml", "b.TOML"}, names)
	for _, name := range []string{"folder.toml", "inside.toml", "outside.toml", "dangling.toml"} {
		_, err := f.save(name, "new", "")
		require.ErrorContains(t, err, "is not a plain file and is left alone", name)
	}
	for _, name := range []string{"folder.toml", "outside.toml"} {
		_, err := f.read(name)
		require.ErrorAs(t, err, new(refusal), name)
	}
	got, err := os.ReadFile(outside)
	require.NoError(t, err)
	require.Equal(t, "secret", string(got))
	_, err = os.Lstat(filepath.Join(dir, "nowhere.toml"))
	require.ErrorIs(t, err, os.ErrNotExist)
}

// TestGuardOfPort80 asks as a browser does, which leaves a port out of the
// address where it is that of the protocol.
func TestGuardOfPort80(t *testing.T) {
	s, err := New(Options{Text: spec.Starter(), Folder: t.TempDir()})
	require.NoError(t, err)
	defer s.Close()
	for _, c := range []struct {
		listens, host string
		status        int
	}{
		{"127.0.0.1:80", "127.0.0.1", 200}, {"127.0.0.1:80", "localhost", 200}, {"127.0.0.1:80", "127.0.0.1:80", 200},
		{"127.0.0.1:80", "LOCALHOST:80", 200}, {"127.0.0.1:80", "evil.example", 421}, {"127.0.0.1:80", "127.0.0.1:8080", 421},
		{"127.0.0.1:8080", "127.0.0.1", 421}, {"127.0.0.1:8080", "localhost", 421}, {"127.0.0.1:8080", "localhost:8080", 200},
	} {
		body, err := json.Marshal(struct{}{})
		require.NoError(t, err)
		r := httptest.NewRequest(http.MethodPost, "http://"+c.host+"/api/files", strings.NewReader(string(body)))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", "http://"+r.Host)
		r.Header.Set(tokenHeader, s.token)
		w := httptest.NewRecorder()
		s.Handler(c.listens).ServeHTTP(w, r)
		require.Equal(t, c.status, w.Code, "%s at %s", c.host, c.listens)
	}
}
