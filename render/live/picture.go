package live

import (
	"bytes"
	"context"
	"errors"
	"slices"

	"neckloft/export/bench"
)

// pictureInfo is a picture of what will be made, for the page.
type pictureInfo struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Type  string `json:"type"` // of the media
}

func pictureInfos(all []bench.Picture) []pictureInfo {
	out := []pictureInfo{}
	for _, p := range all {
		kind := "image/png"
		if p.SVG {
			kind = "image/svg+xml"
		}
		out = append(out, pictureInfo{p.Name, p.Title, kind})
	}
	return out
}

// answerPicture draws one picture of what will be made.
func (e *Engine) answerPicture(ctx context.Context, req *fileRequest) (any, error) {
	j := e.judged(req.Text)
	if j.neck == nil {
		return nil, refusal{errNoNeck}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	all := e.made(j).Pictures()
	if !slices.ContainsFunc(all, func(p bench.Picture) bool { return p.Name == req.Name }) {
		x, err := e.extra(ctx, req.Text, req.Jigs)
		if err != nil {
			return nil, err
		}
		all = x.Pictures()
	}
	for _, p := range all {
		if p.Name != req.Name {
			continue
		}
		var b bytes.Buffer
		if err := p.Write(&b); err != nil {
			return nil, refusal{err}
		}
		return octets(b.Bytes()), nil
	}
	return nil, refusal{errors.New("there is no such picture")}
}
