package export

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
)

func opened(t *testing.T) (*os.Root, string) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	require.NoError(t, err)
	t.Cleanup(func() { root.Close() })
	return root, dir
}

func TestFileInWritesAndReplaces(t *testing.T) {
	root, dir := opened(t)
	path := filepath.Join(dir, "a.toml")
	require.NoError(t, FileIn(root, "a.toml", write("one")))
	requireContent(t, path, "one")
	info, err := os.Stat(path)
	require.NoError(t, err)
	made, err := os.Create(filepath.Join(dir, "b"))
	require.NoError(t, err)
	usual, err := made.Stat()
	require.NoError(t, err)
	require.NoError(t, made.Close())
	require.Equal(t, usual.Mode(), info.Mode(), "as any new file")
	require.NoError(t, os.Chmod(path, 0o606)) // which a umask would change
	require.NoError(t, FileIn(root, "a.toml", write("two")))
	requireContent(t, path, "two", "b")
	if runtime.GOOS != "windows" {
		info, err = os.Stat(path)
		require.NoError(t, err)
		require.Equal(t, fs.FileMode(0o606), info.Mode())
	}
}

// TestFileInStaysInItsFolder puts another folder in the place of the opened
// one.
func TestFileInStaysInItsFolder(t *testing.T) {
	root, dir := opened(t)
	require.NoError(t, os.Rename(dir, dir+"-moved"))
	t.Cleanup(func() { os.RemoveAll(dir + "-moved") })
	require.NoError(t, os.Mkdir(dir, 0o777))
	require.NoError(t, FileIn(root, "a.toml", write("one")))
	requireContent(t, filepath.Join(dir+"-moved", "a.toml"), "one")
	requireNames(t, dir)
	require.ErrorContains(t, FileIn(root, "../a.toml", write("x")), "cannot write ../a.toml")
}

func TestFileInRefusals(t *testing.T) {
	root, dir := opened(t)
	outside := filepath.Join(t.TempDir(), "a")
	require.NoError(t, os.WriteFile(outside, []byte("old"), 0o666))
	require.NoError(t, os.Symlink(outside, filepath.Join(dir, "link")))
	require.NoError(t, os.Symlink("plain", filepath.Join(dir, "inside")))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "plain"), []byte("old"), 0o666))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "folder"), 0o777))
	for _, name := range []string{"link", "inside", "folder"} {
		require.EqualError(t, FileIn(root, name, write("x")), "cannot write "+name+": it is not a plain file")
	}
	bad := errors.New("no wood")
	require.ErrorIs(t, FileIn(root, "plain", func(w io.Writer) error {
		io.WriteString(w, "half")
		return bad
	}), bad)
	requireContent(t, filepath.Join(dir, "plain"), "old", "folder", "inside", "link")
	requireContent(t, outside, "old")
	if os.Geteuid() != 0 {
		require.NoError(t, os.Chmod(filepath.Join(dir, "plain"), 0o444))
		require.EqualError(t, FileIn(root, "plain", write("x")), "cannot write plain: permission denied")
	}
	require.NoError(t, root.Close())
	require.Error(t, FileIn(root, "plain", write("x")))
}

// TestLastStepsThatFailAreTold makes the flush to the disk and the rename fail,
// after everything was written.
func TestLastStepsThatFailAreTold(t *testing.T) {
	root, dir := opened(t)
	path := filepath.Join(dir, "a")
	// A folder has taken the name meanwhile.
	taken := func(w io.Writer) error {
		require.NoError(t, os.MkdirAll(filepath.Join(path, "in"), 0o777))
		return write("new")(w)
	}
	require.ErrorContains(t, File(path, taken), "cannot write "+path+": ")
	requireNames(t, dir, "a")
	require.NoError(t, os.RemoveAll(path))
	require.ErrorContains(t, FileIn(root, "a", taken), "cannot write a: ")
	requireNames(t, dir, "a")
	require.NoError(t, os.RemoveAll(path))

	for name, made := range map[string]func() (pending, error){
		"by path":   func() (pending, error) { return newPending(path) },
		"in folder": func() (pending, error) { return newPendingIn(root, "a", 0o666) },
	} {
		p, err := made()
		require.NoError(t, err, name)
		require.NoError(t, p.(io.Closer).Close(), name)
		require.Error(t, p.Commit(), "%s: what is closed cannot be flushed", name)
		p.Cleanup()
		requireNames(t, dir)
	}
}
