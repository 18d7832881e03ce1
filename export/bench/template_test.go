package bench

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// The templates are made where the spec tells of a joint, and only there.
func TestTemplatesWhereJointed(t *testing.T) {
	made := func(s *spec.Spec) []string {
		n, err := neck.New(s)
		require.NoError(t, err)
		var out []string
		for _, p := range New(n, nil).Products {
			if p.File != "template.pdf" && p.File != "template.3mf" {
				continue
			}
			var b bytes.Buffer
			require.NoError(t, p.Write(&b))
			assert.Greater(t, b.Len(), 1000)
			out = append(out, p.File)
		}
		return out
	}
	both := []string{"template.pdf", "template.3mf"}
	assert.Empty(t, made(spec.Demo()))
	s := spec.Demo()
	s.Joint = &spec.Joint{Cutter: 12}
	assert.Equal(t, both, made(s))
	s = spec.Demo()
	s.Heel.Bolts = []spec.Bolt{{At: spec.AtX(460), Apart: 30, Diameter: 4, Depth: 12}}
	assert.Equal(t, both, made(s))
	s = spec.Demo()
	s.Joint = &spec.Joint{Kind: spec.JointButt}
	assert.Empty(t, made(s), "a butt joint without inserts has none")
}
