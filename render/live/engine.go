package live

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"sync"
	"time"

	"neckloft/export/bench"
	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
)

// Engine answers what the page asks of a spec's text: models, sections and files
// for the bench. It knows of no folder and no network, so that it runs inside a
// browser too.
type Engine struct {
	bench    func(*neck.Neck, spec.Problems) *bench.Set
	cautions []string
	tools    *spec.Tools

	// Drawing and making have places of their own, so that a long download
	// does not hold up the picture.
	drawing, making *limiter
	mostMaking      time.Duration

	mu     sync.Mutex
	kept   []keptJudgement
	extras keptExtra
}

// How long a computation may take.
const (
	mostDrawing = 20 * time.Second
	mostMaking  = 4 * time.Minute
)

// NewEngine returns an engine with the bench, the tools and the cautions of the
// options; the rest of them is the server's.
func NewEngine(o Options) *Engine {
	e := &Engine{
		bench: o.Bench, cautions: o.Cautions, tools: o.Tools,
		drawing: newLimiter(2), making: newLimiter(1),
		mostMaking: mostMaking,
	}
	if e.bench == nil {
		e.bench = bench.New
	}
	return e
}

// Options say what is served.
type Options struct {
	// File is the spec's file. Its folder is the only one that the page can
	// read and write in. Empty for a spec without a file: then Text is the
	// spec, and the folder is Folder.
	File   string
	Text   string
	Folder string // of a spec without a file; "" is the working folder

	// Bench returns what can be downloaded of a neck; nil for bench.New.
	Bench func(n *neck.Neck, warnings spec.Problems) *bench.Set

	// Tools are those of a shop, for what a spec's own do not say; nil for none.
	Tools *spec.Tools

	// Cautions are shown at the foot of the page.
	Cautions []string
}

// Reply is the answer to a request. Status is an HTTP status: 200, or that of a
// refusal or a failure, which Data tells as JSON.
type Reply struct {
	Status int
	Type   string // of Data: JSON, or application/octet-stream
	Data   []byte
}

// request is the answer to one kind of request, whose body is JSON.
type request func(ctx context.Context, body io.Reader) Reply

// requests are those that need nothing but the text of a spec.
func (e *Engine) requests() map[string]request {
	return map[string]request{
		"begin": asked(func(ctx context.Context, _ *struct{}) (any, error) {
			return do(ctx, e.drawing, mostDrawing, func(context.Context) (any, error) { return e.begin() })
		}),
		"model": asked(func(ctx context.Context, req *modelRequest) (any, error) {
			return do(ctx, e.drawing, mostDrawing, func(ctx context.Context) (any, error) { return e.answerModel(ctx, req) })
		}),
		"section": asked(func(ctx context.Context, req *sectionRequest) (any, error) {
			return do(ctx, e.drawing, mostDrawing, func(ctx context.Context) (any, error) { return e.answerSection(ctx, req) })
		}),
		"probe": asked(func(ctx context.Context, req *probeRequest) (any, error) {
			return do(ctx, e.drawing, mostDrawing, func(ctx context.Context) (any, error) { return e.answerProbe(ctx, req) })
		}),
		"make": asked(func(ctx context.Context, req *fileRequest) (any, error) {
			return do(ctx, e.making, e.mostMaking, func(ctx context.Context) (any, error) { return e.answerMake(ctx, req) })
		}),
		"extra": asked(func(ctx context.Context, req *extraRequest) (any, error) {
			return do(ctx, e.making, e.mostMaking, func(ctx context.Context) (any, error) { return e.answerExtra(ctx, req) })
		}),
		"picture": asked(func(ctx context.Context, req *fileRequest) (any, error) {
			return do(ctx, e.making, e.mostMaking, func(ctx context.Context) (any, error) { return e.answerPicture(ctx, req) })
		}),
	}
}

// Answer answers a request of the page by its name: "begin", "model", "section",
// "probe", "make", "extra" or "picture".
func (e *Engine) Answer(ctx context.Context, name string, body []byte) Reply {
	r, ok := e.requests()[name]
	if !ok {
		return fail(statusNotFound, "there is no such request")
	}
	return r(ctx, bytes.NewReader(body))
}

