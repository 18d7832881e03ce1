package mill

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/gauge"
)

// Names of layers.
const (
	LayerOutline     = "OUTLINE"
	LayerChannels    = "CHANNELS"
	LayerPockets     = "POCKETS"
	LayerSlots       = "SLOTS"
	LayerHoles       = "HOLES"
	LayerCounterbore = "COUNTERBORES"
	LayerPins        = "PINS"
	LayerTabs        = "TABS"
	LayerStock       = "STOCK"
	LayerBoard       = "BOARD"
	LayerDatum       = "DATUM"
	FaceLayers       = "FACE_" // before the names of layers in the plane of the headstock's face
)

// Layer is lines of one kind. X and Y are those of the neck, from the datum.
type Layer struct {
	Name  string
	Loops [][]mesh.Vec2 // closed
	Lines [][]mesh.Vec2 // open, to look at and not to cut
}

// layerChord is how far a layer's chords may lie from their curves, in mm.
const layerChord = 0.005

// Layers returns the outlines in the top view, seen from the glue face. Those in other
// planes are Planes.
func (s *Setup) Layers() []Layer {
	n := s.Neck
	top := []Layer{
		{Name: LayerStock, Lines: [][]mesh.Vec2{{
			{X: s.Lo.X, Y: s.Lo.Y}, {X: s.Hi.X, Y: s.Lo.Y}, {X: s.Hi.X, Y: s.Hi.Y}, {X: s.Lo.X, Y: s.Hi.Y}, {X: s.Lo.X, Y: s.Lo.Y},
		}}},
		DatumCross(),
		{Name: LayerOutline, Loops: [][]mesh.Vec2{s.solid.outline}},
		{Name: LayerBoard, Lines: [][]mesh.Vec2{gauge.BoardOutline(n)}},
	}
	var channels, pockets Layer
	for _, c := range n.Channels() {
		if c.OnFace() {
			continue // it lies in the plane of the face
		}
		if c.Pocket {
			pockets.Loops = append(pockets.Loops, c.Outline())
		} else {
			channels.Loops = append(channels.Loops, c.Outline())
		}
	}
	channels.Name, pockets.Name = LayerChannels, LayerPockets
	top = append(top, channels, pockets)
	var pins, tabs Layer
	for _, p := range s.Pins {
		pins.Loops = append(pins.Loops, Circle(mesh.Vec2{X: p.X, Y: p.Y}, p.Diameter))
	}
	for _, t := range s.Tabs {
		half := s.Options.TabWidth / 2
		out := math.Copysign(s.Options.Cutter, t.Y)
		tabs.Lines = append(tabs.Lines, []mesh.Vec2{
			{X: t.X - half, Y: t.Y}, {X: t.X - half, Y: t.Y + out}, {X: t.X + half, Y: t.Y + out}, {X: t.X + half, Y: t.Y},
		})
	}
	pins.Name, tabs.Name = LayerPins, LayerTabs
	top = append(top, pins, tabs)
	top = append(top, s.backHoles()...)
	if face := s.face(); !s.tilted() && face != nil {
		top = append(top, face[1:]...) // the outline is in the top view already
	}
	return full(top)
}

// DatumCross returns the cross on the datum of a plane.
func DatumCross() Layer {
	return Layer{Name: LayerDatum, Lines: [][]mesh.Vec2{{{X: -10}, {X: 10}}, {{Y: -10}, {Y: 10}}}}
}

// face returns the layers in the plane of the headstock's face, the outline first: x
// counts along the face from the nut, towards the tip negative.
func (s *Setup) face() []Layer {
	n := s.Neck
	h := n.Spec().Headstock
	if h == nil {
		return nil
	}
	on := func(loop []mesh.Vec2) []mesh.Vec2 {
		out := make([]mesh.Vec2, len(loop))
		for i, p := range loop {
			out[len(loop)-1-i] = mesh.Vec2{X: -p.X, Y: p.Y} // and the other way round
		}
		return out
	}
	outline := Layer{Name: LayerOutline, Loops: [][]mesh.Vec2{gauge.Simplify(on(gauge.HeadLoop(n, layerChord)))}}
	pockets, slots := Layer{Name: LayerPockets}, Layer{Name: LayerSlots}
	holes, wide, back := Layer{Name: LayerHoles}, Layer{Name: LayerCounterbore}, Layer{Name: LayerBackCounterbore}
	if h.Pocket != nil {
		pockets.Loops = append(pockets.Loops, on(neck.PocketLoop(h.Pocket, layerChord)))
	}
	for _, c := range n.Channels() {
		if c.OnFace() {
			loop := c.Outline()
			for i := range loop {
				loop[i].X = n.HeadU(loop[i].X)
			}
			pockets.Loops = append(pockets.Loops, on(loop))
		}
	}
	for _, slot := range n.HeadSlots() {
		slots.Loops = append(slots.Loops, on(neck.SlotLoop(slot, layerChord)))
	}
	for _, t := range n.Tuners() {
		if t.Across() {
			continue // drilled from the side
		}
		at := mesh.Vec2{X: -t.U, Y: t.Y}
		holes.Loops = append(holes.Loops, Circle(at, t.Hole))
		if t.FaceDepth > 0 {
			wide.Loops = append(wide.Loops, Circle(at, t.FaceDiameter))
		}
		if t.BackDepth > 0 {
			back.Loops = append(back.Loops, Circle(at, t.BackDiameter))
		}
	}
	return []Layer{outline, pockets, slots, holes, wide, back}
}

// Circle returns a circle as a closed loop.
func Circle(at mesh.Vec2, diameter float64) []mesh.Vec2 {
	r := diameter / 2
	k := max(16, int(math.Ceil(math.Pi/math.Acos(1-math.Min(layerChord/r, 0.5)))))
	out := make([]mesh.Vec2, k)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(k))
		out[i] = mesh.Vec2{X: at.X + r*cos, Y: at.Y + r*sin}
	}
	return out
}
