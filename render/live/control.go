package live

import (
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

func length(key, label, help string, min, max, from, to float64) Control {
	return Control{Key: key, Label: label, Help: help, Kind: Length, Min: min, Max: max, From: from, To: to, Step: 0.1}
}

func number(key, label, unit, help string, min, max, from, to, step float64) Control {
	return Control{Key: key, Label: label, Help: help, Kind: Number, Unit: unit, Min: min, Max: max, From: from, To: to, Step: step}
}

func place(key, label, help string) Control {
	return Control{Key: key, Label: label, Help: help, Kind: Place, Min: -2000, Max: 3000, From: -200, To: 800, Step: 0.5}
}

func optional(c Control) Control {
	c.Optional = true
	return c
}

func material(what string) []Control {
	var names []string
	for _, s := range spec.AllSpecies() {
		names = append(names, s.Name)
	}
	return []Control{
		optional(Control{Key: "species", Label: "Species", Help: "Of the table of woods, for weight and stiffness" + what + ".", Kind: Choice, Choices: names}),
		optional(number("density", "Density", "kg/m³", "Of the very board in hand; goes before the species.", 100, 1500, 300, 1200, 5)),
		optional(number("modulus", "Modulus of elasticity", "MPa", "Along the grain; goes before the species.", 1000, 40000, 5000, 22000, 100)),
	}
}

// Groups returns the controls of every key of a spec, in the order of the
// starter.
func Groups() []Group {
	radius := func(key, label, help string) Control {
		c := optional(length(key, label, help, 5, 100000, 100, 600))
		c.Step, c.Zero = 1, "flat"
		return c
	}
	var shapes []string
	for _, s := range spec.Shapes() {
		shapes = append(shapes, s.Name)
	}
	stringControls := []Control{
		optional(Control{Key: "pitch", Label: "Pitch", Help: `Such as "E2", "F#3" or "Bb4"; A4 is 440 Hz.`, Kind: Text}),
		optional(number("frequency", "Frequency", "Hz", "In place of a pitch.", 5, 5000, 20, 1200, 1)),
		optional(stringLength("gauge", "Gauge", "Diameter over all.", 0.1, 3.5)),
		optional(stringLength("core", "Core", "Diameter inside the winding of a wound string.", 0.1, 1.5)),
		optional(number("density", "Density", "kg/m³", "Of a plain string or the core; steel if left out.", 500, 25000, 900, 9000, 10)),
		optional(number("wrap_density", "Winding's density", "kg/m³", "Steel if left out.", 500, 25000, 900, 9000, 10)),
		optional(number("mass", "Mass", "g/m", "In place of what the gauge gives.", 0.01, 200, 0.1, 30, 0.01)),
		optional(number("tension", "Tension", "N", "In place of all the rest.", 1, 1000, 20, 250, 1)),
	}
	return []Group{
		{Title: "Name and unit", Help: "What is printed on what is made, and the one unit of every length in the file.", Controls: []Control{
			{Key: "name", Label: "Name", Help: "Printed on what is made.", Kind: Text},
			{Key: "units", Label: "Unit", Help: "Changing it converts every length in the file, so that changing back gives the same numbers. Comments stay as they are.", Kind: Units, Choices: []string{"mm", "in"}},
		}},
		{Table: "depth", Title: "Thickness", Help: "At the deepest point, board included, as wide caliper jaws read it. One station is an even neck, two a straight line, more a smooth curve.", List: true, Item: "Station", Controls: []Control{
			place("", "Place", "From the nut to the start of the heel, the stations in order."),
			length("total", "Total", "Thickness here at the deepest point, board included.", 2, 200, 14, 32),
		}},
		{Table: "profile", Title: "Shape of the back", Help: "Fullness 2 is an ellipse, less has slimmer shoulders, more has fuller ones. The letters are our names for numbers.", List: true, Item: "Station", Controls: []Control{
			place("", "Place", "From the nut to the full heel, or to the end of the board; the stations in order."),
			{Key: "shape", Label: "Shape", Help: "Sets both sides at once.", Kind: Shape, Choices: shapes},
			number("bass", "Fullness, bass side", "", "Of the bass side's shoulder.", 1.05, 40, 1.2, 4, 0.01),
			number("treble", "Fullness, treble side", "", "Of the treble side's shoulder.", 1.05, 40, 1.2, 4, 0.01),
			length("apex", "Apex", "Deepest line, towards the bass (-) or the treble (+).", -150, 150, -6, 6),
		}},
		{Table: "scale", Title: "Scale", Help: "The string length and the frets.", Controls: []Control{
			length("length", "Scale length", "Twice the nut to fret 12.", 50, 3000, 330, 900),
			{Key: "frets", Label: "Frets", Help: "How many.", Kind: Whole, Min: 1, Max: 60, From: 12, To: 30, Step: 1},
		}},
		{Table: "width", Title: "Width", Help: "Across the neck at the board's edges, a straight taper between.", Controls: []Control{
			length("nut", "At the nut", "Across, at the nut.", 2, 300, 25, 65),
			length("end", "At the board's end", "Across, at the end of the board.", 2, 300, 30, 80),
			length("past_last_fret", "Past the last fret", "From the last fret to the board's end.", 0, 300, 0, 30),
		}},
		{Table: "board", Title: "Fretboard", Help: "Finished. Its own wood, if it is not the neck's.", Controls: append([]Control{
			length("thickness", "Thickness", "On the centreline.", 0.5, 50, 2, 10),
			radius("radius_nut", "Radius at the nut", "Of the playing surface; 0 is flat."),
			radius("radius_end", "Radius at the end", "The same as at the nut if left out."),
		}, material(" of the board")...)},
		{Table: "wall", Title: "Wall", Help: "The straight side under the board.", Controls: []Control{
			length("height", "Height", "From the glue plane down to where the curve starts.", 0, 50, 0, 6),
		}},
		{Table: "rod", Title: "Rod channel", Help: "Open at the glue plane, the underside of the board.", Optional: true, Controls: []Control{
			length("width", "Width", "Across.", 0.5, 50, 3, 14),
			length("depth", "Depth", "Below the glue plane.", 0.5, 100, 3, 18),
			place("from", "Begins", "Not before the headstock's shelf ends."),
			place("to", "Ends", "Past where it begins, up to the end of the wood."),
			{Key: "floor", Label: "Floor", Help: "Round as a ball-nose cutter leaves it.", Kind: Choice, Choices: []string{"flat", "round"}},
		}},
		{Table: "volute", Title: "Volute", Help: "The swelling on the back behind the nut. It needs a headstock.", Optional: true, Controls: []Control{
			length("rise", "Rise", "Depth it adds at its crest.", 0.1, 50, 0.5, 10),
			place("centre", "Crest", "Where its crest is; all of it ends before the first thickness station."),
			length("length", "Length", "Its whole length along the neck.", 5, 500, 15, 100),
		}},
		{Table: "headstock", Title: "Headstock", Help: "A plain paddle to cut the outline from.", Optional: true, Controls: []Control{
			{Key: "angle", Label: "Angle", Help: "0 is a flat one, stepped down.", Kind: Angle, Max: 30, To: 20, Step: 0.1},
			length("thickness", "Thickness", "Square to its face.", 3, 60, 8, 22),
			length("length", "Length", "Along the face, from the nut's front to the tip.", 20, 2000, 80, 300),
			length("width", "Width", "Of the paddle.", 2, 400, 40, 120),
			length("shelf", "Shelf", "Flat length behind the nut before the face breaks.", 1, 200, 1, 25),
			optional(length("step", "Step", "Flat headstock only: glue plane down to the face.", 0, 50, 0, 20)),
			optional(length("cove", "Cove", "Flat headstock only: radius of the curve down to the face.", 0, 500, 5, 60)),
			length("corner", "Corner", "Radius on the edges of its back.", 0, 50, 0, 6),
		}},
		{Table: "heel", Title: "Heel", Help: "The block at the body.", Optional: true, Controls: []Control{
			place("start", "Begins", "Where the neck begins to leave its profile: past the nut, up to the end of the board."),
			place("full", "Full", "Where it is the full block, past where it begins."),
			length("total", "Total", "Thickness of the block, board included.", 2, 200, 15, 60),
			length("width", "Width", "Of the block.", 2, 300, 30, 80),
			place("end", "End of the wood", "Where the wood ends, past the start of the full block."),
			length("corner", "Corner", "Corner radius of the block's section.", 0, 100, 0, 15),
		}},
		{Table: "blank", Title: "Blank", Help: "The wood that the neck is cut from, only checked for room.", Optional: true, Controls: []Control{
			length("thickness", "Thickness", "Of the blank.", 1, 5000, 15, 120),
			length("width", "Width", "Of the blank.", 1, 5000, 40, 150),
			length("length", "Length", "Of the blank.", 1, 5000, 400, 1200),
		}},
		{Table: "limits", Title: "Limits", Help: "What you will not go below.", Controls: []Control{
			length("cover", "Least cover", "Least wood between the rod channel and the back.", 0, 50, 0, 10),
		}},
		{Table: "wood", Title: "Wood", Help: "For weight and stiffness: average values at 12 % moisture; a single board differs.", Controls: material("")},
		{Table: "strings", Title: "Strings", Help: "For an estimate of how far they bend the neck with a slack rod.", Optional: true, Controls: []Control{
			length("height_nut", "Height at the nut", "Centres of the strings over the board.", 0, 50, 0.5, 4),
			length("height_12", "Height at fret 12", "Centres of the strings over the board.", 0, 50, 1, 6),
			optional(place("joint", "Body joint", "Where the body takes over; the heel's full block if left out.")),
		}},
		{Table: "strings.set", Title: "String", Help: "Each has a pitch or a frequency, and a gauge or a mass; or its tension outright.", List: true, Item: "String", Controls: stringControls},
	}
}

func stringLength(key, label, help string, from, to float64) Control {
	c := length(key, label, help, 0.05, 6, from, to)
	c.Step = 0.01
	return c
}
