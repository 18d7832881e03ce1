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
