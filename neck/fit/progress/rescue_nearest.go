package progress

import (
	"math"
	"slices"

	"neckloft/neck"
	"neckloft/neck/readings"
)

// conditions are what is wanted of a target, at some numbers. With slopes they
// are the rows of a linear program too.
type conditions struct {
	met  []float64   // by how much each is met, negative where it is missed
	rows [][]float64 // its row
	lost float64     // the wood lost, as the mean distance between the two surfaces in mm
	cost []float64   // its slopes
}

// conditions returns by how much each condition on the values and the numbers is
// met.
func (r *rescuer) conditions(n *neck.Neck, p, here []float64, slopes [][]float64) conditions {
	c := conditions{cost: make([]float64, len(slopes))}
	r.onSurface(&c, n, here, slopes)
	r.onNumbers(&c, p, slopes != nil)
	return c
}

// put adds a condition on a value, whose slopes are column i with the sign.
func (c *conditions) put(met float64, slopes [][]float64, i int, sign float64) {
	c.met = append(c.met, met)
	if slopes == nil {
		return
	}
	row := make([]float64, len(slopes))
	for k := range slopes {
		row[k] = sign * slopes[k][i]
	}
	c.rows = append(c.rows, row)
}

// onSurface adds the conditions station by station: inside the carved wood,
// cover, readings.
func (r *rescuer) onSurface(c *conditions, n *neck.Neck, here []float64, slopes [][]float64) {
	i := 0
	for k, x := range r.xs {
		for j, goal := range r.goal[k] {
			share := r.face[k][j] / r.whole
			c.lost += share * (goal - here[i])
			for m := range slopes {
				c.cost[m] -= share * slopes[m][i]
			}
			c.put(r.was[k][j]-r.tight[k][j]-here[i], slopes, i, 1)
			side := neck.Side(j / len(r.dirs))
			if reach, in := n.ChannelSupport(x, side, r.dirs[j%len(r.dirs)]); in && r.limit > 0 {
				// A little more, for the rounding.
				c.put(here[i]-reach-r.limit-3*inside, slopes, i, -1)
			}
			i++
		}
		for range r.at[k] {
			c.put(here[i]-r.inside, slopes, i, -1)
			i++
		}
	}
}

// onNumbers adds the conditions on the numbers themselves: none larger than it
// was or less than it may be, and a thickness that grows.
func (r *rescuer) onNumbers(c *conditions, p []float64, linear bool) {
	number := func(v float64, signs map[int]float64) {
		c.met = append(c.met, v)
		if linear {
			row := make([]float64, len(p))
			for k, sign := range signs {
				row[k] = sign
			}
			c.rows = append(c.rows, row)
		}
	}
	for k := range p {
		number(r.old[k]-p[k], map[int]float64{k: 1})
		number(p[k]-r.least[k], map[int]float64{k: -1})
	}
	if r.grows && r.depths > 0 {
		for k := 1; k < r.depths; k++ {
			number(p[k]-p[k-1], map[int]float64{k - 1: 1, k: -1})
		}
	}
}

// remainingOf returns what a reading leaves over another neck: of one taken at a
// place on the back, the distance to its surface.
func remainingOf(n *neck.Neck, c *Check) float64 {
	p := Progress{Neck: n, Set: &readings.Set{}}
	d := p.check(c.Reading, c.X)
	if d.Kind == readings.Centre {
		return d.Wood
	}
	return d.Remaining
}

// price is what a millimetre of a condition that is missed costs, in mm of the
// mean distance: more than it can save.
const price = 50

// judged is the wood lost with the price of what is missed most.
func (c *conditions) judged() float64 { return c.lost + price*math.Max(0, -slices.Min(c.met)) }

// program returns the linear program of the conditions, with numbers that move
// by no more than the reach. Only conditions within it bind.
func (c *conditions) program(reach float64) linearProgram {
	l := linearProgram{cost: c.cost, reach: make([]float64, len(c.cost)), dear: price}
	for k := range l.reach {
		l.reach[k] = reach
	}
	for i, row := range c.rows {
		far := 0.0
		for k, v := range row {
			far += math.Abs(v) * l.reach[k]
		}
		if c.met[i] < far {
			l.rows, l.slack = append(l.rows, row), append(l.slack, c.met[i])
		}
	}
	return l
}

// promise returns what the linear program says of a step: the wood lost, and by
// how much the condition that is missed most is missed.
func (c *conditions) promise(l *linearProgram, d []float64) (promised, missed float64) {
	promised = c.lost
	for k := range d {
		promised += c.cost[k] * d[k]
	}
	for i, row := range l.rows {
		v := l.slack[i]
		for k := range row {
			v -= row[k] * d[k]
		}
		missed = math.Max(missed, -v)
	}
	return promised, missed
}

// nearest returns the numbers that lose least wood of those that meet the
// conditions, or that miss them least, by a sequence of linear programs, each
// trusted as far as the one before held (Fletcher and Sainz de la Maza 1989).
func (r *rescuer) nearest(p []float64) ([]float64, bool) {
	const (
		most  = 40
		done  = 2e-5 // mm of the mean distance: a cubic millimetre or two
		reach = 0.3  // of a number in one step
	)
	n := r.lay(p)
	if n == nil {
		return nil, false
	}
	here := r.values(n)
	trust := 1.0
	for it := 0; it < most; {
		all := r.conditions(n, p, here, r.slopes(p, here))
		now := all.judged()
		moved := false
		for ; it < most && trust > 1e-4; it++ {
			l := all.program(reach * trust)
			d := l.solve(done / 2)
			promised, missed := all.promise(&l, d)
			gain := now - promised - price*missed
			if gain < done {
				return p, true
			}
			q := slices.Clone(p)
			for k := range q {
				q[k] += d[k]
			}
			if m := r.lay(q); m != nil {
				there := r.values(m)
				got := r.conditions(m, q, there, nil)
				if won := now - got.judged(); won > 0.1*gain {
					p, n, here, moved = q, m, there, true
					if won > 0.7*gain {
						trust = math.Min(3*trust, 10)
					}
					it++
					break
				}
			}
			trust *= 0.3
		}
		if !moved {
			break
		}
	}
	return p, true
}
