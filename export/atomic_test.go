package export

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// write returns a function that writes text.
func write(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

// requireContent checks a file, and that nothing else is in its folder but the
// names given.
func requireContent(t *testing.T, path, want string, others ...string) {
	t.Helper()
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, want, string(got))
	requireNames(t, filepath.Dir(path), append(others, filepath.Base(path))...)
}

func requireNames(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	got := []string{}
	for _, e := range entries {
		got = append(got, e.Name())
	}
	require.Equal(t, sorted(append([]string{}, want...)), sorted(got))
}

func TestFileWritesAndReplaces(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.csv")
	require.NoError(t, File(path, write("one")))
	requireContent(t, path, "one")
	require.NoError(t, File(path, write("")))
	requireContent(t, path, "")
	long := strings.Repeat("0123456789", 100_000)
	require.NoError(t, File(path, write(long)))
	requireContent(t, path, long)
}

func TestFileInWorkingFolder(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, File("a.csv", write("one")))
	requireContent(t, "a.csv", "one")
}

func TestFilePermissions(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has no such permissions")
	}
	dir := t.TempDir()
	mode := func(name string) os.FileMode {
		info, err := os.Stat(filepath.Join(dir, name))
		require.NoError(t, err)
		return info.Mode()
	}
	f, err := os.Create(filepath.Join(dir, "plain"))
	require.NoError(t, err)
	require.NoError(t, f.Close())
	require.NoError(t, File(filepath.Join(dir, "new"), write("x")))
	assert.Equal(t, mode("plain"), mode("new"))

	require.NoError(t, os.Chmod(filepath.Join(dir, "plain"), 0o604))
	require.NoError(t, File(filepath.Join(dir, "plain"), write("x")))
	assert.Equal(t, os.FileMode(0o604), mode("plain"))
}

func TestFileKeepsOldOnError(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.stl")
	require.NoError(t, File(path, write("old")))
	broken := errors.New("the mesh is open")
	for _, size := range []int{0, 1, 10 * bufferSize} {
		err := File(path, func(w io.Writer) error {
			w.Write(make([]byte, size))
			return broken
		})
		require.ErrorIs(t, err, broken)
		require.EqualError(t, err, path+" is not written: the mesh is open")
		requireContent(t, path, "old")
	}
}

func TestFileLeavesNothingNewOnError(t *testing.T) {
	dir := t.TempDir()
	require.Error(t, File(filepath.Join(dir, "a.stl"), func(w io.Writer) error {
		w.Write(make([]byte, 10*bufferSize))
		return io.ErrUnexpectedEOF
	}))
	requireNames(t, dir)
}

func TestFileCleansUpOnPanic(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.stl")
	require.NoError(t, File(path, write("old")))
	require.PanicsWithValue(t, "out of wood", func() {
		File(path, func(w io.Writer) error {
			w.Write(make([]byte, 10*bufferSize))
			panic("out of wood")
		})
	})
	requireContent(t, path, "old")
}

func TestFileRefusals(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, File(filepath.Join(dir, "plain"), write("old")))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "sub"), 0o777))
	for path, want := range map[string]string{
		filepath.Join(dir, "sub"):                    "it is a folder",
		filepath.Join(dir, "none", "a"):              "there is no folder " + filepath.Join(dir, "none"),
		filepath.Join(dir, "plain", "a"):             "not a folder",
		filepath.Join(dir, strings.Repeat("n", 300)): "name too long",
	} {
		called := false
		err := File(path, func(io.Writer) error { called = true; return nil })
		require.ErrorContains(t, err, "cannot write "+path+": ")
		if runtime.GOOS != "windows" {
			assert.ErrorContains(t, err, want)
		}
		assert.NotContains(t, err.Error(), "\n")
		assert.False(t, called, path)
	}
	require.ErrorContains(t, File("", write("x")), "without a name")
	requireContent(t, filepath.Join(dir, "plain"), "old", "sub")
}

func TestFileRefusesProtectedPlaces(t *testing.T) {
	if runtime.GOOS == "windows" || os.Geteuid() == 0 {
		t.Skip("permissions do not hold for this user")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "a.csv")
	require.NoError(t, File(path, write("old")))
	require.NoError(t, os.Chmod(path, 0o444))
	require.ErrorContains(t, File(path, write("new")), "permission denied")
	requireContent(t, path, "old")

	require.NoError(t, os.Chmod(dir, 0o555))
	require.ErrorContains(t, File(filepath.Join(dir, "b"), write("new")), "permission denied")
	require.NoError(t, os.Chmod(dir, 0o777))
	requireContent(t, path, "old")
}

func TestFileFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	real := filepath.Join(dir, "real", "a.csv")
	require.NoError(t, os.Mkdir(filepath.Dir(real), 0o777))
	link, second := filepath.Join(dir, "link"), filepath.Join(dir, "second")
	if err := os.Symlink(filepath.Join("real", "a.csv"), link); err != nil {
		t.Skip(err)
	}
	require.NoError(t, os.Symlink(link, second))
	// At first the links dangle, then they lead to a file.
	for _, text := range []string{"one", "two"} {
		require.NoError(t, File(second, write(text)))
		requireContent(t, real, text)
		requireNames(t, dir, "real", "link", "second")
		target, err := os.Readlink(link)
		require.NoError(t, err)
		require.Equal(t, filepath.Join("real", "a.csv"), target)
	}

	loop := filepath.Join(dir, "loop")
	require.NoError(t, os.Symlink(loop, loop))
	require.ErrorContains(t, File(loop, write("x")), "too many")
}

func TestFileLeavesDevicesInPlace(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("no device to write to")
	}
	require.NoError(t, File(os.DevNull, write("x")))
	info, err := os.Stat(os.DevNull)
	require.NoError(t, err)
	require.NotZero(t, info.Mode()&os.ModeDevice)

	err = File("/dev/full", write("x"))
	require.EqualError(t, err, "cannot write /dev/full: no space left on device")
	err = File("/dev/full", write(strings.Repeat("x", 10*bufferSize)))
	require.EqualError(t, err, "cannot write /dev/full: no space left on device")
}

// limitedWriter takes so many bytes and then fails as a full disk does.
type limitedWriter struct{ left int }

var errFull = errors.New("no space left")

func (w *limitedWriter) Write(p []byte) (int, error) {
	n := min(len(p), w.left)
	w.left -= n
	if n < len(p) {
		return n, errFull
	}
	return n, nil
}

func TestFillReportsTheDisk(t *testing.T) {
	for _, room := range []int{0, 1, bufferSize, 3 * bufferSize} {
		err := fill(&limitedWriter{room}, "a.stl", func(w io.Writer) error {
			for range 4 * bufferSize / 100 {
				// An encoder may lose the error; the file is bad all the same.
				w.Write(make([]byte, 100))
			}
			w.Write(make([]byte, bufferSize))
			return nil
		})
		require.ErrorIs(t, err, errFull)
		require.EqualError(t, err, "cannot write a.stl: no space left")
	}
	require.NoError(t, fill(&limitedWriter{3}, "a.stl", write("abc")))
}

func TestFileConcurrentWritersAreWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			text := strings.Repeat(string(rune('a'+i)), 3*bufferSize)
			assert.NoError(t, File(path, write(text)))
		})
	}
	wait.Wait()
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Len(t, got, 3*bufferSize)
	require.Equal(t, len(got), bytes.Count(got, got[:1]))
	requireNames(t, filepath.Dir(path), "a")
}
