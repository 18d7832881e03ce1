package main

import (
	"fmt"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/export/bench"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// manual returns the README and the pages of the guide as they are kept, by
// their paths from here.
func manual(t *testing.T) map[string]string {
	t.Helper()
	paths, err := filepath.Glob("guide/*.md")
	require.NoError(t, err)
	out := map[string]string{}
	for _, path := range append(paths, "../../README.md") {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		out[path] = string(text)
	}
	return out
}

// fenced is a block of code between fences, with its language.
var fenced = regexp.MustCompile("(?ms)^```(\\w*)\n(.*?)^```\n")

// codeBlocks are blocks of code, between fences or set in.
var codeBlocks = regexp.MustCompile("(?ms)^```\\w*\n.*?^```\n|^ {4,}[^\n]*\n")

// callLine is a call of the program in a block, with the lines it goes on in.
var callLine = regexp.MustCompile(`(?m)^ *neckloft (?:.*\\\n)*.*`)

// spans are pieces of code within a line.
var spans = regexp.MustCompile("`([^`\n]+)`")

// prose returns a page without its blocks of code and its pictures.
func prose(text string) string {
	return imageLine.ReplaceAllString(fenced.ReplaceAllString(text, "\n"), "")
}

// commandLines returns the calls of the program that a page shows, in order:
// in its blocks and within its lines.
func commandLines(text string) []string {
	type found struct {
		at   int
		line string
	}
	var all []found
	for _, block := range codeBlocks.FindAllStringIndex(text, -1) {
		for _, m := range callLine.FindAllStringIndex(text[block[0]:block[1]], -1) {
			all = append(all, found{block[0] + m[0], text[block[0]+m[0] : block[0]+m[1]]})
		}
	}
	for _, m := range spans.FindAllStringSubmatchIndex(text, -1) {
		all = append(all, found{m[2], text[m[2]:m[3]]})
	}
	slices.SortStableFunc(all, func(a, b found) int { return a.at - b.at })
	var out []string
	for _, f := range all {
		line := strings.ReplaceAll(f.line, "\\\n", " ")
		if strings.HasPrefix(strings.TrimSpace(line), "neckloft ") {
			out = append(out, strings.TrimSpace(line))
		}
	}
	return out
}

// shellWords parts a line as a shell does, as far as the pages need it.
func shellWords(line string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`"([^"]*)"|\S+`).FindAllStringSubmatch(line, -1) {
		if m[0][0] == '"' {
			out = append(out, m[1])
			continue
		}
		out = append(out, m[0])
	}
	return out
}

// verbNamed returns the verb of that name.
func verbNamed(name string) *cobra.Command {
	for _, v := range (&program{err: io.Discard}).verbs() {
		if v.Name() == name {
			return v
		}
	}
	return nil
}

// hasFlag reports whether a verb has a flag of that name, which is not an old
// name of another.
func hasFlag(v *cobra.Command, name string) bool {
	for _, set := range []*pflag.FlagSet{v.Flags(), v.PersistentFlags()} {
		if f := set.Lookup(name); f != nil && f.Name == name {
			return true
		}
	}
	return name == "help"
}

// TestGuideListsEveryPage checks that each page is listed with its sentence and
// printed, that the README leads to it, and what is printed.
func TestGuideListsEveryPage(t *testing.T) {
	list := call("", "guide")
	require.Equal(t, exitDone, list.code, list.err)
	kept := manual(t)
	var listed []string
	for _, page := range guidePages() {
		path := "guide/" + page.name + ".md"
		listed = append(listed, path)
		assert.Contains(t, list.out, "\n  "+page.name+" ")
		assert.Contains(t, strings.Join(strings.Fields(list.out), " "), page.name+" "+page.sentence())
		assert.Equal(t, 1, strings.Count(page.sentence(), ". ")+1, "%s: one sentence", page.name)
		assert.Contains(t, kept["../../README.md"], "(cmd/neckloft/"+path+")")

		for _, name := range append(page.also, page.name) {
			r := call("", "guide", name)
			require.Equal(t, exitDone, r.code, r.err)
			assert.True(t, strings.HasPrefix(kept[path], r.out[:strings.Index(r.out, "\n")+1]), name)
			assert.NotContains(t, r.out, "](", "links and pictures")
			assert.NotContains(t, r.out, "\n\n\n")
		}
	}
	delete(kept, "../../README.md")
	assert.ElementsMatch(t, slices.Collect(maps.Keys(kept)), listed)
}

