package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"

	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// content is what a file holds, as far as its text tells.
type content int

const (
	somethingElse content = iota
	aSpec
	someReadings
)

// specTable is a table that only a spec has.
var specTable = regexp.MustCompile(`(?m)^[ \t]*(\[[ \t]*(scale|board|headstock|heel|rod|volute)[ \t]*\]|\[\[[ \t]*(depth|profile)[ \t]*\]\])`)

// whatIs tells a spec from readings, whether they are right or not.
func whatIs(text []byte) content {
	switch {
	case specTable.Match(text):
		return aSpec
	case readings.Look(text):
		return someReadings
	}
	return somethingElse
}

// textOf returns what a file holds, and nothing of standard input and of what
// cannot be read.
func textOf(path string) []byte {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, spec.MaxFileSize))
	if err != nil {
		return nil
	}
	return text
}

// askForSpec says what to type where a file that is no spec holds readings.
// Other errors stay as they are.
func askForSpec(err error, path string, text []byte) error {
	var problems spec.Problems
	if whatIs(text) != someReadings || !errors.As(err, &problems) {
		return err
	}
	return noSpec(path)
}

// noSpec is the error of a file of readings where a spec belongs.
func noSpec(path string) error {
	return fmt.Errorf("%s: this holds readings, and a spec is wanted; type \"neckloft fit %s -o fitted.toml\" to make a spec of readings", path, path)
}

// askForReadings says what to type where a file that holds no readings for a verb
// is a spec or a scan. Other errors stay as they are.
func askForReadings(err error, path, verb string, text []byte) error {
	var problems spec.Problems
	if !errors.As(err, &problems) {
		return err
	}
	switch {
	case whatIs(text) == aSpec && verb == "fit":
		return fmt.Errorf("%s: this is a spec, and readings are wanted; type \"neckloft fit READINGS --spec %s\", or \"neckloft check %s\" to judge the spec", path, path, path)
	case whatIs(text) == aSpec:
		return fmt.Errorf("%s: this is a spec, and readings are wanted; type \"neckloft progress SPEC.toml READINGS\", or \"neckloft compare A.toml B.toml\" for two specs side by side", path)
	case isSTL(text):
		return fmt.Errorf("%s: this looks like a mesh in STL, and readings are wanted; type \"neckloft fit --scan %s\" for a scan", path, path)
	}
	return err
}

// isSTL reports whether a text begins as an STL file, which names the solid, or
// is as long as a binary one says.
func isSTL(text []byte) bool {
	const head, each = 84, 50 // bytes, before and for each triangle
	if len(text) > head {
		n := int(text[80]) | int(text[81])<<8 | int(text[82])<<16 | int(text[83])<<24
		if head+each*n == len(text) {
			return true
		}
	}
	return bytes.HasPrefix(text, []byte("solid ")) && bytes.Contains(text, []byte("facet normal"))
}
