package main

import (
	"bytes"
	"encoding/base64"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"neckloft/export/bench"
)

// prints presses a button of the choice of files that opens a sheet to print, and
// looks at the tab that comes up: it holds the bytes that make writes.
func (p *livePage) prints(t *testing.T) {
	t.Helper()
	p.run(`window.sheets = []; { const plain = URL.createObjectURL; URL.createObjectURL = (b) => { const url = plain.call(URL, b); if (b.type === 'application/pdf') sheets.push([url, b]); return url; } }`)
	p.click("#to-make")
	p.until(`document.getElementById('make').open`)
	p.click(`#make-list [aria-label="Print plan.pdf"]`)
	p.until(`document.getElementById('make-state').textContent.startsWith('plan.pdf is open in another tab. Print it at 100 %')`)
	url := get[string](p, `sheets[0][0]`)
	var open *target.Info
	require.Eventually(t, func() bool {
		all, err := chromedp.Targets(p.ctx)
		require.NoError(t, err)
		for _, i := range all {
			if i.URL == url {
				open = i
			}
		}
		return open != nil
	}, time.Minute, 50*time.Millisecond, "a tab with the sheet")
	require.Equal(t, "page", open.Type)
	tab, end := chromedp.NewContext(p.ctx, chromedp.WithTargetID(open.TargetID))
	require.NoError(t, chromedp.Do(tab))
	end()
	sheet := await[string](p, `sheets[0][1].arrayBuffer().then((b) => btoa([...new Uint8Array(b)].map((c) => String.fromCharCode(c)).join('')))`)
	got, err := base64.StdEncoding.DecodeString(sheet)
	require.NoError(t, err)
	all := bench.New(p.shown(), nil).Products
	plan := slices.IndexFunc(all, func(pr bench.Product) bool { return pr.File == "plan.pdf" })
	var want bytes.Buffer
	require.NoError(t, all[plan].Write(&want))
	require.True(t, bytes.Equal(want.Bytes(), got), "the plan of make")
	p.run(`document.getElementById('make').close()`)
}

// pagesOf counts the pages of a PDF that is not packed.
func pagesOf(pdf []byte) int { return len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(pdf, -1)) }

// onPaper prints the page itself.
func (p *livePage) onPaper(t *testing.T) {
	t.Helper()
	pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF())
	require.NoError(t, err)
	require.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
	if dir := os.Getenv("NECKLOFT_SHOTS"); dir != "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, strings.ReplaceAll(t.Name(), "/", "-")+".pdf"), pdf, 0o644))
	}
	require.Equal(t, 2, pagesOf(pdf), "pictures and numbers, then the table and the cautions")
}
