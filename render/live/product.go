package live

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"neckloft/export/bench"
)

// productInfo is a product for the page.
type productInfo struct {
	Name    string `json:"name"`
	What    string `json:"what"`
	Missing string `json:"missing,omitempty"` // why it cannot be made
	Refused bool   `json:"refused,omitempty"` // it must not be cut by
}

func productInfos(all []bench.Product) []productInfo {
	out := []productInfo{}
	for _, p := range all {
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

// product writes one product into memory, or all of them, or those of some names:
// of what make does not write there are those names only. Between two of them it
// stops for a request that was given up. What cannot be made is left out of the
// whole, and the index in it says so.
func product(ctx context.Context, set *bench.Set, extra func() (*bench.Extra, error), name string, only []string) ([]byte, bool, error) {
	all := set.All()
	if slices.ContainsFunc(append([]string{name}, only...), bench.IsExtra) {
		x, err := extra()
		if err != nil {
			return nil, true, err
		}
		more, err := x.Files(append([]string{name}, only...))
		if err != nil {
			return nil, true, refusal{err}
		}
		all = append(all, more...)
	}
	if name == allName {
		data, err := zipped(ctx, all, func(file string) bool {
			return len(only) == 0 || slices.Contains(only, file) || strings.HasPrefix(file, bench.JigFolder+"/")
		})
		return data, true, err
	}
	for _, p := range all {
		if p.File != name {
			continue
		}
		if p.Missing != nil {
			return nil, true, refusal{fmt.Errorf("%s is not made: %s", name, p.Why())}
		}
		if err := ctx.Err(); err != nil {
			return nil, true, err
		}
		var b bytes.Buffer
		err := p.Write(&b)
		return b.Bytes(), true, err
	}
	return nil, false, nil
}

// zipped writes those products that are wanted and can be made into one file.
func zipped(ctx context.Context, all []bench.Product, wanted func(file string) bool) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, p := range all {
		if p.Missing != nil || !wanted(p.File) {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		// Without a time, so that the same spec gives the same bytes.
		w, err := z.CreateHeader(&zip.FileHeader{Name: p.File, Method: zip.Deflate})
		if err == nil {
			err = p.Write(w)
		}
		if err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}
