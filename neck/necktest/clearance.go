package necktest

import (
	"math"

	"neckloft/neck"
)

// Clearance finds how near many points come to a section's back.
//
// A point's distance is the most by which it reaches beyond any of the section's
// supporting lines. One line that it reaches beyond far enough shows that it does
// not come nearest, and the line that decided last mostly is such a one: few
// points need the whole search.
type Clearance struct {
	section *neck.Section
	least   float64
	side    neck.Side
	phi     float64
}

// NewClearance begins with a distance, in mm, that none may come under.
func NewClearance(s *neck.Section, least float64) *Clearance {
	return &Clearance{section: s, least: least}
}

// Take looks at a point.
func (c *Clearance) Take(p neck.YZ) {
	sin, cos := math.Sincos(c.phi)
	if c.side.Sign()*p.Y*cos-p.Z*sin-c.section.Support(c.side, c.phi) >= c.least {
		return
	}
	var d float64
	d, c.side, c.phi = c.section.Nearest(p)
	c.least = math.Min(c.least, d)
}

// Least returns the smallest signed distance of all points, or what it began
// with if none came under it.
func (c *Clearance) Least() float64 { return c.least }