// TestGuideCalls checks hints, exit codes and files.
func TestGuideCalls(t *testing.T) {
	inFolder(t)
	for _, c := range []struct{ args, want string }{
		{"guide paln", `page "paln" is unknown; did you mean "plan"?`},
		{"guide gauge", `did you mean "gauges"?`},
		{"guide xylophone", `page "xylophone" is unknown; "neckloft guide" lists the pages`},
		{"guide plan mesh", "guide: 2 pages; allowed: one at a time"},
		{"guide --bogus", "unknown flag"},
		{"guid", `did you mean "guide"?`},
	} {
		r := call("", strings.Fields(c.args)...)
		assert.Equal(t, exitUsage, r.code, c.args)
		assert.Contains(t, r.err, c.want)
		assert.Empty(t, r.out)
	}
	r := call("", "guide", "plan", "-o", "plan")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Empty(t, r.out)
	assert.Equal(t, call("", "guide", "plan").out, readingsText(t, "plan"))
	assert.Equal(t, exitFailed, call("", "guide", "-o", "nowhere/list.txt").code)
}

// TestGuideLinks checks that every link of README, DEVELOPERS and guide leads to
// something, and that every picture is shown.
func TestGuideLinks(t *testing.T) {
	pages := manual(t)
	text, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	pages["../../DEVELOPERS.md"] = string(text)
	shown := map[string]bool{}
	for path, text := range pages {
		for _, m := range pageLink.FindAllStringSubmatch(text, -1) {
			to := strings.TrimSuffix(m[0][strings.Index(m[0], "](")+2:], ")")
			full := filepath.Join(filepath.Dir(path), to)
			assert.FileExists(t, full, path)
			shown[filepath.Base(full)] = true
		}
	}
	pictures, err := filepath.Glob("../../testdata/pictures/*")
	require.NoError(t, err)
	for _, p := range pictures {
		assert.True(t, shown[filepath.Base(p)], "%s is on no page", p)
	}
}

// TestGuideWrapped checks that pages fit a terminal and that what should be
// short is.
func TestGuideWrapped(t *testing.T) {
	for path, text := range manual(t) {
		for line := range strings.Lines(prose(text)) {
			assert.Zero(t, strings.Count(line, "`")%2, "%s: code goes on in the next line: %s", path, line)
			if path == "../../README.md" && strings.HasPrefix(line, "|") {
				continue // links are long
			}
			assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimRight(line, "\n")), 80, "%s: %s", path, line)
		}
		for _, m := range fenced.FindAllStringSubmatch(text, -1) {
			for line := range strings.Lines(m[2]) {
				if strings.HasPrefix(line, "neckloft") || strings.HasPrefix(line, "#") {
					assert.LessOrEqual(t, len(line), 81, "%s: %s", path, line)
				}
			}
		}
		assert.Equal(t, strings.TrimRight(text, "\n")+"\n", text, path)
	}
	for path, most := range map[string]int{"../../README.md": 110, "../../DEVELOPERS.md": 120} {
		assert.LessOrEqual(t, strings.Count(readingsText(t, path), "\n"), most, path)
	}
}

