//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package export

import (
	"os"
	"syscall"
)

// lockFolder waits until no other program that locks the folder holds it, and
// returns a function that lets go. A file that is replaced by a rename cannot
// be locked itself: the lock would stay with the old one.
func lockFolder(dir string) (func(), error) {
	d, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	for {
		err = syscall.Flock(int(d.Fd()), syscall.LOCK_EX)
		if err != syscall.EINTR {
			break
		}
	}
	if err != nil {
		// Some network drives cannot lock; one builder at one bench can do
		// without.
		return func() { d.Close() }, nil
	}
	return func() { d.Close() }, nil
}

// hold marks a temporary file as that of a program that runs: the system lets go
// of it when the program ends, in whatever way.
func hold(f *os.File) {
	// Where it cannot be marked, it cannot be told to be abandoned either.
	_ = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
}

// abandoned reports whether a temporary file is surely that of a program that
// has ended.
func abandoned(path string) bool {
	f, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NOFOLLOW|syscall.O_NONBLOCK, 0)
	if err != nil {
		return false
	}
	defer f.Close()
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil
}
