package live

import (
	"archive/zip"
	"bytes"
	"context"
	"io"

	"neckloft/neck"
)

// A Product is a file that can be downloaded.
type Product struct {
	Name  string
	What  string // what it is for, one sentence
	Write func(io.Writer) error
}

type productInfo struct {
	Name string `json:"name"`
	What string `json:"what"`
}

// allName is the name of the download that holds every product.
const allName = "all.zip"

// product writes one product, or all of them, into memory. Between two of them
// it stops for a request that was given up.
func (s *Server) product(ctx context.Context, n *neck.Neck, warnings neck.Problems, name string) ([]byte, bool, error) {
	var b bytes.Buffer
	all := s.products(n, warnings)
	if name == allName {
		z := zip.NewWriter(&b)
		for _, p := range all {
			if err := ctx.Err(); err != nil {
				return nil, true, err
			}
			// Without a time, so that the same spec gives the same bytes.
			w, err := z.CreateHeader(&zip.FileHeader{Name: p.Name, Method: zip.Deflate})
			if err == nil {
				err = p.Write(w)
			}
			if err != nil {
				return nil, true, err
			}
		}
		err := z.Close()
		return b.Bytes(), true, err
	}
	for _, p := range all {
		if p.Name == name {
			if err := ctx.Err(); err != nil {
				return nil, true, err
			}
			err := p.Write(&b)
			return b.Bytes(), true, err
		}
	}
	return nil, false, nil
}
