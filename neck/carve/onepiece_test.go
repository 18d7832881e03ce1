package carve

import (
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/neck"
	"neckloft/neck/necktest"
)

// onePiece draws a neck without scarf and stacked blocks: drawn ones may hold too
// little wood for it, which a plan refuses.
func onePiece(t *rapid.T) *neck.Neck {
	s := *necktest.Buildable(t).Spec()
	s.Scarf, s.Stack = nil, nil
	n, err := neck.New(&s)
	require.NoError(t, err)
	return n
}
