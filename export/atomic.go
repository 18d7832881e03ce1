package export

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// bufferSize is that of a file being written: large enough that the system
// calls do not show beside the encoding.
const bufferSize = 64 << 10

// pending is a temporary file that is to take another's place.
type pending interface {
	io.Writer
	Commit() error  // flush to the disk and take the place
	Cleanup() error // remove the temporary file, unless committed
}

// File writes the file at path through write. The file appears whole or not at
// all: the bytes go to a temporary file in the same folder, which is flushed
// to the disk and then renamed. When anything fails, write included, the
// temporary file is gone and a file that was at path before is as it was.
//
// A new file gets the permissions that os.Create would give; a replaced one
// keeps its own. A symbolic link stays, and the file it points to is replaced.
// A device or a pipe has nothing to rename and is written to directly.
//
// An error names the path and says in one sentence what is wrong. An error of
// write itself is wrapped, so that errors.As finds it.
func File(path string, write func(io.Writer) error) error {
	if path == "" {
		return errors.New("cannot write a file without a name")
	}
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return fmt.Errorf("cannot write %s: it is a folder", path)
	case err == nil && !info.Mode().IsRegular():
		return writeDevice(path, write)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return refusal(path, err)
	}
	target, err := resolve(path)
	if err != nil {
		return refusal(path, err)
	}
	if info != nil {
		// A rename needs no right to write the file it replaces, so a file that
		// its owner protected has to be asked.
		f, err := os.OpenFile(target, os.O_WRONLY, 0)
		if err != nil {
			return refusal(path, err)
		}
		f.Close()
	}
	p, err := newPending(target)
	if err != nil {
		return refusal(path, err)
	}
	defer p.Cleanup()
	if err := fill(p, path, write); err != nil {
		return err
	}
	if err := p.Commit(); err != nil {
		return refusal(path, err)
	}
	syncFolder(filepath.Dir(target))
	return nil
}

// writeDevice writes to a device or a pipe.
func writeDevice(path string, write func(io.Writer) error) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return refusal(path, err)
	}
	defer f.Close()
	if err := fill(f, path, write); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return refusal(path, err)
	}
	return nil
}

// fill lets write write to w through a buffer, and tells an error of w from
// one of write.
func fill(w io.Writer, path string, write func(io.Writer) error) error {
	watched := &watchedWriter{w: w}
	buffer := bufio.NewWriterSize(watched, bufferSize)
	err := write(buffer)
	if err == nil {
		buffer.Flush() // watched has its error
	}
	switch {
	case watched.err != nil:
		return refusal(path, watched.err)
	case err != nil:
		return fmt.Errorf("%s is not written: %w", path, err)
	}
	return nil
}

// watchedWriter remembers the first error of w.
type watchedWriter struct {
	w   io.Writer
	err error
}

func (w *watchedWriter) Write(p []byte) (int, error) {
	if w.err != nil {
		return 0, w.err
	}
	n, err := w.w.Write(p)
	if err == nil && n < len(p) {
		err = io.ErrShortWrite
	}
	w.err = err
	return n, err
}

// resolve follows the symbolic links at path to the file to replace, which
// need not exist.
func resolve(path string) (string, error) {
	const most = 40 // links in a row, as many as Linux follows
	for range most {
		target, err := os.Readlink(path)
		if err != nil {
			return path, nil // no link, or nothing there
		}
		if !filepath.IsAbs(target) {
			target = filepath.Join(filepath.Dir(path), target)
		}
		path = target
	}
	return "", errors.New("too many symbolic links")
}

// syncFolder flushes a folder's entries to the disk, so that a rename outlasts
// a power cut. Not every system can, and the file is in its place already, so
// a failure is of no account.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		d.Sync()
		d.Close()
	}
}

// refusal puts an error of the file system into words.
func refusal(path string, err error) error {
	dir := filepath.Dir(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("cannot write %s: there is no folder %s", path, dir)
	case errors.Is(err, syscall.ENOTDIR):
		return fmt.Errorf("cannot write %s: %s is not a folder", path, dir)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("cannot write %s: permission denied", path)
	}
	// The path of a temporary file would only confuse.
	var pathErr *fs.PathError
	var linkErr *os.LinkError
	switch {
	case errors.As(err, &pathErr):
		err = pathErr.Err
	case errors.As(err, &linkErr):
		err = linkErr.Err
	}
	return fmt.Errorf("cannot write %s: %w", path, err)
}
