//go:build !windows

package export

import (
	"path/filepath"

	"github.com/google/renameio/v2"
)

type pendingFile struct{ *renameio.PendingFile }

// newPending opens a temporary file in the folder of path.
func newPending(path string) (pending, error) {
	// The mode is that of os.Create, before the umask.
	f, err := renameio.NewPendingFile(path,
		renameio.WithTempDir(filepath.Dir(path)),
		renameio.WithPermissions(0o666),
		renameio.WithExistingPermissions())
	if err != nil {
		return nil, err
	}
	hold(f.File)
	return pendingFile{f}, nil
}

func (f pendingFile) Commit() error { return f.CloseAtomicallyReplace() }
