package neck

import (
	"flag"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzSpecToMesh checks that whatever spec is read and found buildable makes
// valid solids.
func FuzzSpecToMesh(f *testing.F) {
	texts := spectest.Texts(f)
	if flag.Lookup("test.fuzz").Value.String() == "" {
		texts = drawn.Some(texts, 8) // .ci/run fuzzes, and begins with all
	}
	for _, text := range texts {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := spec.Read(strings.NewReader(text), "fuzz.toml")
		if err != nil {
			return
		}
		n, problems := Check(s)
		if problems.Err() != nil {
			return
		}
		for _, part := range parts {
			m, err := n.Solid(part, 0.3)
			require.NoError(t, err)
			require.NoError(t, m.Validate(), "%v", part)
		}
		_, err = n.Stations([]spec.Place{spec.AtX(n.Start()), spec.AtX(n.End())})
		require.NoError(t, err)
	})
}
