package export

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/fit/progress"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// carveDate is the date of the nth set of readings, an hour apart.
func carveDate(n int) time.Time {
	return time.Date(2026, 3, 14, 9+n, 30, 0, 0, time.FixedZone("", 3600))
}

// carveEntryOf returns an entry with one station.
func carveEntryOf(n int, most float64) CarveEntry {
	return CarveEntry{
		Date: carveDate(n), Neck: fmt.Sprintf("neck, \"no. %d\"", n), Spec: "0123456789ab",
		OnTarget: n, ToComeOff: 2, Down: 1, Cover: 4.125,
		Stations: []CarveStation{{Label: "fret 5", X: 159.538, Most: most, Least: -0.25}},
	}
}

// TestCarveEntry checks the sums against readings counted by hand.
func TestCarveEntry(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	s := n.Spec()
	read := func(fret, remaining float64) readings.Reading {
		at := spec.AtFret(fret)
		return readings.Reading{Kind: readings.Total, At: at, Placed: true, Value: n.Total(s.X(at)) + remaining, Line: 2}
	}
	set := &readings.Set{Readings: []readings.Reading{read(12, 0.05), read(1, 0.8), read(7, -0.4),
		{Kind: readings.Wood, At: spec.AtFret(7), Placed: true, Value: n.Depth(s.FretX(7)) + 0.3, Line: 5}}}
	p, err := progress.Follow(n, set, 0.1)
	require.NoError(t, err)
	e := NewCarveEntry(p, carveDate(0))
	assert.Equal(t, []int{1, 2, 1}, []int{e.OnTarget, e.ToComeOff, e.Down})
	assert.Equal(t, s.Name, e.Neck)
	assert.Equal(t, s.Hash()[:12], e.Spec)
	require.Len(t, e.Stations, 3)
	for i, want := range []CarveStation{{"fret 1", s.FretX(1), 0.8, 0.8}, {"fret 7", s.FretX(7), 0.3, -0.4}, {"fret 12", 318, 0.05, 0.05}} {
		got := e.Stations[i]
		assert.Equal(t, want.Label, got.Label)
		assert.InDelta(t, want.X, got.X, 1e-9)
		assert.InDelta(t, want.Most, got.Most, 1e-9)
		assert.InDelta(t, want.Least, got.Least, 1e-9)
	}
	// The target's cover and what remains, the least of the three.
	least := math.Inf(1)
	for fret, remaining := range map[float64]float64{1: 0.8, 7: -0.4, 12: 0.05} {
		cover, ok := n.Cover(s.FretX(fret))
		require.True(t, ok)
		least = math.Min(least, cover+remaining)
	}
	assert.InDelta(t, least, e.Cover, 0.002)
}

// TestCarveLog checks that what is appended is read back, and that what stands
// in the log stays as it is, byte for byte.
func TestCarveLog(t *testing.T) {
	path := filepath.Join(t.TempDir(), "carve.csv")
	var want []CarveEntry
	var before []byte
	for n := range 4 {
		e := carveEntryOf(n, 1-0.25*float64(n))
		if n == 2 {
			e.Cover = math.NaN()
		}
		require.NoError(t, AppendCarveLog(path, e))
		want = append(want, e)
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.True(t, bytes.HasPrefix(now, before))
		assert.Equal(t, n+2, bytes.Count(now, []byte("\n")), "a header, and a line each")
		before = now
	}
	got, err := ReadCarveLog(path)
	require.NoError(t, err)
	require.Len(t, got, len(want))
	for i := range want {
		assert.True(t, want[i].Date.Equal(got[i].Date))
		assert.Equal(t, math.IsNaN(want[i].Cover), math.IsNaN(got[i].Cover))
		want[i].Date, got[i].Date, want[i].Cover, got[i].Cover = time.Time{}, time.Time{}, 0, 0
	}
	assert.Equal(t, want, got)
	// Any reader of csv reads it: the library's, with its own rules.
	rows, err := csv.NewReader(bytes.NewReader(before)).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, []string{"2026-03-14T10:30:00+01:00", `neck, "no. 1"`, "0123456789ab", "4", "1", "2", "1", "4.125", "fret 5 @ 159.538: 0.750 to -0.250"}, rows[2])
}

