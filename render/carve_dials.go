package render

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// planCards puts the steps of the plan on cards: the words are the plan's, the
// numbers to set stand out, and each card has its own picture.
func (s *carveSheet) planCards() []card {
	var out []card
	open := s.p.BreaksCover() == nil // or there is nothing to tick or to set
	seen := map[carve.StageKind]int{}
	keys := keyLetters{}
	for i, step := range s.p.In(s.u).Steps() {
		c := card{title: strconv.Itoa(i+1) + ". " + step.Title, refused: step.Refused, weight: 1, lines: step.Do}
		var fill func(*carveSheet, *card, *keyLetters)
		if step.Title == carve.TitleChannels {
			fill = (*carveSheet).channelCard
		} else {
			seen[step.Kind]++
			fill = cardOf(step.Kind, seen[step.Kind])
		}
		if fill != nil {
			full := c
			fill(s, &full, &keys)
			c.weight = full.weight
			switch {
			case open && step.Refused == "":
				c = full
			default: // what would follow a colon is not there
				c.lines = slices.DeleteFunc(slices.Clone(c.lines), func(l string) bool { return strings.HasSuffix(l, ":") })
			}
		}
		c.tick = open && step.Refused == ""
		out = append(out, c)
	}
	return out
}

// cardOf returns what fills the card of a step by the state of the wood after
// it; two steps end in the tapered back. Nil is a step of words alone.
func cardOf(k carve.StageKind, nth int) func(s *carveSheet, c *card, k *keyLetters) {
	switch {
	case k == carve.StageSquare && nth == 1:
		return (*carveSheet).squareCard
	case k == carve.StageTaper && nth == 1:
		return (*carveSheet).taperCard
	case k == carve.StageTaper && nth == 2:
		return (*carveSheet).stopCard
	case k == carve.StageRound && nth == 1:
		return (*carveSheet).roundCard
	case k == carve.StageFlats && nth == 1:
		return (*carveSheet).flatCard
	case k == carve.StageFinal && nth == 1:
		return (*carveSheet).handCard
	}
	return nil
}

// keyLetters gives out letters, in order.
type keyLetters struct{ given int }

func (k *keyLetters) next() string {
	k.given++
	return string(rune('A' + k.given - 1))
}

// wholeUp returns a length rounded up to the last digit that is printed.
func wholeUp(u spec.Unit, mm float64) float64 {
	step := 0.01
	if u == spec.Inch {
		step = 0.001 * spec.MillimetresPerInch
	}
	return math.Ceil(mm/step-1e-6) * step
}

// set prints a length to set, with its unit.
func (s *carveSheet) set(mm float64) string {
	if s.u == spec.Inch {
		return number(mm, s.u) + " in"
	}
	return number(mm, s.u) + " mm"
}

// afterFirst leaves out the first words of a step, whose numbers stand in boxes.
func afterFirst(do []string, n int) []string { return do[min(n, len(do)):] }

// middle returns the station at which small pictures cut the neck.
func (s *carveSheet) middle() float64 { return s.sectionPlaces()[2] }

func (s *carveSheet) squareCard(c *card, keys *keyLetters) {
	x := s.middle()
	c.weight = 0.8
	key := keys.next()
	deep := s.p.Stock.At(x)
	c.dials = []dial{{key, s.set(deep), "below the glue plane"}}
	c.picture = blockPicture{Target: s.p.Outline(carve.StageFinal, x), Half: s.p.Neck.Width(x) / 2, Depth: deep, Key: key}
}

// mostChannelDials is the number of channels on their card; more are in the
// steps in full.
const mostChannelDials = 3

// channelCard shows the greatest depth of each channel, and how wide it is.
func (s *carveSheet) channelCard(c *card, _ *keyLetters) {
	c.weight = 1.1
	for _, k := range s.p.Neck.Channels() {
		if k.Pocket || len(c.dials) == mostChannelDials {
			continue
		}
		deepest, x := k.DeepestInWood()
		what := k.Name + ": deepest, all along; "
		if k.DepthAlong(0) != deepest || k.DepthAlong(k.Length()) != deepest {
			what = k.Name + ": deepest, at x = " + number(x, s.u) + "; "
		}
		c.dials = append(c.dials, dial{"", s.set(deepest), what + number(k.Width(), s.u) + " wide"})
	}
}

func (s *carveSheet) taperCard(c *card, keys *keyLetters) {
	t, sled := s.p.Taper, s.p.Sled
	c.weight = 1.5
	pic := sledPicture{Depth: [2]float64{t.DepthFrom, t.DepthTo}, BoardOn: s.p.Options.BoardOn}
	shim, at, over := sled.Shim, sled.Span, [2]float64{}
	if d := s.p.Dials; d != nil && s.p.Options.Build != nil {
		sled.HingeAt, sled.ShimAt, shim, at = d.HingeAt, d.ShimAt, d.Shim.Height, d.Shim.At
		pic.Carriage = d.Build.Tilts == carve.TiltCarriage
		over = [2]float64{d.Near.OverBench, d.Far.OverBench}
		if d.Near.X > d.Far.X {
			over[0], over[1] = over[1], over[0]
		}
		if !d.Shim.Possible {
			shim, over = 0, [2]float64{}
		}
	}
	pic.HingeAtNut = sled.HingeAt != "body end"
	for i, d := range pic.Depth {
		pic.Keys[i] = keys.next()
		end := [...]string{"nut end", "body end"}[i]
		c.dials = append(c.dials, dial{pic.Keys[i], s.set(d), end + ", below the glue plane; take off " + s.set(s.p.Stock.At([2]float64{t.From, t.To}[i])-d)})
	}
	if shim >= 0.005 {
		pic.Shim = keys.next()
		pic.Span = s.set(at)
		c.dials = append(c.dials, dial{pic.Shim, s.set(shim), "shim at the " + sled.ShimAt + ", " + pic.Span + " from the hinge"})
	}
	for i, v := range over {
		if v > 0 {
			// Up to the next digit, so that wood stays.
			c.dials = append(c.dials, dial{"", s.set(wholeUp(s.u, v)), "cutter above the bench, " + [...]string{"nut end", "body end"}[i]})
		}
	}
	c.picture = pic
	c.lines = afterFirst(c.lines, 2)
}

