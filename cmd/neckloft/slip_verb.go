package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

// filesOf are words for files that are typed as if they were verbs, and what writes
// them.
var filesOf = map[string]string{
	"step": "neckloft mesh -o neck.step", "stp": "neckloft mesh -o neck.step",
	"stl": "neckloft mesh -o neck.stl", "3mf": "neckloft mesh -o neck.3mf", "glb": "neckloft mesh -o neck.glb",
	"dxf": "neckloft mill -o mill.dxf", "pdf": "neckloft make -o my-neck",
}

// unknownVerb is the error about a word that is no verb, with the one that is likely
// meant.
func unknownVerb(root *cobra.Command, word string) error {
	msg := fmt.Sprintf("verb %q is unknown", word)
	if file, ok := filesOf[strings.ToLower(strings.TrimPrefix(word, "."))]; ok {
		msg += fmt.Sprintf("; did you mean \"%s\"?", file)
	} else if near := root.SuggestionsFor(word); len(near) > 0 {
		msg += fmt.Sprintf("; did you mean %q?", near[0])
	}
	return wrong("%s; \"neckloft --help\" lists the verbs", msg)
}
