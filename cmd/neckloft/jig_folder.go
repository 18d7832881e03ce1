package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"neckloft/export/bench"
	"neckloft/neck/jig"
)

// clearJigs removes what an earlier run left in the folder, which may belong to
// another neck: older files of the jigs that are written now, and, where no jigs are
// named, those of all others. It says what is removed, and what stays.
func (p *program) clearJigs(f *jigsFlags, list []jig.Jig, written map[string]bool) error {
	made := map[string]bool{}
	for _, j := range list {
		made[j.Name] = true
	}
	var gone, stays []string
	for _, name := range jig.Names() {
		for _, file := range bench.JigFilesOf(name) {
			path := filepath.Join(f.output, file)
			if _, err := os.Lstat(path); written[file] || err != nil {
				continue
			}
			if f.what != "" && !made[name] {
				stays = append(stays, file)
				continue
			}
			if err := os.Remove(path); err != nil {
				return err
			}
			gone = append(gone, file)
		}
	}
	if len(gone) > 0 {
		fmt.Fprintf(p.err, "neckloft: %s: removed %s of an earlier run: %s\n", f.output, plural(len(gone), "file"), strings.Join(gone, ", "))
	}
	if len(stays) > 0 {
		fmt.Fprintf(p.err, "neckloft: %s: %s of an earlier run %s, and %s tells nothing of that: %s\n", f.output, plural(len(stays), "file"), map[bool]string{true: "stays", false: "stay"}[len(stays) == 1], bench.JigIndex, strings.Join(stays, ", "))
	}
	return nil
}