// TestCarveLogKeeps checks a log that an editor left without its last line end,
// one behind a link, and one in a folder that is not there.
func TestCarveLogKeeps(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "carve.csv")
	require.NoError(t, AppendCarveLog(path, carveEntryOf(0, 1)))
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, bytes.TrimSpace(text), 0o640))
	link := filepath.Join(t.TempDir(), "link.csv")
	if err := os.Symlink(path, link); err != nil {
		link = path // where there are no links
	}
	require.NoError(t, AppendCarveLog(link, carveEntryOf(1, 0.5)))
	entries, err := ReadCarveLog(path)
	require.NoError(t, err)
	assert.Len(t, entries, 2)
	err = AppendCarveLog(filepath.Join(dir, "none", "carve.csv"), carveEntryOf(0, 1))
	assert.ErrorContains(t, err, "there is no folder "+filepath.Join(dir, "none"))
	_, err = ReadCarveLog(filepath.Join(dir, "none.csv"))
	assert.ErrorContains(t, err, "there is no such carving log; readings are added to one with --log")
	assert.ErrorContains(t, AppendCarveLog(dir, carveEntryOf(0, 1)), "not a regular file")
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 1, "no temporary file stays")
}

// TestDamagedCarveLog checks that a log with a line that is torn or was edited
// is named with the line, and neither read nor written over.
func TestDamagedCarveLog(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "carve.csv")
	require.NoError(t, AppendCarveLog(path, carveEntryOf(0, 1)))
	require.NoError(t, AppendCarveLog(path, carveEntryOf(1, 1)))
	good, err := os.ReadFile(path)
	require.NoError(t, err)
	lines := strings.SplitAfter(string(good), "\n")
	last := lines[2]
	edit := func(old, new string) string {
		require.Contains(t, last, old)
		return lines[0] + lines[1] + strings.Replace(last, old, new, 1)
	}
	cases := map[string]string{
		edit("2026-03-14T10:30:00+01:00", "yesterday"): `carve.csv:3: this line of the carving log is damaged: "yesterday" is not a date`,
		edit(",4,1,2,1,", ",4,1,2,x,"):                 `:3: this line of the carving log is damaged: below is "x", not a count`,
		edit(",4,1,2,1,", ",4,1,2,-1,"):                `below is "-1", not a count`,
		edit(",4,1,2,1,", ",5,1,2,1,"):                 "readings is 5 where on_target, to_come_off and below make 4",
		edit("4.125", "4.1.25"):                        `least_cover_mm is "4.1.25", not a number`,
		edit("4.125", "Inf"):                           `least_cover_mm is "Inf", not a number`,
		edit(" @ 159.538", " 159.538"):                 "is not a station such as",
		edit("0.250\n", "0.25x\n"):                     "is not a station such as",
		edit("0.250\n", "nan\n"):                       "is not a station such as",
		edit("\"\"", "\""):                             ":3: this line of the carving log is damaged: ",
		"kind,station,y_mm,value_mm\n":                 ":1: this is not a carving log, whose first line is date,neck",
		"# a spec\n[scale]\nlength = 636\n":            ":1: this is not a carving log",
	}
	for cut := 1; cut < len(last)-1; cut++ {
		// Torn anywhere: never read as whole.
		cases[lines[0]+lines[1]+last[:cut]] = "carve.csv:3: this line of the carving log is damaged: "
	}
	for text, want := range cases {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
		_, err := ReadCarveLog(path)
		assert.ErrorContains(t, err, want, text)
		err = AppendCarveLog(path, carveEntryOf(2, 1))
		assert.ErrorContains(t, err, want, text)
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, text, string(now), "left alone")
	}
	require.NoError(t, os.WriteFile(path, bytes.Repeat([]byte("x"), maxCarveLog+1), 0o666))
	_, err = ReadCarveLog(path)
	assert.ErrorContains(t, err, "larger than 16 MiB")
	require.NoError(t, os.WriteFile(path, nil, 0o666))
	assert.NoError(t, AppendCarveLog(path, carveEntryOf(0, 1)), "an empty file is a log to begin")
}

