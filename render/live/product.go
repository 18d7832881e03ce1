package live

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"slices"

	"neckloft/export/bench"
)

// productInfo is a product for the page.
type productInfo struct {
	Name    string `json:"name"`
	What    string `json:"what"`
	Missing string `json:"missing,omitempty"` // why it cannot be made
	Refused bool   `json:"refused,omitempty"` // it must not be cut by
}

func productInfos(set *bench.Set) []productInfo {
	var out []productInfo
	for _, p := range set.All() {
		out = append(out, productInfo{p.File, p.What, p.Why(), p.Refused})
	}
	return out
}

// productWords are what a builder must know before the files are used.
func productWords(set *bench.Set) []string {
	words := set.Cautions()
	if r := set.Refusal(); r != "" {
		words = append([]string{r}, words...)
	}
	return words
}

// allName is the name of the download that holds every product.
const allName = "all.zip"

// product writes one product, or all of them or those of some names, into memory. Between two of them
// it stops for a request that was given up. What cannot be made is left out of
// the whole, and the index in it says so.
func product(ctx context.Context, set *bench.Set, name string, only []string) ([]byte, bool, error) {
	var b bytes.Buffer
	all := set.All()
	if name == allName {
		z := zip.NewWriter(&b)
		for _, p := range all {
			if p.Missing != nil || len(only) > 0 && !slices.Contains(only, p.File) {
				continue
			}
			if err := ctx.Err(); err != nil {
				return nil, true, err
			}
			// Without a time, so that the same spec gives the same bytes.
			w, err := z.CreateHeader(&zip.FileHeader{Name: p.File, Method: zip.Deflate})
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
		if p.File == name {
			if p.Missing != nil {
				return nil, true, refusal{fmt.Errorf("%s is not made: %s", name, p.Why())}
			}
			if err := ctx.Err(); err != nil {
				return nil, true, err
			}
			err := p.Write(&b)
			return b.Bytes(), true, err
		}
	}
	return nil, false, nil
}
