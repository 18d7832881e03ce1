package live

import (
	"context"
	"crypto/subtle"
	"embed"
	"encoding/json"
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

//go:embed page
var pageFiles embed.FS

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
			fail(w, http.StatusMisdirectedRequest, "this page is served to this machine only, under its own address")
		case origin != "" && origin != "http://"+r.Host:
			fail(w, http.StatusForbidden, "requests from other sites are refused")
		case crossSite(r):
			fail(w, http.StatusForbidden, "requests from other sites are refused")
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
			fail(w, http.StatusForbidden, "the address lacks the key of this run; open the one that neckloft live has printed")
		case r.Method != http.MethodPost:
			w.Header().Set("Allow", http.MethodPost)
			fail(w, http.StatusMethodNotAllowed, "only POST is answered here")
		case kind != "application/json":
			fail(w, http.StatusUnsupportedMediaType, "only JSON is answered here")
		default:
			r.Body = http.MaxBytesReader(w, r.Body, maxBody)
			next.ServeHTTP(w, r)
		}
	})
}

// routes registers the requests of the page.
func (s *Server) routes(mux *http.ServeMux) {
	handle(mux, "/api/start", func(ctx context.Context, _ *struct{}) (any, error) {
		return do(ctx, s.drawing, mostDrawing, func(context.Context) (any, error) { return s.start() })
	})
	handle(mux, "/api/model", func(ctx context.Context, req *modelRequest) (any, error) {
		return do(ctx, s.drawing, mostDrawing, func(ctx context.Context) (any, error) { return s.answerModel(ctx, req) })
	})
	handle(mux, "/api/section", func(ctx context.Context, req *sectionRequest) (any, error) {
		return do(ctx, s.drawing, mostDrawing, func(ctx context.Context) (any, error) { return s.answerSection(ctx, req) })
	})
	handle(mux, "/api/files", func(context.Context, *struct{}) (any, error) { return s.folder.list() })
	handle(mux, "/api/open", func(_ context.Context, req *fileRequest) (any, error) { return s.answerOpen(req) })
	handle(mux, "/api/save", func(_ context.Context, req *fileRequest) (any, error) {
		return s.folder.save(req.Name, req.Text, req.Hash)
	})
	handle(mux, "/api/watch", func(ctx context.Context, req *fileRequest) (any, error) {
		return do(ctx, s.watching, time.Minute, func(ctx context.Context) (any, error) { return s.answerWatch(ctx, req) })
	})
	handle(mux, "/api/make", func(ctx context.Context, req *fileRequest) (any, error) {
		return do(ctx, s.making, s.mostMaking, func(ctx context.Context) (any, error) { return s.answerMake(ctx, req) })
	})
}

// sectionRequest asks for the section of a text's neck.
type sectionRequest struct {
	Text string  `json:"text"`
	X    float64 `json:"x"`
}

// fileRequest is about a file in the folder, or a product.
type fileRequest struct {
	Name string `json:"name"`
	Text string `json:"text"`
	Hash string `json:"hash"` // of the file as the page knows it
}

func (s *Server) answerModel(ctx context.Context, req *modelRequest) (any, error) {
	m, err := s.newModel(ctx, req)
	if err != nil {
		return nil, err
	}
	data, err := frame(m, m.buffers)
	return octets(data), err
}

func (s *Server) answerSection(ctx context.Context, req *sectionRequest) (any, error) {
	j := s.judged(req.Text)
	if j.neck == nil {
		return nil, refusal{errNoNeck}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return drawSection(j.neck, req.X), nil
}

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

func (s *Server) answerMake(ctx context.Context, req *fileRequest) (any, error) {
	j := s.judged(req.Text)
	if j.neck == nil {
		return nil, refusal{errNoNeck}
	}
	data, known, err := product(ctx, s.bench(j.neck, j.problems), req.Name)
	if !known {
		return nil, refusal{errors.New("there is no such file to make")}
	}
	return octets(data), err
}

var errNoNeck = errors.New("the spec has errors; put them right first")

// octets is an answer that is not JSON.
type octets []byte

// handle registers a request with its body as JSON. Whatever goes wrong is an
// answer and not the end of the program.
func handle[T any](mux *http.ServeMux, path string, fn func(context.Context, *T) (any, error)) {
	mux.HandleFunc(path, func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if p := recover(); p != nil {
				fail(w, http.StatusInternalServerError, defect(p).Error())
			}
		}()
		var req T
		if err := json.NewDecoder(r.Body).Decode(&req); err != nil {
			var large *http.MaxBytesError
			if errors.As(err, &large) {
				fail(w, http.StatusRequestEntityTooLarge, "the request is too large")
				return
			}
			fail(w, http.StatusBadRequest, "the request is not understood")
			return
		}
		out, err := fn(r.Context(), &req)
		if err != nil {
			failWith(w, err)
			return
		}
		if data, ok := out.(octets); ok {
			w.Header().Set("Content-Type", "application/octet-stream")
			w.Write(data)
			return
		}
		w.Header().Set("Content-Type", "application/json")
		json.NewEncoder(w).Encode(out)
	})
}

// failWith answers with an error.
func failWith(w http.ResponseWriter, err error) {
	var ref refusal
	var con conflict
	switch {
	case errors.As(err, &con):
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(http.StatusConflict)
		json.NewEncoder(w).Encode(map[string]any{"error": con.Error(), "current": con.current})
	case errors.As(err, &ref):
		fail(w, http.StatusUnprocessableEntity, ref.Error())
	case errors.Is(err, errBusy), errors.Is(err, errSlow):
		fail(w, http.StatusServiceUnavailable, err.Error())
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		fail(w, http.StatusServiceUnavailable, "the request was called off")
	default:
		fail(w, http.StatusInternalServerError, err.Error())
	}
}

// fail answers with a sentence.
func fail(w http.ResponseWriter, status int, sentence string) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	json.NewEncoder(w).Encode(map[string]string{"error": sentence})
}
