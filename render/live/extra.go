package live

import (
	"context"
	"errors"
	"maps"
	"path"

	"neckloft/export/bench"
	"neckloft/neck"
	"neckloft/render"
)

// extraRequest is about the neck of a text.
type extraRequest struct {
	Text string         `json:"text"`
	Jigs bench.JigAsked `json:"jigs"` // options of jigs that are not as usual
}

// extra is what make does not write, for the page.
type extra struct {
	Jigs     []jigInfo     `json:"jigs"`
	LeftOut  []string      `json:"leftOut"` // why a jig that the spec asks for cannot be made
	Others   []string      `json:"others"`  // why another one cannot
	Products []productInfo `json:"products"`
	Pictures []pictureInfo `json:"pictures"`
	Options  []jigOption   `json:"options"`
	Fault    *jigFault     `json:"fault,omitempty"` // of an option: there are no jigs then
}

// jigOption is an option of jigs for the page.
type jigOption struct {
	Name    string              `json:"name"`
	Label   string              `json:"label"`
	Help    string              `json:"help"`
	Kind    bench.JigOptionKind `json:"kind"`
	Choices []string            `json:"choices,omitempty"`
	Usual   string              `json:"usual"`
}

// jigFault says what is wrong with an option.
type jigFault struct {
	Option string `json:"option"`
	Error  string `json:"error"`
}

// jigInfo is a jig for the page, with the words that stand on its picture.
type jigInfo struct {
	Name  string   `json:"name"` // to ask for its files by
	Title string   `json:"title"`
	What  string   `json:"what"`
	Cause string   `json:"cause"` // "" where nothing in the spec asks for it
	Use   []string `json:"use"`
	Gaps  string   `json:"gaps"`
	Never string   `json:"never"`
	Seen  string   `json:"seen"` // what the picture shows twice, "" for nothing
}

// answerExtra says what there is of a neck that make does not write.
func (e *Engine) answerExtra(ctx context.Context, req *extraRequest) (any, error) {
	out := extra{Jigs: []jigInfo{}, LeftOut: []string{}, Others: []string{}, Products: []productInfo{}, Pictures: []pictureInfo{}}
	x, err := e.extra(ctx, req.Text, req.Jigs)
	if fault := (bench.JigFault{}); errors.As(err, &fault) {
		out.Fault = &jigFault{fault.Option, fault.Error()}
		x, err = e.extra(ctx, req.Text, nil) // the mill has no part in it
		if err == nil {
			bare := *x // which is kept
			bare.Jigs, bare.LeftOut, bare.Others = nil, nil, nil
			x = &bare
		}
	}
	if err != nil {
		return nil, err
	}
	n := e.judged(req.Text).neck
	for _, o := range bench.AllJigOptions() {
		out.Options = append(out.Options, jigOption{o.Name, o.Label, o.Usage, o.Kind, o.Choices, o.Usual(n)})
	}
	out.LeftOut, out.Others = append(out.LeftOut, x.LeftOut...), append(out.Others, x.Others...)
	out.Products, out.Pictures = productInfos(x.Products), pictureInfos(x.Pictures())
	for _, j := range x.Jigs {
		out.Jigs = append(out.Jigs, jigInfo{path.Join(bench.JigFolder, j.Name), j.Name, j.Title, j.Cause, j.Use, j.Gaps, j.Never, render.JigShown(j.Jig)})
	}
	return out, nil
}

// keptExtra is what was worked out last: a page that shows jigs asks for a list and
// for the picture of each, and then for their files.
type keptExtra struct {
	neck  *neck.Neck
	asked bench.JigAsked
	extra *bench.Extra
}

// extra works out what there is of a text's neck that make does not write, its jigs
// as asked. Nobody may change it.
func (e *Engine) extra(ctx context.Context, text string, asked bench.JigAsked) (*bench.Extra, error) {
	j := e.judged(text)
	if j.neck == nil {
		return nil, refusal{errNoNeck}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	e.mu.Lock()
	last := e.extras
	e.mu.Unlock()
	if last.neck == j.neck && maps.Equal(last.asked, asked) {
		return last.extra, nil
	}
	x, err := bench.NewExtra(j.neck, asked)
	if err != nil {
		return nil, refusal{err}
	}
	e.mu.Lock()
	e.extras = keptExtra{j.neck, maps.Clone(asked), x}
	e.mu.Unlock()
	return x, nil
}
