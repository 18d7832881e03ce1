package main

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// making is what one call of make said and the folder it filled.
type making struct {
	result
	dir string
}

// makings are the calls of make that tests have in common, by what they read
// and their arguments. They stay until the last test is done.
var makings struct {
	sync.Mutex
	dir  string
	done map[string]making
}

// made returns what make writes of a spec, or of the built-in neck if there is
// none. Tests that look at the same spec share one call, and must not change its
// folder.
func made(t *testing.T, text string) making {
	t.Helper()
	makings.Lock()
	defer makings.Unlock()
	if m, ok := makings.done[text]; ok {
		return m
	}
	if makings.dir == "" {
		dir, err := os.MkdirTemp("", "neckloft-made")
		require.NoError(t, err)
		makings.dir, makings.done = dir, map[string]making{}
	}
	dir, err := os.MkdirTemp(makings.dir, "")
	require.NoError(t, err)
	for _, name := range olderFiles { // no folder is a fresh one
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("older"), 0o666))
	}
	args := []string{"make"}
	if text != "" {
		args = append(args, "-")
	}
	m := making{call(text, append(args, "-o", dir)...), dir}
	makings.done[text] = m
	return m
}

// olderFiles lie in every folder before it is filled: what make does not write anew
// of them it takes away.
var olderFiles = []string{"plan.pdf", "plan.csv", "plan.json"}

// removeMakings removes the folders of all.
func removeMakings() {
	if makings.dir != "" {
		os.RemoveAll(makings.dir)
	}
}

// filesIn returns what a folder holds, by name.
func filesIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	out := map[string]string{}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		require.NoError(t, err)
		out[e.Name()] = string(data)
	}
	return out
}
