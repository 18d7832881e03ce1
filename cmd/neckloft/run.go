package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"neckloft/neck/spec"
)

// Exit codes.
const (
	exitDone   = 0
	exitFailed = 1 // the work failed
	exitUsage  = 2 // the command or the spec is wrong
)

// usageError is an error in how the program was called.
type usageError struct{ err error }

func (e usageError) Error() string { return e.err.Error() }
func (e usageError) Unwrap() error { return e.err }

// wrong returns a usageError.
func wrong(format string, args ...any) error {
	return usageError{fmt.Errorf(format, args...)}
}

// program is one call of neckloft: what was typed, where it reads and writes.
type program struct {
	args     []string
	in       io.Reader
	out, err io.Writer

	given []namedFile // the files that the verb reads

	toolsFile string      // of --tools
	shop      *spec.Tools // that it holds, once read
	own       *spec.Tools // of the spec that was read last, without those
}

// run executes the command line and returns the exit code.
func run(args []string, in io.Reader, out, errs io.Writer) (code int) {
	p := &program{args: args, in: in, out: out, err: errs}
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(errs, "neckloft: internal error: %v; this is a defect of the program, please report it with the spec\n", r)
			if os.Getenv("NECKLOFT_TRACE") != "" {
				errs.Write(debug.Stack())
			}
			code = exitFailed
		}
	}()
	root := p.root()
	root.SetArgs(args)
	err := root.Execute()
	if err == nil {
		return exitDone
	}
	for line := range strings.SplitSeq(err.Error(), "\n") {
		fmt.Fprintf(errs, "neckloft: %s\n", line)
	}
	return exitCode(err)
}

// exitCode tells a wrong command or spec from work that failed.
func exitCode(err error) int {
	var usage usageError
	var problems spec.Problems
	var problem spec.Problem
	if errors.As(err, &usage) || errors.As(err, &problems) || errors.As(err, &problem) {
		return exitUsage
	}
	return exitFailed
}

// root returns the command that holds all verbs. Long, since what goes wrong in
// any of them is worded here.
func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "neckloft VERB [SPEC.toml] [flags]",
		Short: "Shape the neck of a guitar or other fretted instrument, from numbers to carved wood",
		Long: `neckloft computes a neck from a spec, as a solid with its profile, volute and
heel, and writes what a builder uses at the bench.

With no SPEC.toml the built-in demo neck is used; "-" reads the spec from
standard input. "neckloft starter > my-neck.toml" prints a spec to begin from.
"neckloft guide" is the manual.`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Version:       version(),
		Args:          cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownVerb(cmd, args[0])
		},
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SuggestionsMinimumDistance = 2
	root.SetIn(p.in)
	root.SetOut(p.out)
	root.SetErr(p.err)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		var said usageError
		if errors.As(err, &said) { // by a flag of ours, which says its name
			return said
		}
		if !cmd.HasParent() && len(p.args) > 0 && !strings.HasPrefix(p.args[0], "-") {
			// Flags of a verb that there is not are not the trouble.
			return unknownVerb(cmd, p.args[0])
		}
		verb := ""
		if cmd.HasParent() {
			verb = cmd.Name() + ": "
		}
		return wrong("%s%s%s; \"%s --help\" lists the flags", verb, plainFlagError(err), flagSlip(cmd, err), cmd.CommandPath())
	})
	root.AddCommand(p.verbs()...)
	for _, verb := range root.Commands() {
		if verb.Name() == "guide" {
			continue // its arguments are no files
		}
		names := []string{"the spec"}
		switch verb.Name() {
		case "fit":
			names = []string{"the readings"}
		case "progress":
			names = append(names, "the readings")
		}
		judge := verb.Args
		verb.Args = func(cmd *cobra.Command, args []string) error {
			if err := p.splitValue(cmd, args); err != nil {
				return err
			}
			return judge(cmd, args)
		}
		verb.PreRunE = func(cmd *cobra.Command, args []string) error { return p.keepFiles(cmd, args, names...) }
	}
	return root
}

// version names the commit that the program was built from.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(unknown)"
}

// parserError is how the flag parser says that a value is none of its kind.
var parserError = regexp.MustCompile(`strconv\.Parse(\w+): parsing "[^"]*": (invalid syntax|value out of range)`)

// plainFlagError says in plain words what is wrong with a flag's value.
func plainFlagError(err error) string {
	return parserError.ReplaceAllStringFunc(err.Error(), func(text string) string {
		m := parserError.FindStringSubmatch(text)
		kind := map[string]string{"Int": "a whole number", "Uint": "a whole number, 0 or more", "Float": "a number", "Bool": "true or false"}[m[1]]
		switch {
		case kind == "":
			return "not understood"
		case m[2] == "value out of range":
			return "too large a number"
		}
		return "allowed: " + kind
	}) + commaHint(err)
}

// verbs returns the commands, in the order of a builder's work.
func (p *program) verbs() []*cobra.Command {
	verbs := []*cobra.Command{
		p.starterVerb(),
		p.checkVerb(),
		p.mirrorVerb(),
		p.makeVerb(),
		p.stationsVerb(),
		p.boardVerb(),
		p.meshVerb(),
		p.previewVerb(),
		p.compareVerb(),
		p.gaugesVerb(),
		p.angleVerb(),
		p.templateVerb(),
		p.jigsVerb(),
		p.planVerb(),
		p.sticksVerb(),
		p.millVerb(),
		p.fitVerb(),
		p.progressVerb(),
		p.liveVerb(),
		p.pageVerb(),
		p.guideVerb(),
	}
	for _, verb := range verbs {
		if !known(verb.Name(), []string{"starter", "mirror", "fit", "guide"}) {
			p.addTools(verb) // all others read a spec
		}
	}
	return verbs
}

// atMost returns an argument check for verbs that take up to n specs.
func atMost(n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > n {
			return wrong("%s: %d arguments; allowed: at most %d, the SPEC.toml", cmd.Name(), len(args), n)
		}
		return nil
	}
}
