package export

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/spec"
)

// Headline is one of the numbers a builder looks at first.
type Headline struct{ Name, Value string }

// Headlines returns the numbers a builder looks at first: those of
// ShapeHeadlines, the stiffness, and the bow under the strings.
func Headlines(n *neck.Neck) []Headline {
	return append(ShapeHeadlines(n), stiffnessHeadlines(n)...)
}

// ShapeHeadlines returns the headlines that follow from the shape alone: the
// wood's depth at the first and the last depth target, the slope of the back
// between them, the least cover over the rod channel and where, and the weight
// of the wood.
func ShapeHeadlines(n *neck.Neck) []Headline { return append(QuickHeadlines(n), weightHeadline(n)) }

// QuickHeadlines are ShapeHeadlines without the weight, which takes a look at the
// whole neck, and more than a look where an outline or glued-up strips are cut.
func QuickHeadlines(n *neck.Neck) []Headline {
	s := n.Spec()
	unit := s.PrintUnit()
	slope := n.BackSlope()
	depth := func(t spec.DepthTarget) Headline {
		return Headline{
			"wood at " + s.Label(t.At),
			fmt.Sprintf("%s (%s with the board)", unit.Rounded(n.Depth(s.X(t.At))), unit.Rounded(n.Total(s.X(t.At)))),
		}
	}
	out := []Headline{depth(slope.From)}
	if len(s.Depth) > 1 {
		out = append(out, depth(slope.To), Headline{
			"back slope",
			fmt.Sprintf("%s over %s, %.2f degrees", unit.Rounded(slope.Rise), unit.Rounded(slope.X1-slope.X0), slope.Angle*180/math.Pi),
		})
	} else {
		out = append(out, Headline{"back slope", "none, one depth target"})
	}
	if c, ok := n.LeastCoverBy(); ok {
		out = append(out, Headline{"least cover", fmt.Sprintf("%s%s at %s", unit.Rounded(c.Cover), n.Of(c.Channel), n.WhereIn(unit, c.X))})
	} else {
		out = append(out, Headline{"least cover", "no rod channel"})
	}
	return out
}

// weightHeadline is the weight of the wood, and of what lies in its channels.
func weightHeadline(n *neck.Neck) Headline {
	inlaid := ""
	if g := bending.InlayMass(n); g > 0 {
		inlaid = fmt.Sprintf(" and %.0f g of bars and strips", g)
	}
	return Headline{
		"weight", fmt.Sprintf("%.0f g of %s%s, without board, rod and hardware", bending.WoodMass(n), n.Spec().WoodName(), inlaid),
	}
}

// Cautions are the usual ones for the work this program leads to.
var Cautions = []string{
	"Routers: read the cutter's and the tool's manual; guard, eye and ear protection; feed the stock against the cutter's rotation; take light passes; clamp the workpiece and keep hands clear; unplug before changing a bit.",
	"Dust: fine hardwood dust harms lungs and can sensitise. Extract it at the tool and wear a fitted respirator; observe the exposure limits of your own country.",
	"Strings: a strung neck carries several hundred newtons. Wear eye protection, slacken the strings before working on the neck, and do not stand over a neck under test.",
	"Verify first: cut every new setting on scrap of the same size, and measure the wood, not the drawing. Numbers here follow from the spec; a slip in it is a slip in the wood.",
	"Where local codes, the tool's manual or licensed practice say otherwise, they prevail.",
}

// IndexEntry is one file that the index lists.
type IndexEntry struct{ File, What string }

// Index is the page that says what a folder of files holds.
type Index struct {
	Neck     *neck.Neck
	Warnings []spec.Problem
	Entries  []IndexEntry
	Missing  []IndexEntry // files that could not be made, and why
	Refused  []string     // stages that the carving plan refuses, and why
}

// holds reports whether a file of that name, up to its ending, is among those
// that the index lists.
func (x Index) holds(name string) bool {
	return slices.ContainsFunc(x.Entries, func(e IndexEntry) bool { return strings.HasPrefix(e.File, name) })
}

// Write writes the index as Markdown that reads well as plain text too.
func (x Index) Write(w io.Writer) error {
	var b bytes.Buffer
	s := x.Neck.Spec()
	fmt.Fprintf(&b, "# %s\n\n", s.Name)
	scale := "Scale length " + s.PrintUnit().Format(s.Scale.Length)
	if s.Multiscale() {
		scale = "Scale lengths " + s.PrintUnit().Format(s.Scale.Length) + " and " + s.PrintUnit().Format(s.Scale.Treble)
	}
	fmt.Fprintf(&b, "%s, %s. Made by neckloft from the spec with hash %.16s.\n\n", scale, fretCount(s.Scale.Frets), s.Hash())
	for _, h := range Headlines(x.Neck) {
		fmt.Fprintf(&b, "- %s: %s\n", h.Name, h.Value)
	}
	if len(x.Warnings)+len(x.Refused) > 0 {
		fmt.Fprintf(&b, "\n## Look at this first\n\n")
		for _, r := range x.Refused {
			fmt.Fprintf(&b, "- carving plan: %s\n", r)
		}
		for _, p := range x.Warnings {
			fmt.Fprintf(&b, "- %s: %s\n", p.Key, p.Message)
		}
	}
	fmt.Fprintf(&b, "\n## Files\n\n")
	for _, e := range x.Entries {
		fmt.Fprintf(&b, "- [%s](%s): %s\n", e.File, e.File, e.What)
	}
	for _, e := range x.Missing {
		fmt.Fprintf(&b, "- %s is missing: %s\n", e.File, e.What)
	}
	if words := DefaultHoldWords(x.Neck); len(words) > 0 && x.holds("gauges.") {
		fmt.Fprintf(&b, "\n## Holding the gauges\n\n")
		for _, w := range words {
			fmt.Fprintf(&b, "- %s\n", w)
		}
	}
	fmt.Fprintf(&b, "\n## Before you cut\n\n")
	for _, c := range Cautions {
		fmt.Fprintf(&b, "- %s\n", c)
	}
	_, err := w.Write(b.Bytes())
	return err
}

// fretCount says how many frets there are, if any.
func fretCount(n int) string {
	switch n {
	case 0:
		return "no frets"
	case 1:
		return "1 fret"
	}
	return strconv.Itoa(n) + " frets"
}
