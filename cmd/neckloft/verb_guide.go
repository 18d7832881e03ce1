package main

import (
	"embed"
	"fmt"
	"io"
	"regexp"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"neckloft/export"
)

// guideFiles are the pages of the guide, as they also stand on the web.
//
//go:embed guide/*.md
var guideFiles embed.FS

// guidePage is a page of the guide: its name, and other words for which it is
// the page to read.
type guidePage struct {
	name string
	also []string
}

// guidePages lists the pages in the order in which a builder meets them.
func guidePages() []guidePage {
	return []guidePage{
		{name: "start"},
		{name: "commands", also: []string{"verbs", "help"}},
		{name: "spec", also: []string{"starter", "check"}},
		{name: "tools", also: []string{"shop"}},
		{name: "left-hand", also: []string{"mirror", "hand"}},
		{name: "instruments", also: []string{"fretless"}},
		{name: "stations"},
		{name: "board", also: []string{"frets", "fretboard"}},
		{name: "make"},
		{name: "mesh"},
		{name: "mill", also: []string{"cnc", "cam"}},
		{name: "step", also: []string{"cad"}},
		{name: "preview"},
		{name: "compare"},
		{name: "bending", also: []string{"strings", "bow"}},
		{name: "sticks", also: []string{"blank", "scarf", "laminations"}},
		{name: "plan", also: []string{"carve"}},
		{name: "walk", also: []string{"walks"}},
		{name: "gauges", also: []string{"sheets", "paper"}},
		{name: "jigs", also: []string{"caul", "cradle"}},
		{name: "channels", also: []string{"channel", "rod", "bars"}},
		{name: "headstock", also: []string{"outline", "tuners"}},
		{name: "heel", also: []string{"angle", "template", "joint"}},
		{name: "fit", also: []string{"readings", "scan"}},
		{name: "progress", also: []string{"rescue"}},
		{name: "live"},
		{name: "page"},
		{name: "words"},
		{name: "safety", also: []string{"cautions"}},
	}
}

// markdown returns the text of a page as it is kept.
func (g guidePage) markdown() string {
	text, err := guideFiles.ReadFile("guide/" + g.name + ".md")
	if err != nil {
		panic(err) // a page that is listed and not embedded is a slip here
	}
	return string(text)
}

// title returns the page's heading.
func (g guidePage) title() string { return guideTitles()[g.name] }

// guideTitles reads the headings of all pages once: each call of the program names
// them all, whatever it is asked for.
var guideTitles = sync.OnceValue(func() map[string]string {
	titles := map[string]string{}
	for _, g := range guidePages() {
		first, _, _ := strings.Cut(g.markdown(), "\n")
		titles[g.name] = strings.TrimPrefix(first, "# ")
	}
	return titles
})

// sentence returns the page's first paragraph, which is one sentence and says
// what the page is for.
func (g guidePage) sentence() string {
	_, rest, _ := strings.Cut(g.markdown(), "\n\n")
	first, _, _ := strings.Cut(rest, "\n\n")
	return strings.Join(strings.Fields(first), " ")
}

var (
	// imageLine is a line of Markdown that holds a picture, and the empty line
	// after it.
	imageLine = regexp.MustCompile(`(?m)^!\[[^\]]*\]\([^)]*\)\n\n?`)

	// pageLink is a link of Markdown.
	pageLink = regexp.MustCompile(`\[([^\]]*)\]\([^)]*\)`)
)

// printed returns the page for a terminal: without pictures, and of a link only
// its words, with tables in columns.
func (g guidePage) printed() string {
	return alignTables(pageLink.ReplaceAllString(imageLine.ReplaceAllString(g.markdown(), ""), "$1"))
}

func (p *program) guideVerb() *cobra.Command {
	var output string
	show := func(text string) error {
		return p.write(output, func(w io.Writer) error {
			_, err := io.WriteString(w, text)
			return err
		})
	}
	cmd := &cobra.Command{
		Use:   "guide [PAGE]",
		Short: "The manual, page by page",
		Long: `Prints a page of the manual, or without PAGE the list of pages. The pages are
Markdown; pictures are left out.`,
		Example: `  neckloft guide
  neckloft guide plan
  neckloft guide plan -o plan.md`,
		SuggestionsMinimumDistance: 2,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			msg := fmt.Sprintf("guide: page %q is unknown", args[0])
			if s := cmd.SuggestionsFor(args[0]); len(s) > 0 {
				msg += fmt.Sprintf("; did you mean %q?", s[0])
			}
			return wrong("%s; \"neckloft guide\" lists the pages", msg)
		},
		RunE: func(*cobra.Command, []string) error { return show(guideList()) },
	}
	cmd.PersistentFlags().StringVarP(&output, "output", "o", "-", "file to write, - for the terminal")
	for _, page := range guidePages() {
		cmd.AddCommand(&cobra.Command{
			Use:     page.name,
			Aliases: page.also,
			Short:   page.title(),
			Args: func(_ *cobra.Command, args []string) error {
				if len(args) > 0 {
					return wrong("guide: %d pages; allowed: one at a time", 1+len(args))
				}
				return nil
			},
			RunE: func(*cobra.Command, []string) error { return show(page.printed()) },
		})
	}
	return cmd
}

// guideList returns the list of pages with a sentence each.
func guideList() string {
	var b strings.Builder
	b.WriteString("The pages of the guide. \"neckloft guide PAGE\" prints one.\n\n")
	for _, page := range guidePages() {
		lead := fmt.Sprintf("  %-12s", page.name)
		for _, line := range export.InLines(page.sentence(), 80-len(lead)) {
			b.WriteString(lead + line + "\n")
			lead = strings.Repeat(" ", len(lead))
		}
	}
	return b.String()
}