// TestGuideFlags checks that every verb and every flag that the pages name is
// there: those of a call on its verb, others on the verb of the page or, where
// the page is about no one verb, on any.
func TestGuideFlags(t *testing.T) {
	flag := regexp.MustCompile(`--([a-z][a-z-]*)`)
	short := regexp.MustCompile(`(?:^| )-([a-z])\b`)
	for path, text := range manual(t) {
		for _, line := range commandLines(text) {
			line, _, _ = strings.Cut(line, " > ")
			for part := range strings.SplitSeq(line, " | ") {
				w := shellWords(part)
				if w[1] == "VERB" || w[1] == "PAGE" {
					continue
				}
				v := verbNamed(w[1])
				if !assert.NotNil(t, v, "%s: %s", path, part) {
					continue
				}
				for _, m := range flag.FindAllStringSubmatch(part, -1) {
					assert.True(t, hasFlag(v, m[1]), "%s: %s", path, part)
				}
				for _, m := range short.FindAllStringSubmatch(part, -1) {
					there := v.Flags().ShorthandLookup(m[1]) != nil || v.PersistentFlags().ShorthandLookup(m[1]) != nil
					assert.True(t, there, "%s: %s", path, part)
				}
			}
		}
		page := strings.TrimSuffix(filepath.Base(path), ".md")
		for _, m := range spans.FindAllStringSubmatch(fenced.ReplaceAllString(text, "\n"), -1) {
			if !strings.HasPrefix(m[1], "--") {
				continue
			}
			for _, f := range flag.FindAllStringSubmatch(m[1], -1) {
				there := false
				for _, v := range (&program{err: io.Discard}).verbs() {
					there = there || hasFlag(v, f[1])
				}
				if v := verbNamed(page); v != nil {
					there = hasFlag(v, f[1])
				}
				assert.True(t, there, "%s: %s", path, m[1])
			}
		}
	}
}

// shownTools returns the file of tools that the page on them shows.
func shownTools(t *testing.T) string {
	t.Helper()
	for _, m := range fenced.FindAllStringSubmatch(readingsText(t, "guide/tools.md"), -1) {
		if m[1] == "toml" {
			return m[2]
		}
	}
	require.Fail(t, "the page on tools shows none")
	return ""
}

// shownNeck returns the spec of the neck that the page with the walks carves.
func shownNeck(t *testing.T) string {
	t.Helper()
	for _, m := range fenced.FindAllStringSubmatch(readingsText(t, "guide/walk.md"), -1) {
		if m[1] == "toml" {
			return m[2]
		}
	}
	require.Fail(t, "the page with the walks shows no neck")
	return ""
}

// guideFolder makes a folder with the files that the pages' commands take.
func guideFolder(t *testing.T) {
	t.Helper()
	files := map[string]string{
		"my-neck.toml": spec.Starter(),
		"mine.toml":    spec.Starter(),
		"old.toml":     readingsText(t, "../../testdata/specs/redshank.toml"),
		"old.csv":      readingsText(t, oldNeck),
		"today.csv":    readingsText(t, evening),
	}
	for _, glob := range []string{"../../testdata/specs/*", "../../testdata/readings/*"} {
		paths, err := filepath.Glob(glob)
		require.NoError(t, err)
		for _, path := range paths {
			files[strings.TrimPrefix(path, "../../")] = readingsText(t, path)
		}
	}
	files["my-tools.toml"] = shownTools(t)
	files["half-round.toml"] = shownNeck(t)
	inFolder(t)
	for name, text := range files {
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o777))
		require.NoError(t, os.WriteFile(name, []byte(text), 0o666))
	}
}

// TestGuideCommands runs commands of README and guide to the letter, all but
// those that need a scan or a browser, or an engine that is not built: all with
// DRAWN=all, and else one of each verb. Of the others it reads the flags.
func TestGuideCommands(t *testing.T) {
	pages := manual(t)
	guideFolder(t)
	ran, verbs := map[string]bool{}, map[string]bool{}
	for _, path := range slices.Sorted(maps.Keys(pages)) {
		for _, line := range commandLines(pages[path]) {
			verb := strings.Fields(line)[1]
			switch {
			case ran[line], strings.Contains(line, "VERB"), strings.Contains(line, "PAGE"),
				strings.Contains(line, "--scan"), verb == "live":
				continue
			case verb == "page" && !engineBuilt():
				continue
			case testing.Short() && verb == "make":
				continue
			}
			ran[line] = true
			// Another test makes the files of make.
			if (verbs[verb] || verb == "make") && !drawn.All() {
				verbs[verb] = true
				parseCommand(t, line)
				continue
			}
			verbs[verb] = true
			runCommand(t, path, line)
		}
	}
	assert.Greater(t, len(ran), 80)
	assert.Greater(t, len(verbs), 15)
}

