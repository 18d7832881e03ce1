//go:build !js

package live

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"sync"
	"syscall"
	"unicode"
	"unicode/utf8"

	"neckloft/export"
	"neckloft/neck/spec"
)

// folder is the one folder that the page may read and write specs in. Only
// names in it are taken, and links are not followed out of it.
type folder struct {
	root  *os.Root
	write func(root *os.Root, name string, write func(io.Writer) error) error
	mu    sync.Mutex // held while a file is compared and replaced
}

func openFolder(dir string) (*folder, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		var perr *fs.PathError
		if errors.As(err, &perr) {
			err = perr.Err
		}
		return nil, fmt.Errorf("the folder %s cannot be opened: %w", dir, err)
	}
	return &folder{root: root, write: export.FileIn}, nil
}

func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// checkName refuses what is not the plain name of a spec in the folder.
func checkName(name string) error {
	const most = 120
	switch {
	case name != filepath.Base(name), strings.ContainsAny(name, `/\:`), !filepath.IsLocal(name),
		strings.HasPrefix(name, "."), len(name) > most,
		strings.IndexFunc(name, func(r rune) bool { return !unicode.IsPrint(r) }) >= 0:
		return fmt.Errorf("%q is not a name in the spec's folder; allowed: a plain file name such as my-neck.toml", name)
	case !strings.EqualFold(filepath.Ext(name), ".toml") || len(name) == len(".toml"):
		return fmt.Errorf("%q is not the name of a spec; allowed: a name that ends in .toml", name)
	}
	return nil
}

// list returns the names of the specs in the folder, in order.
func (f *folder) list() ([]string, error) {
	const most = 200
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return nil, fmt.Errorf("the folder cannot be read: %w", err)
	}
	names := []string{}
	for _, e := range entries {
		if e.Type().IsRegular() && checkName(e.Name()) == nil && len(names) < most {
			names = append(names, e.Name())
		}
	}
	sort.Strings(names)
	return names, nil
}

// read returns a spec of the folder.
func (f *folder) read(name string) (*file, error) {
	if err := checkName(name); err != nil {
		return nil, refusal{err}
	}
	// A pipe by that name would keep a plain opening waiting for ever.
	r, err := f.root.OpenFile(name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &file{Name: name}, nil
	case err != nil:
		return nil, refusal{fmt.Errorf("%s cannot be opened", name)}
	}
	defer r.Close()
	info, err := r.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return nil, refusal{fmt.Errorf("%s is not a plain file", name)}
	}
	data, err := io.ReadAll(io.LimitReader(r, spec.MaxFileSize+1))
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w", name, err)
	}
	if len(data) > spec.MaxFileSize {
		return nil, refusal{fmt.Errorf("%s is larger than 1 MiB, which no spec is", name)}
	}
	// The page would put other characters in the place of what it cannot show,
	// and save those.
	if !utf8.Valid(data) {
		return nil, refusal{fmt.Errorf("%s is not text in UTF-8; save the spec as plain UTF-8 text", name)}
	}
	text := string(data)
	return &file{name, text, hashOf(text)}, nil
}

// errSaved ends a save of what the file holds already.
var errSaved = errors.New("the file holds this text already")

// save writes a spec if the file is still the one with the hash base, which is
// empty for a file that is not there, or holds the text already.
func (f *folder) save(name, text, base string) (*file, error) {
	if err := checkName(name); err != nil {
		return nil, refusal{err}
	}
	if len(text) > spec.MaxFileSize {
		return nil, refusal{fmt.Errorf("the text is larger than 1 MiB, which no spec is, and could not be read again; %s is left as it is", name)}
	}
	if info, err := f.root.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return nil, refusal{fmt.Errorf("%s is not a plain file and is left alone", name)}
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	unchanged := func() error {
		current, err := f.read(name)
		switch {
		case err != nil:
			return err
		case current.Hash == hashOf(text):
			return errSaved
		case current.Hash != base:
			return conflict{current}
		}
		return nil
	}
	saved := &file{name, text, hashOf(text)}
	if err := unchanged(); errors.Is(err, errSaved) {
		return saved, nil
	} else if err != nil {
		return nil, err
	}
	err := f.write(f.root, name, func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		if err != nil {
			return err
		}
		// Once more, as late as it can be.
		return unchanged()
	})
	var c conflict
	switch {
	case err == nil, errors.Is(err, errSaved):
		return saved, nil
	case errors.As(err, &c):
		return nil, c
	}
	return nil, err
}
