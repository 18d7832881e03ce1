package export

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// FileIn writes the plain file name of an opened folder through write, whole or
// not at all as File does. It goes through the folder that was opened and not
// by its path: when that has come to lead elsewhere meanwhile, the file is
// written where the others were read. What is there and no plain file, links
// included, is an error and left alone.
func FileIn(folder *os.Root, name string, write func(io.Writer) error) error {
	mode := fs.FileMode(0o666) // as os.Create has it, before the umask
	info, err := folder.Lstat(name)
	switch {
	case err == nil && !info.Mode().IsRegular():
		return fmt.Errorf("cannot write %s: it is not a plain file", name)
	case err == nil:
		// A rename needs no right to write the file it replaces, so a file that
		// its owner protected has to be asked.
		f, err := folder.OpenFile(name, os.O_WRONLY, 0)
		if err != nil {
			return refusal(name, err)
		}
		f.Close()
		mode = info.Mode().Perm()
	case !errors.Is(err, fs.ErrNotExist):
		return refusal(name, err)
	}
	p, err := newPendingIn(folder, name, mode)
	if err != nil {
		return refusal(name, err)
	}
	defer p.Cleanup()
	if info != nil {
		// The umask has had its say when the file was made the first time.
		if err := p.Chmod(mode); err != nil {
			return refusal(name, err)
		}
	}
	if err := fill(p, name, write); err != nil {
		return err
	}
	if err := p.Commit(); err != nil {
		return refusal(name, err)
	}
	// As in syncFolder.
	if d, err := folder.Open("."); err == nil {
		d.Sync()
		d.Close()
	}
	return nil
}

// pendingIn is a temporary file of an opened folder.
type pendingIn struct {
	*os.File
	folder     *os.Root
	temp, name string
	done       bool
}

func newPendingIn(folder *os.Root, name string, mode fs.FileMode) (*pendingIn, error) {
	var key [8]byte
	if _, err := rand.Read(key[:]); err != nil {
		return nil, err
	}
	temp := "." + name + hex.EncodeToString(key[:])
	f, err := folder.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return nil, err
	}
	return &pendingIn{File: f, folder: folder, temp: temp, name: name}, nil
}

// Commit flushes the file to the disk and puts it in its place.
func (p *pendingIn) Commit() error {
	if err := p.Sync(); err != nil {
		return err
	}
	if err := p.Close(); err != nil {
		return err
	}
	if err := p.folder.Rename(p.temp, p.name); err != nil {
		return err
	}
	p.done = true
	return nil
}

// Cleanup removes the file, unless it is in its place.
func (p *pendingIn) Cleanup() error {
	if p.done {
		return nil
	}
	p.Close()
	return p.folder.Remove(p.temp)
}
