package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// instruments are necks with numbers at the ends of what instruments have: no
// frets and 36, scales of 150 and 1200 mm, boards of 30 mm radius, flat and
// without taper, one string and twelve.
func instruments(t *testing.T) map[string]string {
	t.Helper()
	set := func(n int) string { return "[strings]\nset = [" + strings.Repeat(`{ tension = 60 },`, n) + "]\n" }
	all := map[string]string{
		"one string, 36 frets, radius 30": `name = "Single 150"
scale = { length = 150, frets = 36 }
width = { nut = 12, end = 12, past_last_fret = 2 }
board = { thickness = 3, radius_nut = 30, radius_end = 30 }
depth = [{ fret = 1, total = 10 }]
` + set(1),
		"scale 1200, no frets, flat": `name = "Long 1200"
scale = { length = 1200, frets = 0 }
width = { nut = 60, end = 90 }
board = { thickness = 8, length = 800 }
depth = [{ x = 20, total = 28 }, { x = 600, total = 34 }]
rod = { width = 8, depth = 11, from = { x = 8 }, to = { x = 700 } }
` + set(4),
		"twelve strings, no taper, conical": `name = "Twelve 620"
scale = { length = 620, frets = 24 }
width = { nut = 55, end = 55 }
board = { thickness = 6, radius_nut = 250, radius_end = 500 }
depth = [{ fret = 1, total = 23 }, { fret = 12, total = 26 }]
profile = [{ fret = 1, shape = "D" }]
` + set(12),
		"one fret": `name = "Bridge 300"
scale = { length = 300, frets = 1 }
width = { nut = 30, end = 31, past_last_fret = 100 }
board = { thickness = 4 }
depth = [{ x = 10, total = 14 }]
` + set(3),
		"no frets, left, in inches": `name = "Left 20"
units = "in"
hand = "left"
scale = { length = 20, frets = 0 }
width = { nut = 1.5, end = 1.9 }
board = { thickness = 0.2, length = 14.5 }
depth = [{ x = 1, total = 0.7 }, { x = 9, total = 0.8 }]
profile = [{ x = 1, bass = 1.9, treble = 2.3, apex = 0.05 }]
` + set(5),
	}
	for _, name := range []string{"wren", "bittern", "shoveler", "lapwing"} {
		text, err := os.ReadFile(filepath.Join("../../testdata/specs", name+".toml"))
		require.NoError(t, err)
		all[name] = string(text)
	}
	return all
}

// TestOtherInstruments takes each of them through every verb.
//
// Long, since it has every verb.
// Without DRAWN=all it takes some of the cases.
func TestOtherInstruments(t *testing.T) {
	all := instruments(t)
	inFolder(t)
	for _, name := range drawn.Keys(all, 3) {
		text := all[name]
		t.Run(name, func(t *testing.T) {
			s, err := spec.Read(strings.NewReader(text), "spec")
			require.NoError(t, err)
			n, err := neck.New(s)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile("neck.toml", []byte(text), 0o666))
			do := func(args ...string) result {
				t.Helper()
				r := call("", args...)
				require.Equal(t, exitDone, r.code, "%v: %s", args, r.err)
				assert.NotContains(t, r.err, "warning", "%v", args)
				assert.NotContains(t, r.out+r.err, "NaN")
				assert.NotContains(t, r.out+r.err, "Inf")
				return r
			}
			assert.Contains(t, do("check", "neck.toml").out, "nothing to warn of")

			rows := csvRows(t, do("stations", "neck.toml", "--format", "csv", "--mm").out)
			last := s.LastNamed()
			if s.Scale.Frets == 0 {
				assert.Positive(t, last)
				assert.Less(t, s.FretX(float64(last)), s.BoardEnd()+1e-9)
			}
			on := 0
			for _, p := range s.FretPlaces() {
				if s.X(p) <= n.End() {
					on++
				}
			}
			require.Len(t, rows, on)
			assert.Equal(t, "nut", rows[0]["station"])
			assert.Equal(t, fmt.Sprintf("fret %d", on-1), rows[on-1]["station"])
			assert.Contains(t, do("stations", "neck.toml", "--at", "5,x=30mm", "--in").out, "fret 5")

			require.Equal(t, exitDone, call(spec.Starter(), "compare", "neck.toml", "-", "--format", "csv").code)
			assert.Contains(t, do("plan", "neck.toml").out, "Round over")
			do("gauges", "neck.toml", "-o", "gauges.dxf")
			if drawn.All() || s.Scale.Frets == 0 {
				do("make", "neck.toml", "-o", "out") // with the rest
			}
			follow(t, n, do)
		})
	}
}

// csvRows returns the rows of a table in csv, by column.
func csvRows(t *testing.T, text string) (out []map[string]string) {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	for _, row := range all[1:] {
		by := map[string]string{}
		for i, v := range row {
			by[all[0][i]] = v
		}
		out = append(out, by)
	}
	return out
}

// follow reads a neck with instruments, fits a spec to the readings and holds
// them against the neck.
func follow(t *testing.T, n *neck.Neck, do func(...string) result) {
	t.Helper()
	s := n.Spec()
	b := readingstest.NewBench(n, 5, 0)
	b.Board()
	end := n.BoardEnd()
	if s.Heel != nil {
		end = s.X(s.Heel.Start)
	}
	at := []float64{s.FretAt(0.05 * end), s.FretAt(0.5 * end), s.FretAt(0.95 * end)}
	for _, fret := range at {
		b.Width(fret)
		b.Total(fret)
		b.Contour(fret, 12)
	}
	u := s.Units
	lines := []string{"kind,station,y_" + u.String() + ",value_" + u.String(), fmt.Sprintf("scale,,,%g", u.Of(s.Scale.Length)),
		fmt.Sprintf("frets,,,%d", s.Scale.Frets), fmt.Sprintf("end,,,%.5f", u.Of(s.BoardEnd()))}
	for _, r := range b.Set.Readings {
		place, y := "", ""
		if r.Placed {
			place = fmt.Sprintf("x=%.5f", u.Of(s.X(r.At)))
		}
		if r.Kind == readings.Point {
			y = fmt.Sprintf("%.6f", u.Of(r.Y))
		}
		lines = append(lines, fmt.Sprintf("%s,%s,%s,%.6f", r.Kind, place, y, u.Of(r.Value)))
	}
	require.NoError(t, os.WriteFile("readings.csv", []byte(strings.Join(lines, "\n")+"\n"), 0o666))
	args := []string{"fit", "readings.csv", "--hand", s.Hand.String(), "-o", "fit.toml"}
	if len(s.Depth) > 2 {
		args = append(args, "--targets", "3")
	}
	do(args...)
	fitted, err := spec.ReadFile("fit.toml")
	require.NoError(t, err)
	assert.Equal(t, s.Scale.Frets, fitted.Scale.Frets)
	assert.InDelta(t, s.BoardEnd(), fitted.BoardEnd(), 0.01)
	assert.Equal(t, s.Hand, fitted.Hand)
	m, err := neck.New(fitted)
	require.NoError(t, err)
	for _, fret := range at {
		x := s.FretX(fret)
		assert.InDelta(t, n.Total(x), m.Total(x), 0.05, "at fret %g", fret)
		assert.InDelta(t, n.Width(x), m.Width(x), 0.1, "at fret %g", fret)
	}
	rows := csvRows(t, do("progress", "neck.toml", "readings.csv", "--format", "csv").out)
	require.NotEmpty(t, rows)
	for _, row := range rows {
		assert.Equal(t, "on target", row["status"], "%v", row)
	}
}
