package export

import (
	"os"
	"path/filepath"
)

// pendingFile does here what the library of the other systems does not: on
// Windows a rename replaces a file in one step too, but there are no
// permissions to keep.
type pendingFile struct {
	*os.File
	path string
	done bool
}

// newPending opens a temporary file in the folder of path.
func newPending(path string) (pending, error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path))
	if err != nil {
		return nil, err
	}
	return &pendingFile{File: f, path: path}, nil
}

func (f *pendingFile) Commit() error {
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if err := os.Rename(f.Name(), f.path); err != nil {
		return err
	}
	f.done = true
	return nil
}

func (f *pendingFile) Cleanup() error {
	if f.done {
		return nil
	}
	f.Close()
	return os.Remove(f.Name())
}
