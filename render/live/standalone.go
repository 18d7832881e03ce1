package live

import (
	"crypto/sha256"
	"embed"
	"encoding/ascii85"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

//go:embed page
var pageFiles embed.FS

// Standalone is the page in one file that needs no program: it holds the engine,
// and a spec to begin with.
type Standalone struct {
	// Engine is the program's own code as WebAssembly, packed by gzip, and Loader
	// the script of the same Go release that starts it.
	Engine, Loader []byte

	Name string // of the spec's file, "" for none
	Text string // of the spec
}

// Write writes the page: one file of HTML that loads nothing.
func (s *Standalone) Write(w io.Writer) error {
	read := func(name string) string {
		data, err := pageFiles.ReadFile("page/" + name)
		if err != nil {
			panic(err) // the name is that of an embedded file
		}
		return string(data)
	}
	given, err := json.Marshal(map[string]string{"name": s.Name, "text": s.Text})
	if err != nil {
		return err
	}
	style, script := read("style.css"), asScript(read("app.js"))
	// A worker's source is text here. No "</script" may stand in it.
	worker := asScript(read("memory.js") + string(s.Loader) + "\n" + read("worker.js"))
	icon := "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString([]byte(read("icon.svg")))
	page := strings.NewReplacer(
		`<link rel="icon" href="icon.svg" type="image/svg+xml">`,
		fmt.Sprintf(`<meta http-equiv="Content-Security-Policy" content="%s">`+"\n"+`<link rel="icon" href="%s">`, standalonePolicy(style, script), icon),
		`<link rel="stylesheet" href="style.css">`, "<style>"+style+"</style>",
		`<script src="app.js" defer></script>`, "",
		"</body>", `<script type="application/json" id="spec">`+string(given)+"</script>\n"+
			`<script type="text/plain" id="worker">`+worker+"</script>\n"+
			`<script type="text/plain" id="engine">`+asText(s.Engine)+"</script>\n"+
			"<script>"+script+"</script>\n</body>",
	).Replace(read("index.html"))
	_, err = io.WriteString(w, page)
	return err
}

// asText returns bytes as text that may stand inside a script element of HTML: five
// characters for four bytes, a sixteenth less than base 64 takes. The character that
// could begin a mark is another one, which stands for nothing else.
func asText(data []byte) string {
	out := make([]byte, ascii85.MaxEncodedLen(len(data)))
	out = out[:ascii85.Encode(out, data)]
	for i, c := range out {
		if c == '<' {
			out[i] = 'v'
		}
	}
	return string(out)
}

// asScript returns a script that may stand inside a script element of HTML: the
// two marks that would end it, or hide its end, are written with an escape that a
// string, a regular expression or a template of JavaScript reads as the same.
func asScript(js string) string {
	return strings.NewReplacer("</script", `<\/script`, "<!--", `<\!--`).Replace(js)
}

// standalonePolicy lets the page run the script and the style that it was written
// with, and the engine, and load nothing.
func standalonePolicy(style, script string) string {
	hash := func(text string) string {
		sum := sha256.Sum256([]byte(text))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	return "default-src 'none'; script-src " + hash(script) + " 'wasm-unsafe-eval' blob:; worker-src blob:; style-src " + hash(style) +
		"; img-src data: blob:; connect-src 'none'; base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'; trusted-types engine"
}
