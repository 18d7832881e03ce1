package spec

import "strconv"

// Channel is a channel routed into the glue face for a rod or a bar.
//
// It runs straight in the top view, from From to To along the neck. Its axis
// begins Offset from the centreline, negative towards the bass side, and turns
// by Angle, positive towards the treble side on the way to the body. A place
// off the wood is an end that runs out through it.
//
// Depth is that at its beginning and DepthEnd that at its end, below the glue
// plane. With a Curve the floor passes DepthMiddle half way between.
type Channel struct {
	Name         string // "" for a number
	Width, Depth float64
	DepthEnd     float64
	Curve        Curve
	DepthMiddle  float64
	Floor        Floor
	From, To     Place
	Offset       float64
	Angle        float64
	Top          Top

	// StripThickness is that of the strip at the channel's beginning. Its
	// underside keeps its distance from the floor all the way.
	StripThickness float64
	StripWood      Wood // the zero Wood is the neck's

	Bar    Bar
	Pocket Pocket
}

// Curve is how the depth of a channel changes between its ends.
type Curve int

const (
	CurveStraight Curve = iota // a straight slope
	CurveCircle                // an arc through both ends and the middle
	CurveParabola              // a parabola through them
)

// Top is how a channel is closed towards the board.
type Top int

const (
	TopOpen   Top = iota // the board closes it
	TopStrip             // a strip of wood glued over the rod
	TopFilled            // wood fills all that a bar leaves
)

// Bar is a bar glued into a channel, its top Below the glue plane: 0 where it
// is flush. The zero Bar is none.
type Bar struct {
	Width, Height float64
	Below         float64
	Modulus       float64 // MPa, along the bar
	Density       float64 // kg/m³
}

// Pocket is an access pocket, routed from the end of a channel outward: on the
// face of an angled headstock square to the face, else square to the glue plane.
type Pocket struct {
	At            PocketAt
	Width, Length float64
	Depth         float64
}

// PocketAt is the end of the channel that a pocket lies at.
type PocketAt int

const (
	PocketNone PocketAt = iota
	PocketNut
	PocketHeel
)

// Has reports whether there is a bar.
func (b Bar) Has() bool { return b != Bar{} }

// AllChannels returns the channels of a neck with their keys: that of [rod],
// which is called "rod channel", and those of [[channel]] in their order. One
// without a name is called "channel 2".
func (s *Spec) AllChannels() (channels []Channel, keys []string) {
	if r := s.Rod; r != nil {
		channels = append(channels, Channel{Name: "rod channel", Width: r.Width, Depth: r.Depth, DepthEnd: r.Depth, Floor: r.Floor, From: r.From, To: r.To})
		keys = append(keys, rodTable.Name)
	}
	for i, c := range s.Channels {
		if c.Name == "" {
			c.Name = "channel " + strconv.Itoa(i+1)
		}
		channels = append(channels, c)
		keys = append(keys, indexKey(channelTable.Name, i+1))
	}
	return channels, keys
}

// StripMaterial returns the material of a channel's strip or filling.
func (s *Spec) StripMaterial(c *Channel) Material {
	if c.StripWood == (Wood{}) {
		return s.Wood.Material()
	}
	return c.StripWood.Material()
}
