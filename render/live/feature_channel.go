package live

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// insertChannel adds a channel as number i of the list, where there is room for
// it beside the others: as far from the centreline and as deep as leaves the
// least cover of the spec's limits.
func insertChannel(d *tomledit.Document, i int) error {
	s, err := spec.Read(strings.NewReader(d.String()), "spec")
	if err != nil {
		return fmt.Errorf("nothing can be added before the spec is put right: %w", err)
	}
	if n, problems := neck.Check(s); n == nil {
		return fmt.Errorf("a channel can be added when the neck can be built: %w", problems.Err())
	}
	if i < 1 || i > len(s.Channels)+1 {
		return fmt.Errorf("channel: there is no place number %d", i)
	}
	end := s.BoardEnd()
	if s.Heel != nil {
		end = math.Min(end, s.X(s.Heel.Start))
	}
	round := func(mm float64) float64 { return s.Units.Millimetres(rounded(s.Units, mm)) }
	c := spec.Channel{Width: round(3.4), From: spec.AtX(round(20)), To: spec.AtX(round(end - 20))}
	for _, at := range []float64{-0.45, 0.45, -0.3, 0.3, 0, -0.6, 0.6} {
		for _, deep := range []float64{8, 7, 6, 5, 4, 3, 2} {
			c.Offset, c.Depth = round(at*s.Width.Nut/2), round(deep)
			if c.DepthEnd = c.Depth; !channelFits(s, c) {
				continue
			}
			length := func(key string, mm float64) tomledit.Field {
				return tomledit.Field{Key: key, Value: tomledit.Number(rounded(s.Units, mm))}
			}
			x := func(key string, p spec.Place) tomledit.Field {
				return tomledit.Field{Key: key, Value: tomledit.Inline(length("x", p.X))}
			}
			return d.Insert("channel", i, length("width", c.Width), length("depth", c.Depth), x("from", c.From), x("to", c.To), length("offset", c.Offset))
		}
	}
	return errors.New("there is no room for another channel that leaves the cover wanted")
}

// channelFits reports whether a spec may have one channel more, without a word
// about it.
func channelFits(s *spec.Spec, c spec.Channel) bool {
	with := *s
	with.Source = nil
	with.Channels = append(slices.Clone(s.Channels), c)
	n, problems := neck.Check(&with)
	if n == nil {
		return false
	}
	return !slices.ContainsFunc(problems, func(p spec.Problem) bool {
		return strings.HasPrefix(p.Key, fmt.Sprintf("channel[%d]", len(with.Channels)))
	})
}