// The environment of a process of its own that appends, which is this test
// program called again.
const (
	appendTo   = "NECKLOFT_TEST_APPEND_TO"
	appendFrom = "NECKLOFT_TEST_APPEND_FROM"
)

// TestAppendProcess is no test but the process that TestConcurrentAppends and
// TestKilledAppend call.
func TestAppendProcess(t *testing.T) {
	path := os.Getenv(appendTo)
	if path == "" {
		t.Skip("called by other tests")
	}
	from := 0
	fmt.Sscan(os.Getenv(appendFrom), &from)
	count := 6
	if from < 0 {
		from, count = 0, 1<<30 // until it is killed
	}
	for i := range count {
		require.NoError(t, AppendCarveLog(path, carveEntryOf(from+i, 1)))
	}
}

func appendProcess(path string, from int) *exec.Cmd {
	cmd := exec.Command(os.Args[0], "-test.run=^TestAppendProcess$")
	cmd.Env = append(os.Environ(), appendTo+"="+path, fmt.Sprintf("%s=%d", appendFrom, from))
	return cmd
}

// TestConcurrentAppends checks that no line is lost or torn while processes and
// goroutines append to the same log at once, and another reads it.
func TestConcurrentAppends(t *testing.T) {
	path := filepath.Join(t.TempDir(), "carve.csv")
	require.NoError(t, AppendCarveLog(path, carveEntryOf(1000, 1)))
	if !locks(t) {
		t.Skip("folders cannot be locked here")
	}
	var wg sync.WaitGroup
	for k := range 3 {
		wg.Go(func() {
			out, err := appendProcess(path, 10*k).CombinedOutput()
			assert.NoError(t, err, string(out))
		})
		wg.Go(func() {
			for i := range 6 {
				assert.NoError(t, AppendCarveLog(path, carveEntryOf(100+10*k+i, 1)))
			}
		})
	}
	done := make(chan struct{})
	go func() { wg.Wait(); close(done) }()
	for reading := true; reading; {
		select {
		case <-done:
			reading = false
		case <-time.After(time.Millisecond):
		}
		_, err := ReadCarveLog(path)
		require.NoError(t, err, "whole at every moment")
	}
	entries, err := ReadCarveLog(path)
	require.NoError(t, err)
	seen := make(map[int]int)
	for _, e := range entries {
		seen[e.OnTarget]++
	}
	assert.Len(t, entries, 1+3*6+3*6)
	for k := range 3 {
		for i := range 6 {
			assert.Equal(t, 1, seen[10*k+i])
			assert.Equal(t, 1, seen[100+10*k+i])
		}
	}
}

// locks reports whether a folder can be locked here.
func locks(t *testing.T) bool {
	dir := t.TempDir()
	first, err := lockFolder(dir)
	require.NoError(t, err)
	got := make(chan struct{})
	go func() {
		if second, err := lockFolder(dir); err == nil {
			second()
		}
		close(got)
	}()
	select {
	case <-got:
		first()
		return false
	case <-time.After(20 * time.Millisecond):
		first()
		<-got
		return true
	}
}

// TestKilledAppend checks that a process that is killed while it appends, at
// whatever moment, leaves whole lines behind and no lock, and that the next
// writing removes what it left beside the log.
// Without DRAWN=all it takes some of the cases.
func TestKilledAppend(t *testing.T) {
	path := filepath.Join(t.TempDir(), "carve.csv")
	lines := 0
	times := 6
	if !drawn.All() {
		times = 3
	}
	for k := range times {
		cmd := appendProcess(path, -1)
		require.NoError(t, cmd.Start())
		time.Sleep(time.Duration(60+17*k) * time.Millisecond)
		require.NoError(t, cmd.Process.Kill())
		cmd.Wait()
		entries, err := ReadCarveLog(path)
		if lines == 0 && err != nil && strings.Contains(err.Error(), "no such carving log") {
			continue // killed before its first line
		}
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(entries), lines)
		lines = len(entries)
	}
	require.NoError(t, AppendCarveLog(path, carveEntryOf(0, 1)))
	entries, err := ReadCarveLog(path)
	require.NoError(t, err)
	assert.Len(t, entries, lines+1)
	if locks(t) {
		requireNames(t, filepath.Dir(path), "carve.csv")
	}
}

