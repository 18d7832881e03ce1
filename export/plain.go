package export

import (
	"errors"
	"os"
)

// errNotPlain is the error for what has no whole content to read: a folder, a
// pipe, a device.
var errNotPlain = errors.New("it is not a regular file; a pipe or a device has to be saved to a file first")

// openPlain opens a file to read, if it is a plain one. A pipe that nobody
// writes to would keep a usual opening waiting for ever.
func openPlain(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDONLY|nonBlocking, 0)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = errNotPlain
		if info.IsDir() {
			err = errors.New("it is a folder, not a regular file")
		}
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}
