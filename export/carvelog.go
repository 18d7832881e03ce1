package export

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"neckloft/neck/fit/progress"
)

// carveColumns are the columns of a carving log. Lengths are in mm whatever
// the unit of the readings, so that one log holds both.
var carveColumns = []string{"date", "neck", "spec", "readings", "on_target", "to_come_off", "below", "least_cover_mm", "stations_mm"}

// maxCarveLog is the size in bytes of the largest log that is read.
const maxCarveLog = 16 << 20

// CarveEntry is a line of a carving log: how a workpiece stood when a set of
// readings was taken.
type CarveEntry struct {
	Date                      time.Time
	Neck                      string // name of the spec
	Spec                      string // the first 12 digits of its hash
	OnTarget, ToComeOff, Down int
	Cover                     float64 // mm; NaN where it was not told
	Stations                  []CarveStation
}

// CarveStation is what a set of readings said of one station, in mm: the most
// and the least that was to come off there.
type CarveStation struct {
	Label       string
	X           float64
	Most, Least float64
}

// NewCarveEntry sums up a set of readings.
func NewCarveEntry(p *progress.Progress, date time.Time) CarveEntry {
	s := p.Neck.Spec()
	e := CarveEntry{
		Date: date, Neck: s.Name, Spec: s.Hash()[:12],
		OnTarget: p.Count(progress.OnTarget), ToComeOff: p.Count(progress.ToComeOff), Down: p.Count(progress.Below),
		Cover: p.Cover,
	}
	for _, checks := range p.Stations() {
		st := CarveStation{Label: checks[0].Station, X: checks[0].X, Most: math.Inf(-1), Least: math.Inf(1)}
		for _, c := range checks {
			st.Most, st.Least = math.Max(st.Most, c.Wood), math.Min(st.Least, c.Wood)
		}
		e.Stations = append(e.Stations, st)
	}
	return e
}

// AppendCarveLog adds a line to the log at path, which it makes if there is
// none. The log is written anew beside the old one and takes its place, so that
// a power cut leaves the one or the other and never a torn line; a lock on the
// folder keeps two that append at once from losing a line. What killed programs
// left of their writing is removed. A file that is not a carving log is left
// alone.
func AppendCarveLog(path string, e CarveEntry) error {
	target, err := resolve(path)
	if err != nil {
		return refusal(path, err)
	}
	unlock, err := lockFolder(filepath.Dir(target))
	if err != nil {
		return refusal(path, err)
	}
	defer unlock()
	old, err := readCarveLog(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if len(old) > 0 {
		if _, err := parseCarveLog(path, old); err != nil {
			return err
		}
	}
	sweep(target)
	return File(path, func(w io.Writer) error {
		if len(old) == 0 {
			old = []byte(strings.Join(carveColumns, ",") + "\n")
		}
		if _, err := w.Write(old); err != nil {
			return err
		}
		c := csv.NewWriter(w)
		if err := c.Write(e.row()); err != nil {
			return err
		}
		c.Flush()
		return c.Error()
	})
}

// sweep removes the temporary files that programs which were killed while they
// wrote the file at path have left beside it. The caller holds the lock of the
// folder, so no program writes the log now; one that writes the same file
// without the lock holds its own temporary file, which stays.
func sweep(path string) {
	// A random number of 63 bits has fewer digits once in a hundred million
	// times, and a name that a person gave hardly ever has as many.
	const digits = 11
	dir, prefix := filepath.Dir(path), "."+filepath.Base(path)
	entries, err := os.ReadDir(dir)
	if err != nil {
		return // what is in the way of writing, writing says
	}
	for _, e := range entries {
		number, ok := strings.CutPrefix(e.Name(), prefix)
		if !ok || len(number) < digits || strings.Trim(number, "0123456789") != "" || !e.Type().IsRegular() {
			continue
		}
		if name := filepath.Join(dir, e.Name()); abandoned(name) {
			os.Remove(name)
		}
	}
}

// row returns the entry as a line.
func (e *CarveEntry) row() []string {
	number := func(v float64) string {
		if math.IsNaN(v) {
			return ""
		}
		return strconv.FormatFloat(v, 'f', 3, 64)
	}
	var stations []string
	for _, s := range e.Stations {
		stations = append(stations, fmt.Sprintf("%s @ %s: %s to %s", s.Label, number(s.X), number(s.Most), number(s.Least)))
	}
	return []string{
		e.Date.Format(time.RFC3339), strings.Join(strings.Fields(e.Neck), " "), e.Spec, strconv.Itoa(e.OnTarget + e.ToComeOff + e.Down),
		strconv.Itoa(e.OnTarget), strconv.Itoa(e.ToComeOff), strconv.Itoa(e.Down), number(e.Cover), strings.Join(stations, "; "),
	}
}

// ReadCarveLog reads the log at path. An error names its line.
func ReadCarveLog(path string) ([]CarveEntry, error) {
	data, err := readCarveLog(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s: there is no such carving log; readings are added to one with --log", path)
		}
		return nil, err
	}
	return parseCarveLog(path, data)
}

