//go:build unix

package export

import (
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// TestPipeIsNotWaitedFor checks that a pipe that nobody writes to is refused
// where a scan or a carving log is to be read, rather than waited for.
func TestPipeIsNotWaitedFor(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for name, read := range map[string]func() error{
		"scan":   func() error { _, err := ReadSTLFile(pipe); return err },
		"log":    func() error { _, err := ReadCarveLog(pipe); return err },
		"append": func() error { return AppendCarveLog(pipe, carveEntryOf(0, 1)) },
	} {
		done := make(chan error, 1)
		go func() { done <- read() }()
		select {
		case err := <-done:
			require.EqualError(t, err, "cannot read "+pipe+": it is not a regular file; a pipe or a device has to be saved to a file first", name)
		case <-time.After(20 * time.Second):
			require.Fail(t, "waits for ever", name)
		}
	}
}