// sectionRequest asks for the section of a text's neck.
type sectionRequest struct {
	Text string  `json:"text"`
	X    float64 `json:"x"`

	With  string        `json:"with"`  // text of another neck that is compared, "" for none
	Along compare.Along `json:"along"` // what that has in the same place
}

// fileRequest is about a file in the folder, or a product.
type fileRequest struct {
	Name string `json:"name"`
	Text string `json:"text"`
	Hash string `json:"hash"` // of the file as the page knows it

	Only []string `json:"only"` // of all products, those to make; all where it is empty

	Jigs bench.JigAsked `json:"jigs"` // options of jigs that are not as usual
}

func (e *Engine) answerModel(ctx context.Context, req *modelRequest) (any, error) {
	m, err := e.newModel(ctx, req)
	if err != nil {
		return nil, err
	}
	head, err := m.head()
	return octets(frame(head, m.buffers)), err
}

func (e *Engine) answerSection(ctx context.Context, req *sectionRequest) (any, error) {
	j := e.judged(req.Text)
	if j.neck == nil {
		return nil, refusal{errNoNeck}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return drawSectionWith(j.neck, req.X, e.compared(j.neck, req.With, req.Along)), nil
}

func (e *Engine) answerMake(ctx context.Context, req *fileRequest) (any, error) {
	j := e.judged(req.Text)
	if j.neck == nil {
		return nil, refusal{errNoNeck}
	}
	extra := func() (*bench.Extra, error) { return e.extra(ctx, req.Text, req.Jigs) }
	data, known, err := product(ctx, e.made(j), extra, req.Name, req.Only)
	if !known {
		return nil, refusal{errors.New("there is no such file to make")}
	}
	return octets(data), err
}

var errNoNeck = errors.New("the spec has errors; put them right first")

// octets is an answer that is not JSON.
type octets []byte

// The statuses of replies, as in HTTP.
const (
	statusOK          = 200
	statusBadRequest  = 400
	statusNotFound    = 404
	statusConflict    = 409
	statusTooLarge    = 413
	statusRefused     = 422
	statusFailed      = 500
	statusUnavailable = 503
)

// errTooLarge is the error of reading a body that is larger than a request may
// be.
var errTooLarge = errors.New("the request is too large")

// asked makes a request of a function of its body. Whatever goes wrong is a
// reply and not the end of the program.
func asked[T any](fn func(context.Context, *T) (any, error)) request {
	return func(ctx context.Context, body io.Reader) (reply Reply) {
		defer func() {
			if p := recover(); p != nil {
				reply = fail(statusFailed, defect(p).Error())
			}
		}()
		var req T
		if err := json.NewDecoder(body).Decode(&req); err != nil {
			if errors.Is(err, errTooLarge) {
				return fail(statusTooLarge, errTooLarge.Error())
			}
			return fail(statusBadRequest, "the request is not understood")
		}
		out, err := fn(ctx, &req)
		if err != nil {
			return failWith(err)
		}
		if data, ok := out.(octets); ok {
			return Reply{statusOK, "application/octet-stream", data}
		}
		return inJSON(statusOK, out)
	}
}

// inJSON returns a reply with a value as JSON.
func inJSON(status int, v any) Reply {
	var b bytes.Buffer
	if err := json.NewEncoder(&b).Encode(v); err != nil {
		return fail(statusFailed, defect(err).Error())
	}
	return Reply{status, "application/json", b.Bytes()}
}

// failWith replies with an error.
func failWith(err error) Reply {
	var ref refusal
	var con conflict
	switch {
	case errors.As(err, &con):
		return inJSON(statusConflict, map[string]any{"error": con.Error(), "current": con.current})
	case errors.As(err, &ref):
		return fail(statusRefused, ref.Error())
	case errors.Is(err, errBusy), errors.Is(err, errSlow):
		return fail(statusUnavailable, err.Error())
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return fail(statusUnavailable, "the request was called off")
	}
	return fail(statusFailed, err.Error())
}

// fail replies with a sentence.
func fail(status int, sentence string) Reply {
	return inJSON(status, map[string]string{"error": sentence})
}
