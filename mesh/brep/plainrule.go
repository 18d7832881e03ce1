package brep

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// Kernels measure a face by one of Gauss's rules from its side to its edges, however
// many spans lie between, and by another along each edge: with eight places a span, but
// no more than 61 (OpenCASCADE's BRepGProp, from memory; what it finds is off as this
// says). Edges can be cut as need be. Between them it matters which way it goes.
const (
	plainPlaces = 61
	plainSpan   = 8 // places for a span
)

// PlainError returns by how much, in mm³, a kernel's plain rule is off the flux about a
// point through the patch if it goes along u at once, and if along v.
func (s *Patch) PlainError(about mesh.Vec) (alongU, alongV float64) {
	return s.plainError(about), s.Swapped().plainError(about)
}

// plainError returns by how much the rule along u is off.
func (s *Patch) plainError(about mesh.Vec) float64 {
	spans := s.U.Spans()
	n := len(spans) - 1
	if n == 1 {
		return 0
	}
	plain, fine := gauss(plainRules[min(n*plainSpan, plainPlaces)], spans[0], spans[n]), gaussOver(innerRule, spans)
	return math.Abs(s.fluxBy(plain, about) - s.fluxBy(fine, about))
}

// fluxBy returns the flux about a point through the patch by given places along u, with
// three in each span along v.
func (s *Patch) fluxBy(along []weighted, about mesh.Vec) float64 {
	across := gaussOver(acrossRule, s.V.Spans())
	type place struct {
		first int
		w, d  [4]float64
	}
	places := make([]place, len(across))
	for i, k := range across {
		p := &places[i]
		p.first, p.w, p.d = s.V.Slopes(k.at)
	}
	row, slope := make([]mesh.Vec, s.V.Size()), make([]mesh.Vec, s.V.Size())
	sum := 0.0
	for _, a := range along {
		i, w, d := s.U.Slopes(a.at)
		for j := range row {
			column := [4]mesh.Vec{s.Points[i][j], s.Points[i+1][j], s.Points[i+2][j], s.Points[i+3][j]}
			row[j], slope[j] = combine(column[:], w).Sub(about), combine(column[:], d)
		}
		line := 0.0
		for k, p := range places {
			at, dv := combine(row[p.first:p.first+4], p.w), combine(row[p.first:p.first+4], p.d)
			du := combine(slope[p.first:p.first+4], p.w)
			line += float64(across[k].by * at.Dot(du.Cross(dv)))
		}
		sum += float64(a.by * line)
	}
	return sum / 3
}

// weighted is a place of a rule with its weight.
type weighted struct{ at, by float64 }

// gauss returns the places of a rule between two ends.
func gauss(r numeric.Rule, a, b float64) []weighted {
	out := make([]weighted, len(r.X))
	for i, x := range r.X {
		out[i] = weighted{numeric.Lerp(a, b, x), r.W[i] * (b - a)}
	}
	return out
}

// gaussOver returns the places of a rule in each span.
func gaussOver(r numeric.Rule, spans []float64) (out []weighted) {
	for i := range len(spans) - 1 {
		out = append(out, gauss(r, spans[i], spans[i+1])...)
	}
	return out
}

// plainRules holds the rules for two spans and more, by their places.
var plainRules = func() map[int]numeric.Rule {
	out := map[int]numeric.Rule{plainPlaces: numeric.NewRule(plainPlaces)}
	for n := 2 * plainSpan; n < plainPlaces; n += plainSpan {
		out[n] = numeric.NewRule(n)
	}
	return out
}()

var acrossRule = numeric.NewRule(3)