// TestSweep checks which files beside a log are removed when it is written:
// those that a program which has ended left, and nothing that a program that
// runs, or a person, may have made.
func TestSweep(t *testing.T) {
	if !locks(t) {
		t.Skip("what is abandoned cannot be told here")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "carve.csv")
	require.NoError(t, AppendCarveLog(path, carveEntryOf(0, 1)))
	stay := []string{"carve.csv", ".carve.csv", ".carve.csv2", ".carve.csv.2026031415", ".carve.csv20260314151", ".other.csv5577006791947779410", "carve.csv5577006791947779410"}
	const dead = ".carve.csv5577006791947779410"
	for _, name := range append(stay[1:], dead) {
		if name == ".carve.csv20260314151" {
			// A number, but a folder.
			require.NoError(t, os.Mkdir(filepath.Join(dir, name), 0o777))
			continue
		}
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("half a li"), 0o666))
	}
	// One that is being written, under way at this moment.
	p, err := newPending(path)
	require.NoError(t, err)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, entries, len(stay)+2)
	require.NoError(t, AppendCarveLog(path, carveEntryOf(1, 1)))
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	var names []string
	for _, e := range left {
		names = append(names, e.Name())
	}
	assert.NotContains(t, names, dead)
	assert.Len(t, names, len(stay)+1)
	assert.Subset(t, names, stay)
	_, err = io.WriteString(p, "whole")
	require.NoError(t, err)
	require.NoError(t, p.Commit(), "it can still take its place")
	requireNames(t, dir, stay...)
	// And an ordinary run that is over leaves nothing.
	require.NoError(t, os.Remove(path))
	require.NoError(t, AppendCarveLog(path, carveEntryOf(1, 1)))
	requireNames(t, dir, stay...)
}

// TestCarveHistory checks how each station came down, in every format.
func TestCarveHistory(t *testing.T) {
	entry := func(n int, spec string, cover float64, stations ...CarveStation) CarveEntry {
		return CarveEntry{Date: carveDate(n), Spec: spec, Cover: cover, Stations: stations}
	}
	table := CarveHistory([]CarveEntry{
		entry(3, "aaa", 4.5, CarveStation{"fret 12", 318, 0.1, 0.05}, CarveStation{"fret 1", 35.696, 0.3, -0.2}),
		entry(1, "aaa", 6, CarveStation{"fret 1", 35.696, 1.3, 0.8}, CarveStation{"x=318", 318.0001, 2.1, 2}),
		entry(2, "bbb", math.NaN(), CarveStation{"fret 1", 35.696, 0.9, 0.9}),
	})
	var b bytes.Buffer
	require.NoError(t, table.Write(&b, "csv", spec.Millimetre))
	assert.Equal(t, `station,date,most_remaining_mm,least_remaining_mm,came_off_mm,cover_mm,spec
fret 1,2026-03-14 10:30,1.300,0.800,,6.000,aaa
fret 1,2026-03-14 11:30,0.900,0.900,,,bbb
fret 1,2026-03-14 12:30,0.300,-0.200,1.000,4.500,aaa
x=318,2026-03-14 10:30,2.100,2.000,,6.000,aaa
fret 12,2026-03-14 12:30,0.100,0.050,2.000,4.500,aaa
`, b.String())
	b.Reset()
	require.NoError(t, table.Write(&b, "json", spec.Inch))
	var rows []map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &rows))
	require.Len(t, rows, 5)
	assert.Nil(t, rows[0]["came_off_in"])
	assert.InDelta(t, 2/25.4, rows[4]["came_off_in"], 5e-5)
	b.Reset()
	require.NoError(t, table.Write(&b, "text", spec.Millimetre))
	text := b.String()
	assert.Contains(t, text, "fret 1   2026-03-14 12:30            0.30            -0.20      1.00   4.50  aaa")
	for line := range strings.SplitSeq(text, "\n") {
		assert.LessOrEqual(t, len(line), 100)
	}
}
