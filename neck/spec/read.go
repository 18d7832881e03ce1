package spec

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
)

// MaxFileSize is the size in bytes of the largest spec file that is read. A
// spec takes a few kilobytes.
const MaxFileSize = 1 << 20

// ReadFile reads the spec in the file at path, or on standard input if path is
// "-". Its errors are those of Read, and those of the file system.
func ReadFile(path string) (*Spec, error) {
	if path == "-" {
		return Read(os.Stdin, "standard input")
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, fileError(path, err)
	}
	if info.IsDir() {
		return nil, Problems{{File: path, Message: "this is a folder; a spec is a file"}}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fileError(path, err)
	}
	defer f.Close()
	return Read(f, path)
}

// fileError words an error of the file system, which it wraps.
func fileError(path string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return &namedError{path + ": there is no such file", err}
	}
	var perr *fs.PathError
	if errors.As(err, &perr) {
		return &namedError{fmt.Sprintf("%s: the file cannot be read: %v", path, perr.Err), err}
	}
	return &namedError{fmt.Sprintf("%s: the file cannot be read: %v", path, err), err}
}

// namedError has a message of its own for an error that it wraps.
type namedError struct {
	message string
	err     error
}

func (e *namedError) Error() string { return e.message }
func (e *namedError) Unwrap() error { return e.err }

// Read reads a spec in TOML. The file is its name in messages. An error in
// the spec is of type Problems and holds all that are found, each with its
// line; an error of r is wrapped.
//
// Read checks the form: known keys, required keys, types, one unit. Validate
// checks that the values make a neck.
func Read(r io.Reader, file string) (*Spec, error) { return program.Read(r, file) }

// Read is the function Read with other keys.
func (k Schema) Read(r io.Reader, file string) (*Spec, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxFileSize+1))
	if err != nil {
		return nil, fileError(file, err)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // the mark that some editors put in front
	whole := func(message string) (*Spec, error) {
		return nil, Problems{{File: file, Message: message}}
	}
	switch {
	case len(data) > MaxFileSize:
		return whole("this is larger than 1 MiB, which no spec is")
	case !utf8.Valid(data):
		return whole("this is not text in UTF-8; save the spec as plain UTF-8 text")
	case len(bytes.TrimSpace(data)) == 0:
		return whole("this is empty; a spec with at least the tables scale, width, board and depth is required")
	}
	doc := parseTOML(data, file)
	if doc.root == nil {
		return nil, doc.problems
	}
	spec, problems := k.decode(doc)
	if len(problems) > 0 {
		return nil, problems
	}
	if p := checkTOML(data, file); p != nil {
		return nil, Problems{*p}
	}
	if p := spec.readDrawing(filepath.Dir(file)); p != nil {
		return nil, Problems{*p}
	}
	return spec, nil
}

// checkTOML has the library judge the whole file, for rules of TOML on what may
// be defined twice that parseTOML does not know.
func checkTOML(data []byte, file string) *Problem {
	var all map[string]any
	err := toml.Unmarshal(data, &all)
	if err == nil {
		return nil
	}
	p := &Problem{File: file, Message: "not valid TOML: " + strings.TrimPrefix(err.Error(), "toml: ")}
	var derr *toml.DecodeError
	if errors.As(err, &derr) {
		p.Line, _ = derr.Position()
	}
	return p
}
