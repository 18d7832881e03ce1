package live

import (
	"context"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestNumberOfEditsIsCapped sends as many edits as are taken, one more, and so
// many that to read them all would cost memory.
func TestNumberOfEditsIsCapped(t *testing.T) {
	read := func(n int) edits {
		var e edits
		one := `{"op":"set","path":"width.nut","value":43}`
		require.NoError(t, json.Unmarshal([]byte("["+strings.TrimSuffix(strings.Repeat(one+",", n), ",")+"]"), &e))
		return e
	}
	for n, ok := range map[int]bool{0: true, maxEdits: true, maxEdits + 1: false, 1000: false} {
		e := read(n)
		require.Len(t, e, min(n, maxEdits+1))
		_, err := applyEdits(context.Background(), spec.Starter(), e)
		if ok {
			require.NoError(t, err)
		} else {
			require.ErrorContains(t, err, "more edits at once than 50")
		}
	}
	var e edits
	require.NoError(t, json.Unmarshal([]byte("null"), &e))
	require.Empty(t, e)
}

// TestChangeOfUnitThatCannotBeIsTold gives it up, and lets the text grow beyond
// what a spec may be.
func TestChangeOfUnitThatCannotBeIsTold(t *testing.T) {
	inch := "in"
	gone, leave := context.WithCancel(context.Background())
	leave()
	_, err := applyEdits(gone, spec.Starter(), []Edit{{Op: "units", Text: &inch}})
	require.ErrorIs(t, err, context.Canceled)
	d := spec.Starter() + "#" + strings.Repeat("x", spec.MaxFileSize-len(spec.Starter())-1)
	_, err = applyEdits(context.Background(), d, []Edit{{Op: "units", Text: &inch}})
	require.ErrorContains(t, err, "larger than")
}

// TestEditsOfWhatCannotBeReadAreRefused asks the program itself, whatever a page
// may do.
func TestEditsOfWhatCannotBeReadAreRefused(t *testing.T) {
	s, err := New(Options{Text: spec.Starter(), Folder: t.TempDir()})
	require.NoError(t, err)
	defer s.Close()
	v, half := 43.0, 21.5
	wide := strings.Replace(spec.Starter(), "nut = 42.8", `nut = "wide"`, 1)
	for text, e := range map[string]Edit{
		wide:           {Op: "set", Path: "width.end", Value: &v},
		"":             {Op: "set", Path: "width.end", Value: &v},
		spec.Starter(): {Op: "set", Path: "scale.frets", Value: &half},
	} {
		_, err := s.newModel(context.Background(), &modelRequest{Text: text, Edits: edits{e}})
		require.ErrorAs(t, err, new(refusal))
		_, err = s.newModel(context.Background(), &modelRequest{Text: text})
		require.NoError(t, err, "it is shown all the same")
	}
	// An edit that leads to a neck that cannot be built is an edit all the same.
	thick := 99.0
	m, err := s.newModel(context.Background(), &modelRequest{Text: spec.Starter(), Edits: edits{{Op: "set", Path: "wall.height", Value: &thick}}})
	require.NoError(t, err)
	require.False(t, m.OK)
	require.Contains(t, m.Text, "height = 99")
}