func readCarveLog(path string) ([]byte, error) {
	f, err := openPlain(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		return nil, fmt.Errorf("cannot read %s: %w", path, pathReason(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxCarveLog+1))
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", path, pathReason(err))
	}
	if len(data) > maxCarveLog {
		return nil, fmt.Errorf("cannot read %s: it is larger than %d MiB, which no carving log is", path, maxCarveLog>>20)
	}
	if n := len(data); n > 0 && data[n-1] != '\n' {
		data = append(data, '\n') // as an editor may leave it
	}
	return data, nil
}

func pathReason(err error) error {
	var perr *fs.PathError
	if errors.As(err, &perr) {
		return perr.Err
	}
	return err
}

// parseCarveLog reads the lines of a log.
func parseCarveLog(path string, data []byte) ([]CarveEntry, error) {
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord = -1
	var out []CarveEntry
	for first := true; ; first = false {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var perr *csv.ParseError
			if !errors.As(err, &perr) {
				return nil, fmt.Errorf("%s: the carving log cannot be read: %w", path, err)
			}
			return nil, damaged(path, perr.StartLine, perr.Err)
		}
		line, _ := r.FieldPos(0)
		if first {
			if strings.Join(row, ",") != strings.Join(carveColumns, ",") {
				return nil, fmt.Errorf("%s:%d: this is not a carving log, whose first line is %s", path, line, strings.Join(carveColumns, ","))
			}
			continue
		}
		e, err := carveEntry(row)
		if err != nil {
			return nil, damaged(path, line, err)
		}
		out = append(out, e)
	}
	return out, nil
}

// damaged says which line of a log cannot be read. Nothing is added to such a
// log, nor is anything taken from it: only its owner knows what it said.
func damaged(path string, line int, err error) error {
	return fmt.Errorf("%s:%d: this line of the carving log is damaged: %w; mend or delete it in a text editor", path, line, err)
}

func carveEntry(row []string) (CarveEntry, error) {
	var e CarveEntry
	if len(row) != len(carveColumns) {
		return e, fmt.Errorf("it has %d fields for %d columns", len(row), len(carveColumns))
	}
	var err error
	if e.Date, err = time.Parse(time.RFC3339, row[0]); err != nil {
		return e, fmt.Errorf("%q is not a date such as 2026-03-14T15:09:26+01:00", row[0])
	}
	e.Neck, e.Spec = row[1], row[2]
	var all int
	for i, p := range []*int{&all, &e.OnTarget, &e.ToComeOff, &e.Down} {
		if *p, err = strconv.Atoi(row[3+i]); err != nil || *p < 0 {
			return e, fmt.Errorf("%s is %q, not a count", carveColumns[3+i], row[3+i])
		}
	}
	if n := e.OnTarget + e.ToComeOff + e.Down; n != all {
		return e, fmt.Errorf("%s is %d where on_target, to_come_off and below make %d", carveColumns[3], all, n)
	}
	e.Cover = math.NaN()
	if row[7] != "" {
		if e.Cover, err = parseFinite(row[7]); err != nil {
			return e, fmt.Errorf("%s is %q, not a number", carveColumns[7], row[7])
		}
	}
	for part := range strings.SplitSeq(row[8], "; ") {
		s, ok := carveStation(part)
		if !ok {
			return e, fmt.Errorf("%q is not a station such as \"fret 5 @ 159.571: 0.800 to 0.100\"", part)
		}
		e.Stations = append(e.Stations, s)
	}
	return e, nil
}

// carveStation reads a station of a line.
func carveStation(text string) (CarveStation, bool) {
	label, rest, _ := strings.Cut(text, " @ ")
	place, rest, _ := strings.Cut(rest, ": ")
	most, least, _ := strings.Cut(rest, " to ")
	s := CarveStation{Label: label}
	for _, v := range []struct {
		text string
		to   *float64
	}{{place, &s.X}, {most, &s.Most}, {least, &s.Least}} {
		// Three decimals, as they are written: fewer are the torn end of a line.
		_, decimals, _ := strings.Cut(v.text, ".")
		var err error
		if *v.to, err = parseFinite(v.text); err != nil || len(decimals) != 3 {
			return s, false
		}
	}
	return s, label != "" && s.Least <= s.Most
}

// parseFinite reads a finite number.
func parseFinite(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		err = strconv.ErrRange
	}
	return v, err
}