func (s *carveSheet) stopCard(c *card, keys *keyLetters) {
	p, n := s.p, s.p.Neck
	c.weight = 1.5
	pic := stopsPicture{Neck: n, From: p.Stretch.From, To: p.Stretch.To, Body: bitRadius(p), Off: axisOff(p.Round.Bit), Shows: "back, " + n.SideName(neck.MinusY) + " side up"}
	if p.Table != nil {
		pic.Shows = "glue face, " + n.SideName(neck.MinusY) + " side down"
	}
	if p.Refuses(carve.StageRound) {
		return
	}
	for _, stop := range p.Round.Stops[:2] {
		if stop.Feature == "" {
			continue
		}
		m := stopMark{X: stop.Centre, Key: keys.next()}
		pic.Stops = append(pic.Stops, m)
		c.dials = append(c.dials, dial{m.Key, carve.InBoth(s.u, stop.Centre),
			"from the nut; " + carve.InBoth(s.u, stop.Board) + " from the board's end"})
	}
	c.picture = pic
	// What follows the colon stands in the boxes.
	for i, l := range c.lines {
		if strings.HasSuffix(l, ":") {
			c.lines = slices.Clone(c.lines)
			c.lines[i] = strings.TrimSuffix(l, ":") + "."
		}
	}
}

func (s *carveSheet) roundCard(c *card, keys *keyLetters) {
	p, ref, w := s.p, s.p.Options.Reference, s.p.In(s.u)
	c.weight, c.tall = 2.2, 31
	if p.Refuses(carve.StageRound) {
		return
	}
	x, r, key := s.middle(), &p.Round, keys.next()
	height := func(h float64) string { return s.set(w.SafeHeight(h)) }
	limit := "never beyond, "
	if onRails(p) {
		limit = "never below, "
	}
	c.dials = []dial{
		{key, height(r.Setting.Height), "end of the arc " + ref.CountsFrom()},
		{"", height(r.Greatest.Height), limit + ref.CountsFrom()},
	}
	c.ticksOf = "Passes, by the height of the arc's end " + ref.CountsFrom() + ":"
	for _, pass := range r.Passes {
		c.ticks = append(c.ticks, number(w.SafeHeight(pass.Height), s.u))
	}
	c.picture = besidePictures{s.roundPicture(x, key), s.feedPicture()}
	c.lines = afterFirst(c.lines, 2)
}

func (s *carveSheet) flatCard(c *card, _ *keyLetters) {
	p := s.p
	c.weight = 1.1
	if p.Refuses(carve.StageFlats) {
		return
	}
	degrees := func(side neck.Side, pair int) string {
		return spec.Number(p.Flats.Angles[side][pair]*180/math.Pi, 1) + "°"
	}
	cut := map[int]bool{}
	for i := range p.Stations {
		for _, f := range p.Stations[i].Flats {
			cut[f.Pair] = true
		}
	}
	for pair := range p.Flats.Pairs {
		if cut[pair+1] {
			c.dials = append(c.dials, dial{"", degrees(p.Neck.Bass(), pair) + ", " + degrees(p.Neck.Treble(), pair),
				"pair " + strconv.Itoa(pair+1) + ": bass, treble, to the glue plane"})
		}
	}
	x := s.middle()
	c.picture = flatsPicture{Target: p.Outline(carve.StageFinal, x), Half: p.Neck.Width(x) / 2, Flat: p.Taper.Depth(x), Flats: p.Flats.At(x),
		Sides: [2]string{p.Neck.SideName(neck.MinusY), p.Neck.SideName(neck.PlusY)}}
}

func (s *carveSheet) handCard(c *card, _ *keyLetters) {
	p := s.p
	c.weight = 1
	if st := p.Stage(carve.StageFinal); st.HasCover {
		c.dials = []dial{{"", s.set(st.Cover), "least wood over the " + p.Neck.CoverName(st.CoverAt) + " at the end (limit " + s.u.Format(p.Neck.Spec().Limits.Cover) + ")"}}
	}
	if !p.Refuses(carve.StageRound) {
		c.dials = append(c.dials, dial{"", s.set(p.Round.Most), "most over the target after the router"})
	}
	if !p.Refuses(carve.StageFlats) {
		c.dials = append(c.dials, dial{"", s.set(p.Flats.Most), "most over the target after the flats"})
	}
}
