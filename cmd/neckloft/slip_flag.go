package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// flagSlip says which flag an unknown one is likely meant for, or "".
func flagSlip(cmd *cobra.Command, err error) string {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return ""
	}
	name := unknown.GetSpecifiedName()
	if letters := unknown.GetSpecifiedShortnames(); letters != "" {
		// A long name with one dash: "-every".
		name, _, _ = strings.Cut(letters, "=")
		if len(name) < 2 {
			return ""
		}
	}
	if near := nearestFlag(name, cmd); near != "" {
		return fmt.Sprintf("; did you mean --%s?", near)
	}
	var others []string
	for _, other := range cmd.Root().Commands() {
		if other.Flags().Lookup(name) != nil {
			others = append(others, other.Name())
		}
	}
	if len(others) == 0 {
		return ""
	}
	return fmt.Sprintf("; --%s goes with %s", name, strings.Join(others, ", "))
}

// nearestFlag returns the flag of a verb whose name is nearest to the one given,
// or "" where none is near.
func nearestFlag(name string, cmd *cobra.Command) string {
	const farthest = 40 // letters; no flag is as long
	name = strings.ToLower(name)
	if len(name) > farthest {
		return ""
	}
	best, least := "", 2+len(name)/4
	var longer []string // names that this one is a part of
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Hidden || f.Deprecated != "" {
			return
		}
		if d := levenshtein.ComputeDistance(name, f.Name); d < least && d < len(name) {
			best, least = f.Name, d
		}
		if len(name) >= 3 && (strings.Contains(f.Name, name) || len(f.Name) >= 3 && strings.HasPrefix(name, f.Name)) {
			longer = append(longer, f.Name)
		}
	})
	if best == "" && len(longer) > 0 {
		best = slices.MinFunc(longer, func(a, b string) int { return len(a) - len(b) })
	}
	return best
}
