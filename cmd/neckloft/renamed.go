package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// renameFlags lets a verb read flags by the names that they once had, and says
// the new name each time that one is used.
func (p *program) renameFlags(cmd *cobra.Command, names map[string]string) {
	said := map[string]bool{}
	cmd.Flags().SetNormalizeFunc(func(_ *pflag.FlagSet, name string) pflag.NormalizedName {
		now, old := names[name]
		if !old {
			return pflag.NormalizedName(name)
		}
		if !said[name] {
			said[name] = true
			sayRenamed(p.err, "--"+name, "--"+now)
		}
		return pflag.NormalizedName(now)
	})
}

// sayRenamed warns that something is called otherwise now.
func sayRenamed(w io.Writer, old, now string) {
	fmt.Fprintf(w, "neckloft: warning: %s is called %s now; the old name is still read\n", old, now)
}
