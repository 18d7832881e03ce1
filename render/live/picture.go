package live

import (
	"bytes"
	"context"
	"errors"

	"neckloft/export/bench"
)

// pictureInfo is a picture of what will be made, for the page.
type pictureInfo struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Type  string `json:"type"` // of the media
}

func pictureInfos(set *bench.Set) []pictureInfo {
	out := []pictureInfo{}
	for _, p := range set.Pictures() {
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
	for _, p := range e.made(j).Pictures() {
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
