package jig

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck/carve"
)

// Sizes of packing, in mm: common practice, no published source.
const (
	packWide  = 30.0
	packClear = 1.0 // between the wood that reaches lowest and the table
	packLeast = 8.0 // width that a neck stands on
)

// packed returns how thick packing under the flat back must be for the ends of the
// neck to hang free, 0 where they do without.
func (m *maker) packed() float64 {
	p := m.plan
	thick := 0.0
	if p.Table != nil {
		// What comes over the table, as far as that reaches.
		for _, r := range p.Table.Refusals {
			if f, ok := r.(carve.Foul); ok {
				thick = math.Max(thick, f.Packing)
			}
		}
	} else {
		_, cos := math.Sincos(p.Taper.Angle)
		for _, x := range m.n.Spread(m.n.Start(), m.n.End(), 400) {
			thick = math.Max(thick, (m.n.Depth(x)-p.Taper.Depth(x))*cos)
		}
		thick = math.Max(thick, p.PackBack.ThicknessFrom-p.PackBack.Clear)
	}
	if thick < 1e-6 {
		return 0
	}
	// Up to a tenth, so that a planer can be set to it.
	return math.Ceil((thick+packClear)*10-1e-6) / 10
}

// onTable returns the plan, and with a router table that asks for packing the plan
// on that.
func (m *maker) onTable() *carve.Plan {
	if m.plan == nil || m.plan.Options.Mode != carve.ModeTable {
		return m.plan
	}
	thick := m.packed()
	if thick == 0 {
		return m.plan
	}
	o := m.plan.Options
	o.Packing = [2]float64{thick, thick}
	if again, err := carve.New(m.n, o); err == nil {
		return again
	}
	return m.plan
}

// buildPacking makes the piece that lies under the flat back on a router table.
func buildPacking(m *maker) ([]Part, string, error) {
	if m.plan == nil {
		return nil, "", m.why
	}
	t, thick := &m.plan.Taper, m.packed()
	if thick == 0 {
		return nil, "", errors.New("no wood beside the flat back stands proud of it, and the neck lies flat without packing; allowed: a neck whose ends stand proud")
	}
	wide := math.Min(packWide, m.n.Width(t.From)/2)
	reach := ""
	if p := m.onTable(); p.Table != nil {
		wide = math.Min(wide, p.Table.Standing.Packing-2*m.Clearance)
		if p.Table.Tip > 0 {
			reach = fmt.Sprintf(" On the packing the tip of the bit stands %s over the table: see first that bit and router reach so far.", m.u.Rounded(p.Table.Tip))
		}
	}
	if wide < packLeast {
		return nil, "", errors.New("between the cuts of both sides there is no room for packing; allowed: a smaller bit")
	}
	sin, cos := math.Sincos(t.Angle)
	long := t.Length() / cos
	s := strip{lower: []mesh.Vec2{{}, {X: long}}, upper: []mesh.Vec2{{Y: thick}, {X: long, Y: thick}}}
	parts, joined := m.plates("packing", "PACKING", s, wide)
	for i := range parts {
		if p := &parts[i]; p.Label.Height < letterLeast {
			p.Written = p.Label
			lo, hi := p.Region.Bounds()
			p.edgeLabel(s.straightEdge(lo.X, hi.X))
		}
		// Its upper side against the back, as far as the run goes.
		parts[i].Home, parts[i].OnNeck = Frame{
			Origin: mesh.Vec{X: t.From - thick*sin, Y: wide / 2, Z: -t.Depth(t.From) - thick*cos},
			X:      mesh.Vec{X: cos, Z: -sin}, Y: mesh.Vec{X: sin, Z: cos}, Z: mesh.Vec{Y: -1},
		}, true
	}
	return parts, fmt.Sprintf("%s thick and %s wide, under the flat back from x = %s to %s: the wood that reaches lowest hangs %s over the table at least, and the bit passes beside it.",
		m.u.Rounded(thick), m.u.Rounded(wide), m.u.Rounded(t.From), m.u.Rounded(t.To), m.u.Rounded(packClear)) + reach + " The picture has the finished neck over it." + butted(joined), nil
}
