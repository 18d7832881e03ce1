//go:build !js

package live

import (
	"context"
	"crypto/subtle"
	"errors"
	"io"
	"io/fs"
	"log"
	"mime"
	"net"
	"net/http"
	"strings"
	"time"
)

// quietLog drops what the HTTP server says of broken connections.
var quietLog = log.New(io.Discard, "", 0)

// maxBody is the size of the largest request: a spec of the largest size,
// escaped as JSON.
const maxBody = 4 << 20

// tokenHeader carries the token. A header of one's own cannot be sent across
// sites without the leave of this server, which gives none.
const tokenHeader = "X-Neckloft-Token"

// policy lets the page load only what this server sends.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types 'none'"

// Handler returns the handler of the page and of its requests, for a server
// that listens at the address "127.0.0.1:port".
func (s *Server) Handler(address string) http.Handler {
	_, port, _ := net.SplitHostPort(address)
	// A browser that was led here under another name, as by DNS rebinding,
	// says so in Host.
	hosts := map[string]bool{}
	for _, h := range []string{"127.0.0.1", "localhost"} {
		hosts[net.JoinHostPort(h, port)] = true
		if port == "80" {
			hosts[h] = true
		}
	}
	mux := http.NewServeMux()
	page, err := fs.Sub(pageFiles, "page")
	if err != nil {
		panic(err) // the name is that of the directive above
	}
	files := http.FileServerFS(page)
	for _, path := range []string{"/{$}", "/app.js", "/style.css", "/icon.svg"} {
		mux.Handle("GET "+path, files)
	}
	api := http.NewServeMux()
	s.routes(api)
	mux.Handle("/api/", s.guarded(api))
	mux.HandleFunc("GET /api/socket", s.serveSocket)

	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		h.Set("Cache-Control", "no-store")
		switch origin := r.Header.Get("Origin"); {
		case !hosts[strings.ToLower(r.Host)]:
			refuse(w, http.StatusMisdirectedRequest, "this page is served to this machine only, under its own address")
		case origin != "" && origin != "http://"+r.Host:
			refuse(w, http.StatusForbidden, "requests from other sites are refused")
		case crossSite(r):
			refuse(w, http.StatusForbidden, "requests from other sites are refused")
		default:
			mux.ServeHTTP(w, r)
		}
	})
}

// crossSite reports whether the browser says that another site made the
// request. Going to the page from a link elsewhere is harmless: without the
// token it shows nothing.
func crossSite(r *http.Request) bool {
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
		return false
	}
	return !(r.Method == http.MethodGet && r.URL.Path == "/" && r.Header.Get("Sec-Fetch-Mode") == "navigate")
}

// guarded lets only requests of the page through.
func (s *Server) guarded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		got := []byte(r.Header.Get(tokenHeader))
		kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
		switch {
		case subtle.ConstantTimeCompare(got, []byte(s.token)) != 1:
			refuse(w, http.StatusForbidden, "the address lacks the key of this run; open the one that neckloft live has printed")
		case r.Method != http.MethodPost:
			w.Header().Set("Allow", http.MethodPost)
			refuse(w, http.StatusMethodNotAllowed, "only POST is answered here")
		case kind != "application/json":
			refuse(w, http.StatusUnsupportedMediaType, "only JSON is answered here")
		default:
			r.Body = http.MaxBytesReader(w, r.Body, maxBody)
			next.ServeHTTP(w, r)
		}
	})
}

// routes registers the requests of the page: those of the engine, and those
// about the folder.
func (s *Server) routes(mux *http.ServeMux) {
	all := s.requests()
	all["start"] = asked(func(ctx context.Context, _ *struct{}) (any, error) {
		return do(ctx, s.drawing, mostDrawing, func(context.Context) (any, error) { return s.start() })
	})
	all["files"] = asked(func(context.Context, *struct{}) (any, error) { return s.folder.list() })
	all["open"] = asked(func(_ context.Context, req *fileRequest) (any, error) { return s.answerOpen(req) })
	all["save"] = asked(func(_ context.Context, req *fileRequest) (any, error) {
		return s.folder.save(req.Name, req.Text, req.Hash)
	})
	all["watch"] = asked(func(ctx context.Context, req *fileRequest) (any, error) {
		return do(ctx, s.watching, time.Minute, func(ctx context.Context) (any, error) { return s.answerWatch(ctx, req) })
	})
	for name, r := range all {
		mux.HandleFunc("/api/"+name, func(w http.ResponseWriter, req *http.Request) {
			send(w, r(req.Context(), bounded{req.Body}))
		})
	}
}

// bounded reads a body that http.MaxBytesReader bounds, with the engine's own
// error for one that is too large.
type bounded struct{ body io.Reader }

func (b bounded) Read(p []byte) (int, error) {
	n, err := b.body.Read(p)
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		err = errTooLarge
	}
	return n, err
}

// send writes a reply.
func send(w http.ResponseWriter, r Reply) {
	w.Header().Set("Content-Type", r.Type)
	w.WriteHeader(r.Status)
	w.Write(r.Data)
}

// refuse answers with a sentence.
func refuse(w http.ResponseWriter, status int, sentence string) { send(w, fail(status, sentence)) }

func (s *Server) answerOpen(req *fileRequest) (any, error) {
	f, err := s.folder.read(req.Name)
	if err == nil && f.Hash == "" {
		err = refusal{errors.New(req.Name + " is not there")}
	}
	return f, err
}

func (s *Server) answerWatch(ctx context.Context, req *fileRequest) (any, error) {
	f, err := s.watch(ctx, req.Name, req.Hash)
	if f == nil {
		return struct{}{}, err
	}
	return f, err
}
