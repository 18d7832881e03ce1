package live

import (
	"context"
	"path"

	"neckloft/export/bench"
	"neckloft/render"
)

// textRequest is about the neck of a text.
type textRequest struct {
	Text string `json:"text"`
}

// extra is what make does not write, for the page.
type extra struct {
	Jigs     []jigInfo     `json:"jigs"`
	LeftOut  []string      `json:"leftOut"` // why a jig cannot be made
	Products []productInfo `json:"products"`
	Pictures []pictureInfo `json:"pictures"`
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
func (e *Engine) answerExtra(ctx context.Context, req *textRequest) (any, error) {
	x, err := e.extra(ctx, req.Text)
	if err != nil {
		return nil, err
	}
	out := extra{Jigs: []jigInfo{}, LeftOut: append([]string{}, x.LeftOut...), Products: productInfos(x.Products), Pictures: pictureInfos(x.Pictures())}
	for _, j := range x.Jigs {
		out.Jigs = append(out.Jigs, jigInfo{path.Join(bench.JigFolder, j.Name), j.Name, j.Title, j.Cause, j.Use, j.Gaps, j.Never, render.JigShown(j.Jig)})
	}
	return out, nil
}

// extra works out what there is of a text's neck that make does not write.
func (e *Engine) extra(ctx context.Context, text string) (*bench.Extra, error) {
	j := e.judged(text)
	if j.neck == nil {
		return nil, refusal{errNoNeck}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	x, err := bench.NewExtra(j.neck)
	if err != nil {
		return nil, refusal{err}
	}
	return x, nil
}
