package main

import (
	"os"
	"regexp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/neck/spec"
)

// pieceOfLength is what a length or a list of stations leaves behind where it is
// typed with spaces: a unit, or a number and what may follow it.
var pieceOfLength = regexp.MustCompile(`^(mm|cm|in|inch|inches|"|″|=|,|x|[=,]?x?=?[0-9][-0-9./]*(mm|in|inch|inches|"|″)?,?)$`)

// splitValue refuses a call that has a piece of a flag's value among its
// arguments, such as --every 25 mm, and says how it is typed.
func (p *program) splitValue(cmd *cobra.Command, args []string) error {
	for _, arg := range args {
		if !pieceOfLength.MatchString(arg) || isFile(arg) {
			continue
		}
		if flag, typed := p.pieces(cmd, arg); flag != nil {
			return wrong("%s: --%s %s is parted by spaces; type it as one word: --%s %s", cmd.Name(), flag.Name, strings.Join(typed, " "), flag.Name, joined(typed))
		}
	}
	return nil
}

// pieces finds the flag that an argument is a piece of, and all pieces as they
// were typed.
func (p *program) pieces(cmd *cobra.Command, arg string) (*pflag.Flag, []string) {
	for i, raw := range p.args {
		if raw != arg || i == 0 {
			continue
		}
		name, value, whole := strings.Cut(p.args[i-1], "=")
		if i > 1 && !(whole && strings.HasPrefix(name, "--")) {
			name, value = p.args[i-2], p.args[i-1]
		}
		flag := cmd.Flags().Lookup(strings.TrimPrefix(name, "--"))
		if !strings.HasPrefix(name, "--") || flag == nil || !takesLengths(flag, value) {
			continue
		}
		typed := []string{value}
		for _, more := range p.args[i:] {
			if !pieceOfLength.MatchString(more) || isFile(more) {
				break
			}
			typed = append(typed, more)
		}
		return flag, typed
	}
	return nil, nil
}

// takesLengths reports whether the value of a flag is made of lengths, or of
// another number with its unit.
func takesLengths(f *pflag.Flag, value string) bool {
	switch f.Value.(type) {
	case *lengthFlag, *lengthsFlag, *stationsFlag, *bedFlag:
		return true
	}
	return f.Value.Type() == "string" && pieceOfLength.MatchString(value)
}

// joined puts the pieces of a value together, a whole number and the fraction
// after it with a dash between.
func joined(typed []string) string {
	out := typed[0]
	for _, piece := range typed[1:] {
		switch piece {
		case "inch", "inches":
			piece = spec.Inch.String()
		}
		if last := out[len(out)-1]; strings.Contains(piece, "/") && last >= '0' && last <= '9' {
			out += "-"
		}
		out += piece
	}
	// A list that ends in a comma has lost its end.
	return strings.TrimSuffix(out, ",")
}

// isFile reports whether there is a file of this name.
func isFile(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}
