package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestReadingsFilesApart checks that no file that was given is written over, by
// its own name or another, and that no two outputs are one file.
func TestReadingsFilesApart(t *testing.T) {
	carving(t)
	old := readingsText(t, "today.csv")
	require.NoError(t, os.Link("today.csv", "hard.csv"))
	require.NoError(t, os.Symlink("tern.toml", "soft.toml"))
	require.NoError(t, os.Mkdir("sub", 0o777))
	for _, c := range []struct{ args, want string }{
		{"progress tern.toml today.csv -o today.csv", "-o today.csv would write over the readings"},
		{"progress tern.toml today.csv -o ./sub/../hard.csv", "would write over the readings"},
		{"progress tern.toml today.csv --rescue=soft.toml", "--rescue soft.toml would write over the spec"},
		{"progress tern.toml today.csv --log today.csv", "--log today.csv would write over the readings"},
		{"progress tern.toml today.csv --log new.csv -o sub/../new.csv", "--log and -o are both sub/../new.csv"},
		{"progress tern.toml today.csv --rescue=a.png --picture a.png", "--picture and --rescue are both a.png"},
		{"fit today.csv --spec tern.toml -o tern.toml", "-o tern.toml would write over the base spec"},
		{"fit today.csv --spec tern.toml -o hard.csv", "-o hard.csv would write over the readings"},
		{"fit --scan today.csv -o today.csv", "-o today.csv would write over the scan"},
	} {
		r := call("", strings.Fields(c.args)...)
		assert.Equal(t, exitUsage, r.code, c.args)
		assert.Contains(t, r.err, c.want, c.args)
		assert.Empty(t, r.out, c.args)
	}
	assert.Equal(t, old, readingsText(t, "today.csv"))
	assert.NoFileExists(t, "new.csv")

	// A call that fails leaves no line in the log, so that it can be made again.
	const low = "kind,station,value_mm\ntotal,5,21.2\n"
	r := call(low, "progress", "tern.toml", "-", "--log", "carve.csv", "--rescue=nowhere/a.toml")
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, r.err, "there is no folder nowhere")
	assert.Contains(t, r.err, "nothing was added to carve.csv")
	assert.NoFileExists(t, "carve.csv")
	r = call(low, "progress", "tern.toml", "-", "--log", "carve.csv", "--rescue=a.toml", "-o", os.DevNull)
	assert.Equal(t, exitDone, r.code, r.err)
	assert.Equal(t, 2, strings.Count(readingsText(t, "carve.csv"), "\n"))
}

// TestReadingsWords checks the words of small things: one reading, no reading to
// spare, a channel cut through, dates and stations that cannot be.
func TestReadingsWords(t *testing.T) {
	carving(t)
	r := call("kind,station,value_mm\ntotal,5,21.6\n", "progress", "tern.toml", "-")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "\n1 reading: 0 on target, 1 to come off, 0 below.")
	r = call("kind,station,value_mm\ntotal,5,14\n", "progress", "tern.toml", "-")
	require.Equal(t, exitDone, r.code, r.err)
	assert.True(t, strings.HasPrefix(r.out, "STOP: as read, the channel is cut through at fret 5 (x = "), r.out)
	r = call("kind,station,value_mm\ntotal,5,21.6\n", "progress", "tern.toml", "-", "--in")
	require.Equal(t, exitDone, r.code, r.err)
	assert.NotContains(t, r.out, " mm")
	for _, date := range []string{"", "1066-10-14", "2999-01-01"} {
		r = call("", "progress", "tern.toml", "today.csv", "--log", "carve.csv", "--date", date)
		assert.Equal(t, exitUsage, r.code, date)
		assert.NoFileExists(t, "carve.csv")
	}

	facts := "kind,station,y_mm,value_mm\nscale,,,630\nfrets,,,20\nboard,,,5.35\nwidth,nut,,44.2\nwidth,20,,55.8\ntotal,1,,21.35\ntotal,12,,23.5\n"
	r = call(facts, "fit", "-", "-o", "a.toml")
	require.Equal(t, exitDone, r.code, r.err)
	assert.NotContains(t, r.out, "0 readings")
	assert.NotContains(t, r.out, "The residuals are")
	r = call(facts+"point,1,-0.0001,15\n", "fit", "-")
	assert.NotContains(t, r.out, "y -0 mm")
	for more, want := range map[string]string{
		"total,99,,22\n": "there is no fret 99",
		"total,21,,22\n": "there is no fret 21 on this neck; allowed: up to 20",
	} {
		r = call(facts+more, "fit", "-")
		assert.Equal(t, exitUsage, r.code, more)
		assert.Contains(t, r.err, want)
	}
	r = call(strings.Replace(facts, "scale,,", "scale,3,", 1), "fit", "-")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, `"scale" is a fact about the whole neck and has no station`)
	r = call("kind,station,value_mm\ntotal,5,21.6\n", "fit", "-", "--spec", "tern.toml")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "the name is still that of the base spec")
}