// runCommand runs a line of a page as a shell does.
func runCommand(t *testing.T, path, line string) {
	t.Helper()
	parts, file, toFile := strings.Cut(line, " > ")
	file, _, _ = strings.Cut(file, " ")
	var r result
	for part := range strings.SplitSeq(parts, " | ") {
		w := shellWords(part)
		require.Equal(t, "neckloft", w[0])
		args := w[1:]
		if args[0] == "preview" || strings.Contains(part, "solids") || strings.HasSuffix(part, "-o jigs") {
			args = append(args, "--size", "600") // small, for the test's time
		}
		r = call(r.out, args...)
		assert.Equal(t, exitDone, r.code, "%s: %s: %s", path, line, r.err)
	}
	if toFile {
		require.NoError(t, os.WriteFile(file, []byte(r.out), 0o666))
	}
}

// parseCommand reads the flags and counts the arguments of a line of a page.
func parseCommand(t *testing.T, line string) {
	t.Helper()
	parts, _, _ := strings.Cut(line, " > ")
	for part := range strings.SplitSeq(parts, " | ") {
		w := shellWords(part)
		v := verbNamed(w[1])
		require.NotNil(t, v, line)
		if assert.NoError(t, v.ParseFlags(w[2:]), line) {
			assert.NoError(t, v.ValidateArgs(v.Flags().Args()), line)
		}
	}
}

// squeezed is a text with single spaces, without the marks of a quotation.
func squeezed(text string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll("\n"+text, "\n>", "\n")), " ")
}

// TestGuideQuotes checks that what the pages show as the program's own words is.
//
// Long, since its cases share what is set up first.
func TestGuideQuotes(t *testing.T) {
	pages := manual(t)
	block := func(page, lang string, i int) string {
		var all []string
		for _, m := range fenced.FindAllStringSubmatch(pages["guide/"+page+".md"], -1) {
			if m[1] == lang && !strings.Contains(m[2], "neckloft ") {
				all = append(all, m[2])
			}
		}
		require.Greater(t, len(all), i, page)
		return all[i]
	}
	quotes := func(page string) []string {
		var all []string
		for _, m := range regexp.MustCompile(`(?m)(?:^> .*\n)+`).FindAllString(pages["guide/"+page+".md"], -1) {
			all = append(all, squeezed(m))
		}
		return all
	}
	guideFolder(t)

	// The readings of the page on fits, and what is said of them.
	fits := quotes("fit")
	require.Len(t, fits, 2)
	r := call(block("fit", "", 0), "fit", "-")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, squeezed(strings.ReplaceAll(r.out, "\n#", "\n")), fits[0])
	require.NoError(t, os.WriteFile("few.csv", []byte(block("fit", "", 0)), 0o666))
	for _, line := range commandLines(pages["guide/fit.md"]) {
		if strings.Contains(line, " old.csv ") {
			r = call("", shellWords(strings.Replace(line, "old.csv", "few.csv", 1))[1:]...)
			assert.Equal(t, exitDone, r.code, "%s: %s", line, r.err)
		}
	}
	require.NoError(t, os.WriteFile("readings.toml", []byte(block("fit", "toml", 0)), 0o666))
	r = call("", "fit", "readings.toml", "--spec", "my-neck.toml", "-o", "fitted.toml")
	assert.Equal(t, exitDone, r.code, r.err)
	r = call("", "fit", "old.csv", "-o", "fitted.toml")
	assert.Contains(t, squeezed(r.out), fits[1])

	r = call("", "progress", "my-neck.toml", "today.csv")
	for line := range strings.Lines(block("progress", "", 0)) {
		assert.Contains(t, squeezed(r.out), squeezed(line))
	}

	said := quotes("compare")
	require.Len(t, said, 1)
	r = call("", "compare", "testdata/specs/sanderling.toml", "testdata/specs/redshank.toml")
	assert.Contains(t, r.out, strings.TrimSuffix(said[0], ", ..."))

	// Numbers of the demo neck.
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	var heads strings.Builder
	for _, h := range export.Headlines(n) {
		fmt.Fprintf(&heads, "%s %s\n", h.Name, h.Value)
	}
	bow := regexp.MustCompile(`\*(bow without [^*]*)\*`).FindStringSubmatch(pages["guide/bending.md"])
	require.NotNil(t, bow)
	assert.Contains(t, heads.String(), squeezed(bow[1]))
	plan := call("", "plan").out
	page := squeezed(pages["guide/plan.md"])
	for said, there := range map[string]string{
		"brought to 14.84 mm where the volute ends and to 17.17 mm": "Depth 14.84 mm at x = 10 mm and 17.17 mm at",
		"a drop of 2.33 mm over 366 mm":                             "a drop of 2.33 mm over 366.21 mm",
		"a shim of 2.33 mm at the nut end":                          "shim of 2.33 mm at the nut end",
		"takes off 43 % of the rounding":                            "57 % of the rounding",
	} {
		assert.Contains(t, page, said)
		assert.Contains(t, squeezed(plan), there)
	}

	// Strings that the page shows in a spec, and the letters of shapes.
	rest, _, ok := strings.Cut(spec.Starter(), "[strings]\n")
	require.True(t, ok)
	r = call(rest+block("bending", "toml", 0), "check", "-")
	assert.Equal(t, exitDone, r.code, r.err)
	for _, s := range spec.Shapes() {
		assert.Regexp(t, fmt.Sprintf(`\| %s +\| %.4g`, s.Name, s.Fullness), pages["guide/words.md"])
	}
}

