package jig

import (
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck/necktest"
)

func BenchmarkDefaultSet(b *testing.B) {
	n := necktest.Demo(b)
	for b.Loop() {
		_, err := New(n, DefaultOptions())
		require.NoError(b, err)
	}
}
