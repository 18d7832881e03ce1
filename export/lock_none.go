//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package export

import "os"

// lockFolder does nothing on systems whose folders cannot be locked.
func lockFolder(string) (func(), error) { return func() {}, nil }

// hold does nothing, and abandoned knows of no file, on the same systems.
func hold(*os.File) {}

func abandoned(string) bool { return false }
