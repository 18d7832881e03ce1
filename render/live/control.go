package live

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"neckloft/neck/spec"
)

// A Control is a key of the spec as the page shows it. Limits and spans of
// lengths are in mm whatever the spec's unit.
type Control struct {
	Key   string `json:"key"` // such as "length"; with the group's table it is the path
	Label string `json:"label"`
	Help  string `json:"help"` // what it means, one sentence
	Kind  Kind   `json:"kind"`
	Unit  string `json:"unit,omitempty"` // of a plain number

	Min float64 `json:"min"` // allowed, as the validator has it
	Max float64 `json:"max"`

	// From and To are what a slider reaches over: the part of the allowed
	// range that a hand can aim in. The page widens it to hold the value.
	From float64 `json:"from"`
	To   float64 `json:"to"`
	Step float64 `json:"step"`

	Choices  []string `json:"choices,omitempty"`
	Optional bool     `json:"optional,omitempty"` // may be left empty
	Zero     string   `json:"zero,omitempty"`     // what 0, outside the limits, stands for
}

// Kind says what a control holds.
type Kind string

const (
	Length Kind = "length"
	Number Kind = "number"
	Whole  Kind = "whole"
	Angle  Kind = "angle" // in degrees
	Text   Kind = "text"
	Choice Kind = "choice"
	Place  Kind = "place" // a fret or a distance from the nut
	Units  Kind = "units"
	Shape  Kind = "shape"
)

// kinds are the controls that the kinds of keys have.
var kinds = map[spec.Kind]Kind{
	spec.KindText: Text, spec.KindLength: Length, spec.KindAngle: Angle, spec.KindNumber: Number, spec.KindCount: Whole,
	spec.KindBool: Choice, spec.KindChoice: Choice, spec.KindSpecies: Choice, spec.KindShape: Shape,
	spec.KindPlace: Place, spec.KindStation: Place,
}

// A Group is a table of the spec.
type Group struct {
	Table    string    `json:"table"` // "" for the top of the file
	Title    string    `json:"title"`
	Help     string    `json:"help"`
	Optional bool      `json:"optional,omitempty"` // a feature that a neck may lack
	List     bool      `json:"list,omitempty"`     // stands several times
	Item     string    `json:"item,omitempty"`     // what one of a list is called
	Controls []Control `json:"controls"`
}

// onTop are the tables that a hand is most often at. The rest follow in the
// order of the starter.
var onTop = []string{"", "depth", "profile"}

// Groups returns the controls of every key of a spec.
func Groups() []Group { return groups(spec.Keys()) }

func groups(keys spec.Schema) []Group {
	var first, rest []Group
	keys.Walk(func(path string, t *spec.Table) {
		g := Group{Table: path, Title: t.Title, Help: t.Help, Optional: t.Rows.Optional, List: t.Rows.List, Item: t.Item}
		for i := range t.Fields {
			g.Controls = append(g.Controls, control(path, &t.Fields[i]))
		}
		if slices.Contains(onTop, path) {
			first = append(first, g)
		} else {
			rest = append(rest, g)
		}
	})
	return append(first, rest...)
}

// control returns the control of a key.
func control(table string, f *spec.Field) Control {
	c := Control{
		Key: f.Key, Label: f.Label, Help: sentence(f.Help), Kind: kinds[f.Kind], Zero: f.Zero, Choices: f.Words(),
		Min: f.Min, Max: f.Max, From: f.From, To: f.To, Step: f.Step,
		Optional: f.Blank || f.Follows != "" || f.Only != nil || f.Zero != "",
	}
	if f.Absent != "" {
		c.Help = sentence(f.Help + "; " + f.Absent + " if left out")
	}
	if c.From == 0 && c.To == 0 {
		c.From, c.To = c.Min, c.Max
	}
	switch c.Kind {
	case Units, Choice, Shape, Text:
		c.From, c.To = 0, 0
	case Place:
		c.Min, c.Max, c.From, c.To, c.Step = spec.MinX, spec.MaxX, -200, 800, 0.5
	case Angle:
		for _, v := range []*float64{&c.Min, &c.Max, &c.From, &c.To} {
			*v = tidy(*v * 180 / math.Pi)
		}
	case Number:
		c.Unit = f.Unit
	}
	if c.Step == 0 && c.To > c.From {
		c.Step = 0.1
	}
	if f.Kind == spec.KindBool {
		c.Choices = []string{"true", "false"}
	}
	if table == "" && f.Key == "units" {
		c.Kind = Units
		c.Help = "Changing it converts every length in the file, so that changing back gives the same numbers. Comments stay as they are."
	}
	return c
}

// sentence gives a sentence of the table of keys its capital and full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	r, n := utf8.DecodeRuneInString(text)
	text = string(unicode.ToUpper(r)) + text[n:]
	return strings.TrimSuffix(text, ".") + "."
}
