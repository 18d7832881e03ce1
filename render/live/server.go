//go:build !js

package live

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"time"
)

// Server serves the live page of one spec.
type Server struct {
	*Engine
	folder   *folder
	name     string // of the spec in the folder, "" for one without a file
	text     string // of a spec without a file
	token    string
	watching *limiter
}

// New returns a server for the spec of the options. The file must be there,
// but need not be a sound spec yet.
func New(o Options) (*Server, error) {
	s := &Server{Engine: NewEngine(o), text: o.Text, watching: newLimiter(16)}
	dir := o.Folder
	if dir == "" {
		dir = "."
	}
	if o.File != "" {
		// A link on the command line is the builder's own choice: what it
		// points to is the file.
		real, err := filepath.EvalSymlinks(o.File)
		if err != nil {
			if errors.Is(err, os.ErrNotExist) {
				return nil, fmt.Errorf("%s: there is no such file", o.File)
			}
			return nil, fmt.Errorf("%s: the file cannot be read: %w", o.File, err)
		}
		if info, err := os.Stat(real); err == nil && info.IsDir() {
			return nil, fmt.Errorf("%s is a folder; allowed: a spec, a file whose name ends in .toml", o.File)
		}
		dir, s.name = filepath.Split(real)
		if dir == "" {
			dir = "."
		}
	}
	var err error
	if s.folder, err = openFolder(dir); err != nil {
		return nil, err
	}
	if s.name != "" {
		f, err := s.folder.read(s.name)
		switch {
		case err != nil:
			return nil, fmt.Errorf("%s: %w", o.File, err)
		case f.Hash == "":
			return nil, fmt.Errorf("%s: there is no such file", o.File)
		}
	}
	var key [24]byte
	if _, err := rand.Read(key[:]); err != nil {
		return nil, err
	}
	s.token = hex.EncodeToString(key[:])
	return s, nil
}

// absolute returns the full name of a folder, or the name where there is none.
func absolute(name string) string {
	if full, err := filepath.Abs(name); err == nil {
		return full
	}
	return name
}

// UsualPort returns a port for the page of a file, the same on every run: a
// browser keeps drafts by address, and finds them again at the same one.
func UsualPort(file string) int {
	const first, count = 20000, 12000 // below those that systems hand out by themselves
	sum := sha256.Sum256([]byte(absolute(file)))
	return first + int(binary.BigEndian.Uint32(sum[:]))%count
}

// Listen opens a port on the loopback interface, a free one for 0.
func Listen(port int) (net.Listener, error) {
	l, err := net.Listen("tcp4", net.JoinHostPort("127.0.0.1", fmt.Sprint(port)))
	if err == nil {
		return l, nil
	}
	var op *net.OpError
	if errors.As(err, &op) {
		err = op.Err
	}
	var sys *os.SyscallError
	if errors.As(err, &sys) {
		err = sys.Err
	}
	return nil, fmt.Errorf("port %d of this machine cannot be used: %w", port, err)
}

// URL returns the address of the page on a listener. What follows the #
// lets the page in; a browser does not send it anywhere.
func (s *Server) URL(l net.Listener) string {
	return "http://" + l.Addr().String() + "/#" + s.token
}

// Serve answers requests until the context ends, and then lets those under way
// come to their end for a moment.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	base, stop := context.WithCancel(context.Background())
	defer stop()
	h := &http.Server{
		Handler:           s.Handler(l.Addr().String()),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       20 * time.Second,
		WriteTimeout:      mostMaking + time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		BaseContext:       func(net.Listener) context.Context { return base },
		ErrorLog:          quietLog,
	}
	failed := make(chan error, 1)
	go func() { failed <- h.Serve(l) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	stop()
	end, cancel := context.WithTimeout(context.Background(), 3*time.Second)
	defer cancel()
	if h.Shutdown(end) != nil {
		h.Close()
	}
	return nil
}

// Close gives up the folder.
func (s *Server) Close() error { return s.folder.root.Close() }

// start is what the page needs once: what the engine begins with, and the file.
type start struct {
	File  file     `json:"file"` // with no name for a spec without a file
	Names []string `json:"names"`

	// Folder tells the folders of this machine apart, and says nothing of them.
	Folder string `json:"folder"`
	*begin
}

func (s *Server) start() (*start, error) {
	f := &file{Text: s.text}
	var err error
	if s.name != "" {
		if f, err = s.folder.read(s.name); err != nil {
			return nil, err
		}
	}
	names, err := s.folder.list()
	if err != nil {
		return nil, err
	}
	b, err := s.begin()
	return &start{*f, names, hashOf(absolute(s.folder.root.Name()))[:16], b}, err
}

// watch returns a file that is no longer the one with the given hash, or nil.
// The page asks again and again: a question that waited for the answer would
// keep one of the few connections that a browser has for all of its tabs.
func (s *Server) watch(ctx context.Context, name, hash string) (*file, error) {
	f, err := s.folder.read(name)
	if err != nil || f.Hash == hash {
		return nil, err
	}
	// An editor may be in the middle of writing: what is read must still be
	// there a moment later.
	const settled = 60 * time.Millisecond
	select {
	case <-time.After(settled):
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	again, err := s.folder.read(name)
	if err != nil || again.Hash != f.Hash {
		return nil, err
	}
	return again, nil
}