// TestGuideTables checks that the tables of verbs and files are complete.
func TestGuideTables(t *testing.T) {
	pages := manual(t)
	for _, path := range []string{"../../README.md", "guide/commands.md"} {
		for _, v := range (&program{err: io.Discard}).verbs() {
			assert.Regexp(t, "(?m)^\\|.*`"+v.Name()+"`.*\\|", pages[path], path)
		}
	}
	var files []string
	for _, m := range regexp.MustCompile("(?m)^\\| `([^`]*)`").FindAllStringSubmatch(pages["guide/make.md"], -1) {
		files = append(files, m[1])
	}
	assert.ElementsMatch(t, bench.Files(), files)
}

// TestPackagesImportOneWay holds the map of packages in DEVELOPERS.md to the
// code: every package that is no helper of tests is in it, and imports only
// those above its own row.
func TestPackagesImportOneWay(t *testing.T) {
	row := map[string]int{}
	for i, m := range regexp.MustCompile("(?m)^\\| `([a-z/]+)`").FindAllStringSubmatch(readingsText(t, "../../DEVELOPERS.md"), -1) {
		row[m[1]] = i
	}
	seen := map[string]bool{}
	require.NoError(t, filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == ".git") {
			return fs.SkipDir
		}
		name := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "../../")
		if filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") || strings.HasSuffix(name, "test") {
			return nil
		}
		seen[name] = true
		at, ok := row[name]
		if !assert.True(t, ok, "%s is not in the table", name) {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, im := range file.Imports {
			if to, ours := strings.CutPrefix(strings.Trim(im.Path.Value, `"`), "neckloft/"); ours {
				there, ok := row[to]
				assert.True(t, ok && there < at, "%s imports %s", path, to)
			}
		}
		return nil
	}))
	assert.Len(t, row, len(seen), "rows without a package")
}

// TestDocsNameFiles checks that the files which a package's doc.go names are
// there.
func TestDocsNameFiles(t *testing.T) {
	named := 0
	require.NoError(t, filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.Name() != "doc.go" {
			return err
		}
		for _, name := range regexp.MustCompile(`[a-z_*]+\.(go|js)\b`).FindAllString(readingsText(t, path), -1) {
			found := false
			for _, folder := range []string{"", "web", "web/src", "page"} {
				there, err := filepath.Glob(filepath.Join(filepath.Dir(path), folder, name))
				found = found || err == nil && len(there) > 0
			}
			assert.True(t, found, "%s: %s", path, name)
			named++
		}
		return nil
	}))
	assert.Positive(t, named)
}
