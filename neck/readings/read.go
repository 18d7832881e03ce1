package readings

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"neckloft/neck/spec"
)

// ReadFile reads the readings in the file at path.
func ReadFile(path string) (*Set, error) {
	f, err := os.Open(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s: there is no such file", path)
		}
		var perr *fs.PathError
		if errors.As(err, &perr) {
			err = perr.Err
		}
		return nil, fmt.Errorf("%s: the file cannot be read: %w", path, err)
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, spec.Problems{{File: path, Message: "this is a folder; readings are a file"}}
	}
	return Read(f, path)
}

// Read reads readings, csv or TOML by the ending of the file's name, or by
// what it holds where the name has neither. Errors in the file are of type
// spec.Problems, each with its line.
func Read(r io.Reader, file string) (*Set, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxFileSize+1))
	if err != nil {
		return nil, fmt.Errorf("%s: the file cannot be read: %w", file, err)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	whole := func(format string, args ...any) (*Set, error) {
		return nil, spec.Problems{{File: file, Message: fmt.Sprintf(format, args...)}}
	}
	switch {
	case len(data) > maxFileSize:
		return whole("this is larger than %d MiB, which no file of readings is; a scan goes to --scan as STL", maxFileSize>>20)
	case bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) || bytes.IndexByte(data, 0) >= 0:
		return whole("this is not text in UTF-8, but UTF-16 or no text at all; save the readings as plain text in UTF-8")
	case !utf8.Valid(data):
		return nil, spec.Problems{{File: file, Line: badLine(data), Message: "this is not text in UTF-8; save the readings as plain text in UTF-8"}}
	}
	if bytes.IndexByte(data, '\n') < 0 {
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n")) // lines as old spreadsheets end them
	}
	var s *Set
	var problems spec.Problems
	if isTOML(data, file) {
		s, problems = readTOML(data, file)
	} else {
		s, problems = readCSV(data, file)
	}
	if len(problems) == 0 && len(s.Readings) == 0 {
		return whole("there is not one reading in this file")
	}
	slices.SortStableFunc(problems, func(a, b spec.Problem) int { return a.Line - b.Line })
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return s, nil
}

// badLine returns the line of the first bytes that are no UTF-8.
func badLine(data []byte) int {
	line := 1
	for text := range bytes.Lines(data) {
		if !utf8.Valid(text) {
			break
		}
		line++
	}
	return line
}

// isTOML tells the two forms apart.
func isTOML(data []byte, file string) bool {
	switch strings.ToLower(filepath.Ext(file)) {
	case ".toml":
		return true
	case ".csv", ".txt":
		return false
	}
	for line := range bytes.Lines(data) {
		line = bytes.TrimSpace(line)
		if len(line) == 0 || line[0] == '#' {
			continue
		}
		return line[0] == '[' || bytes.IndexByte(line, '=') > 0
	}
	return false
}

// number reads a plain finite decimal number.
func number(text string) (float64, error) {
	if text != "" && strings.Trim(text, "0123456789+-.eE") == "" {
		if v, err := strconv.ParseFloat(text, 64); err == nil && !math.IsInf(v, 0) {
			return v, nil
		}
	}
	if text == "" {
		return 0, errors.New("is blank; allowed: a plain decimal number")
	}
	hint := ""
	if strings.Contains(text, ",") {
		hint = ", with a dot as the decimal point"
	}
	return 0, fmt.Errorf("%s is not a number; allowed: a plain decimal number%s", quote(text), hint)
}

// length reads a length in the file's unit, and returns it in millimetres. It may
// say that unit, and a rule with inches is read in fractions.
func (s *Set) length(text string) (float64, error) {
	bare := text
	for _, u := range []spec.Unit{spec.Millimetre, spec.Inch} {
		t, ok := strings.CutSuffix(text, u.String())
		if !ok {
			continue
		}
		t = strings.TrimSpace(t)
		if u == s.Units {
			bare = t
		} else if _, err := number(t); err == nil {
			return 0, fmt.Errorf("%s is not in the unit of the file, %s; allowed: one unit in a file", quote(text), s.Units)
		}
	}
	v, err := number(bare)
	if err == nil {
		return s.Units.Millimetres(v), nil
	}
	if s.Units == spec.Inch {
		if mm, err := spec.ParseLength(text, spec.Inch); err == nil {
			return mm, nil
		}
	}
	return 0, err
}

// quote quotes what a user wrote, cut short if it is long.
func quote(text string) string {
	if r := []rune(text); len(r) > 40 {
		text = string(r[:40]) + "..."
	}
	return strconv.Quote(text)
}

// kindNames lists what a reading may be.
func kindNames() string {
	names := []string{}
	for _, k := range kinds {
		names = append(names, k.name)
	}
	return strings.Join(names, ", ") + ", scale, frets, end"
}
