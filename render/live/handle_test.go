package live

import (
	"context"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// handledSpecs are texts of specs with handles of all kinds.
func handledSpecs(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{"starter": spec.Starter()}
	for _, name := range []string{"bittern", "corncrake", "lapwing", "siskin", "turnstone", "wren"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "specs", name+".toml"))
		require.NoError(t, err)
		out[name] = string(data)
	}
	return out
}

// drafted reads a text and lays out its neck, without judging it.
func drafted(t *testing.T, text string) (*spec.Spec, *neck.Neck) {
	t.Helper()
	s, err := spec.Read(strings.NewReader(text), "")
	require.NoError(t, err)
	n, err := neck.Draft(s)
	require.NoError(t, err)
	return s, n
}

// moved returns the text after a handle's axis was moved by so much of its value.
func moved(t *testing.T, text string, a axis, by float64) string {
	t.Helper()
	s, err := spec.Read(strings.NewReader(text), "")
	require.NoError(t, err)
	values := values(s)
	v, ok := values[a.Path].(float64)
	if p, is := values[a.Path].(placeValue); is {
		require.Equal(t, a.By, p.By, a.Path)
		if v, ok = p.X, true; p.By == "fret" {
			v = *p.Fret
		}
	}
	require.True(t, ok, "%s has no value to move", a.Path)
	to := v + by
	out, err := applyEdits(context.Background(), text, []Edit{{Op: a.Op, Path: a.Path, Value: &to, By: a.By}})
	require.NoError(t, err, a.Path)
	return out
}

// handleFor returns the handle of a list that has the axis of that path.
func handleFor(list []handle, path string) *handle {
	for i := range list {
		for _, a := range list[i].Axes {
			if a.Path == path {
				return &list[i]
			}
		}
	}
	return nil
}

// TestHandlesGoWhereTheySay moves the value of every handle in the text of the
// spec, reads that anew, and looks where the handle is then.
// Without DRAWN=all it takes some of the cases.
func TestHandlesGoWhereTheySay(t *testing.T) {
	paths := map[string]bool{}
	texts := handledSpecs(t)
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		text := texts[name]
		_, n := drafted(t, text)
		at := []float64{0.4 * n.BoardEnd(), n.Start() / 2, n.HeelStart()}
		lists := []func(n *neck.Neck) []handle{drawHandles}
		for _, x := range at {
			lists = append(lists, func(n *neck.Neck) []handle { return sectionHandles(n, x) })
		}
		for k, list := range lists {
			for _, h := range list(n) {
				for _, a := range h.Axes {
					if paths[a.Path] && !drawn.All() {
						continue // one handle of each key
					}
					paths[a.Path] = true
					by := 0.02
					if a.Op == "side" {
						by = 0.005 // fullness works less and less
					}
					if n.Spec().Units == spec.Inch && a.By != "fret" && a.Op != "side" && a.Path != "headstock.angle" {
						by = 0.001
					}
					_, m := drafted(t, moved(t, text, a, by))
					g := handleFor(list(m), a.Path)
					require.NotNil(t, g, "%s, list %d: %s is gone", name, k, a.Path)
					for i := range a.Per {
						way := a.Per[i] * by
						require.InDelta(t, h.At[i]+way, g.At[i], 3e-4+0.05*math.Abs(way), "%s, list %d: %s, part %d", name, k, a.Path, i)
					}
				}
			}
		}
	}
	for _, path := range []string{
		"depth[1].total", "depth[2].total", "width.nut", "width.end", "width.past_last_fret", "board.thickness", "wall.height",
		"profile[1].bass", "profile[1].treble", "profile[1].apex", "rod.depth", "rod.from", "rod.to", "volute.rise", "volute.centre", "volute.length",
		"heel.start", "heel.full", "heel.total", "heel.width", "heel.end",
		"headstock.angle", "headstock.thickness", "headstock.length", "headstock.width", "headstock.outline[2].u", "headstock.outline[2].y", "tuner[1].u", "tuner[1].y",
	} {
		require.True(t, paths[path], "no handle of %s", path)
	}
}

// TestStationsWherePointed points at places along the neck.
func TestStationsWherePointed(t *testing.T) {
	add := func(text string, x float64) (string, error) {
		return applyEdits(context.Background(), text, []Edit{{Op: "station", Path: "depth", Value: &x}})
	}
	s, n := drafted(t, spec.Starter())
	for x, fret := range map[float64]float64{s.FretX(5) + 3: 5, s.FretX(5) - 3: 5, s.FretX(1.5): 1.5, s.FretX(7) - 0.1: 7} {
		text, err := add(spec.Starter(), x)
		require.NoError(t, err)
		got, m := drafted(t, text)
		require.Len(t, got.Depth, 3)
		require.InDelta(t, fret, got.Depth[1].At.Fret, 0.051)
		for _, at := range []float64{20, 120, 250} {
			require.InDelta(t, n.Total(at), m.Total(at), 0.05, "it changes nothing yet")
		}
	}
	for x, words := range map[float64]string{-20: "between the nut and the heel", 5000: "the heel", s.FretX(1) + 4: "fret 1 already", s.FretX(12) - 4: "fret 12 already"} {
		_, err := add(spec.Starter(), x)
		require.ErrorContains(t, err, words)
	}
	_, err := add("name = 1", 100)
	require.Error(t, err)
}

// TestHandlesOfEveryPicture has what shapes a neck in the hand in each picture that
// shows it, and all of it in space.
func TestHandlesOfEveryPicture(t *testing.T) {
	outlined, err := os.ReadFile(filepath.Join("..", "..", "testdata", "specs", "turnstone.toml"))
	require.NoError(t, err)
	for text, want := range map[string]map[string][]string{
		spec.Starter(): {
			"section": {"profile[1].bass", "profile[1].treble", "profile[1].apex", "depth[1].total", "wall.height", "width.nut"},
			"side": {"depth[1].total", "depth[2].total", "volute.rise", "volute.centre", "volute.length", "heel.start", "heel.full", "heel.total", "heel.end",
				"headstock.angle", "headstock.thickness", "headstock.length"},
			"top": {"width.nut", "width.end", "heel.width", "headstock.width"},
		},
		string(outlined): {"top": {"headstock.outline[1].u", "headstock.outline[2].y"}},
	} {
		_, n := drafted(t, text)
		got := map[string][]string{}
		for _, h := range append(drawHandles(n), sectionHandles(n, n.Spec().FretX(1))...) {
			for _, picture := range h.Pictures {
				for _, a := range h.Axes {
					got[picture] = append(got[picture], a.Path)
				}
			}
		}
		for picture, paths := range want {
			require.Subset(t, got[picture], paths, picture)
			require.Subset(t, got["space"], paths, "in space, of %s", picture)
		}
	}
}
