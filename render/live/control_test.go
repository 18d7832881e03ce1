package live_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/render/live"
	"neckloft/render/live/tomledit"
)

var allowedKeys = regexp.MustCompile(`allowed: (.*)$`)

// TestEveryKeyHasAControl asks the reader of specs which keys it takes, by way
// of a key that it does not know.
func TestEveryKeyHasAControl(t *testing.T) {
	for _, g := range live.Groups() {
		if g.Table == "" {
			continue
		}
		text := "[" + g.Table + "]\nzzzz = 1\n"
		if g.List {
			text = "[" + text[:strings.Index(text, "\n")] + "]\nzzzz = 1\n"
		}
		_, err := spec.Read(strings.NewReader(text), "x")
		require.Error(t, err)
		var want []string
		for _, p := range err.(spec.Problems) {
			if m := allowedKeys.FindStringSubmatch(p.Message); m != nil && strings.Contains(p.Message, "unknown key") {
				want = strings.Split(m[1], ", ")
			}
		}
		require.NotEmpty(t, want, g.Table)
		var got []string
		for _, c := range g.Controls {
			if c.Key == "" { // a place of a list entry
				got = append(got, "fret", "x")
				continue
			}
			got = append(got, c.Key)
		}
		if g.Table != "" {
			for _, inner := range spec.Keys().Table(g.Table).Tables {
				got = append(got, inner.Name) // a group of its own
			}
		}
		slices.Sort(got)
		slices.Sort(want)
		require.Equal(t, want, got, g.Table)
		for _, c := range g.Controls {
			require.NotEmpty(t, c.Label)
			require.NotEmpty(t, c.Help)
		}
	}
}

// addRequired adds a table that the starter only shows, with the keys that it
// must have.
func addRequired(t *testing.T, d *tomledit.Document, g live.Group) {
	table := spec.Keys().Table(g.Table)
	if strings.HasPrefix(g.Table, "tools") || strings.Contains("\n"+d.String(), "\n["+g.Table+"]") || strings.Contains(d.String(), "\n[["+g.Table+"]]") {
		return
	}
	var keys []tomledit.Field
	for _, f := range table.Fields {
		switch {
		case f.Kind == spec.KindStation:
			keys = append(keys, tomledit.Field{Key: "fret", Value: "5"})
		case f.Required && (f.Kind == spec.KindPlace):
			keys = append(keys, tomledit.Field{Key: f.Key, Value: "{ fret = 5 }"})
		case f.Required && f.Kind == spec.KindText:
			keys = append(keys, tomledit.Field{Key: f.Key, Value: `"text"`})
		case f.Required:
			keys = append(keys, tomledit.Field{Key: f.Key, Value: tomledit.Number(f.Min)})
		}
	}
	if g.List {
		require.NoError(t, d.Insert(g.Table, 1, keys...))
		return
	}
	require.NoError(t, d.AddTable(g.Table, keys...))
}

// TestLimitsAreTheValidators sets every length to just inside and outside of
// the limits that the page shows, and reads what the validator says. Many cases,
// one for each kind of value and table. Without DRAWN=all it takes two of a table:
// page and validator have their limits of one table of keys.
func TestLimitsAreTheValidators(t *testing.T) {
	for _, g := range live.Groups() {
		if g.Table == "" || g.Table == "strings.set" {
			continue
		}
		var numbers []live.Control
		for _, c := range g.Controls {
			if c.Kind == live.Length || c.Kind == live.Number || c.Kind == live.Whole || c.Kind == live.Angle {
				numbers = append(numbers, c)
			}
		}
		for _, c := range drawn.Some(numbers, 2) {
			path := g.Table + "." + c.Key
			if g.List {
				path = g.Table + "[1]." + c.Key
			}
			judged := func(v float64) string {
				d, err := tomledit.Parse(spec.Starter())
				require.NoError(t, err)
				if g.Table == "tools.sled" || g.Table == "tools.printer" {
					require.NoError(t, d.AddTable(g.Table))
				}
				if g.Table == "tools.bit" {
					require.NoError(t, d.Insert(g.Table, 1, tomledit.Field{Key: "radius", Value: "12"}))
				}
				if g.Table == "channel" {
					at := tomledit.Inline(tomledit.Field{Key: "x", Value: "40"})
					to := tomledit.Inline(tomledit.Field{Key: "x", Value: "90"})
					require.NoError(t, d.Insert(g.Table, 1, tomledit.Field{Key: "width", Value: "3"}, tomledit.Field{Key: "depth", Value: "5"},
						tomledit.Field{Key: "from", Value: at}, tomledit.Field{Key: "to", Value: to}))
				}
				if g.Table == "joint" || g.Table == "joint.insert" {
					require.NoError(t, d.AddTable("joint", tomledit.Field{Key: "kind", Value: tomledit.Text(spec.JointButt)}))
				}
				if g.Table == "bridge" {
					require.NoError(t, d.AddTable(g.Table, tomledit.Field{Key: "height", Value: "9"}))
				}
				if g.Table == "heel.bolt" || g.Table == "joint.insert" {
					at := tomledit.Field{Key: "x", Value: "462"}
					if g.Table == "joint.insert" {
						at = tomledit.Field{Key: "down", Value: "10"}
					}
					require.NoError(t, d.Insert(g.Table, 1, at, tomledit.Field{Key: "diameter", Value: "4"}, tomledit.Field{Key: "depth", Value: "8"}))
				}
				addRequired(t, d, g)
				if strings.HasPrefix(path, "profile[1]") && c.Key != "apex" {
					require.NoError(t, d.Remove("profile[1].shape"))
					require.NoError(t, d.Set("profile[1].bass", "2"))
					require.NoError(t, d.Set("profile[1].treble", "2"))
				}
				require.NoError(t, d.Set(path, tomledit.Number(v)))
				s, err := spec.Read(strings.NewReader(d.String()), "")
				require.NoError(t, err)
				for _, p := range s.Validate() {
					if p.Key == path && regexp.MustCompile(`is not sensible`).MatchString(p.Message) {
						return p.Message
					}
				}
				return ""
			}
			beyond := 0.001 * max(1, c.Max)
			if c.Kind == live.Whole {
				beyond = 1
			}
			if c.Kind == live.Angle {
				beyond = 0.01
			}
			require.Empty(t, judged(c.Max), "%s = %g", path, c.Max)
			require.NotEmpty(t, judged(c.Max+beyond), "%s = %g", path, c.Max+beyond)
			require.Empty(t, judged(c.Min), "%s = %g", path, c.Min)
			if low := c.Min - 0.01; c.Kind != live.Whole && !(c.Zero != "" && low == 0) {
				require.NotEmpty(t, judged(low), "%s = %g", path, low)
			}
			require.LessOrEqual(t, c.Min, c.From, path)
			require.GreaterOrEqual(t, c.Max, c.To, path)
		}
	}
}
