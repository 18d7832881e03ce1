package spec

import (
	"errors"
	"os"
	"strings"
	"testing"
)

// FuzzRead checks that reading never panics, that every problem is one line,
// and that a spec that is valid comes back the same when it is written and
// read again.
func FuzzRead(f *testing.F) {
	f.Add(Starter())
	f.Add(plainSpec)
	for _, path := range specPaths(f) {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	for _, text := range []string{
		"", "a", "[", "[[depth]]\nfret=1e400", "depth=[{},{}]", "[a.b]\n[a]\n[[a]]", "a.b.c.d.e=1\na.b.c.d=2",
		"scale={length=0x7fffffffffffffff}", "rod=[[{}]]", "\"\"=1", "'a\tb'=1", "units=\"in\"\nwall.height=1e308",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Read(strings.NewReader(text), "f")
		if err != nil {
			var problems Problems
			if !errors.As(err, &problems) || len(problems) == 0 {
				t.Fatalf("not problems: %v", err)
			}
			checkLines(t, problems, text)
			return
		}
		problems := s.Validate()
		checkLines(t, problems, text)
		if len(problems.Errors()) > 0 {
			return
		}
		var b strings.Builder
		if err := s.WriteTOML(&b); err != nil {
			t.Fatal(err)
		}
		back, err := Read(strings.NewReader(b.String()), "f")
		if err != nil {
			t.Fatalf("%v\n%s", err, b.String())
		}
		assertSameSpec(t, s, back, 1e-9)
		if errs := back.Validate().Errors(); len(errs) > 0 {
			t.Fatalf("no longer valid: %v", errs)
		}
		if s.Hash() != back.Hash() {
			t.Fatalf("another hash:\n%s", b.String())
		}
	})
}

func checkLines(t *testing.T, problems Problems, text string) {
	lines := strings.Count(text, "\n") + 1
	for _, p := range problems {
		if strings.ContainsAny(p.Error(), "\n\r") || p.Message == "" {
			t.Fatalf("not one line: %q", p.Error())
		}
		if p.Line < 0 || p.Line > lines {
			t.Fatalf("line %d of %d", p.Line, lines)
		}
	}
}
