package spec

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestProblemError(t *testing.T) {
	for want, p := range map[string]Problem{
		"tern.toml:12: depth[1].total: too thin":          {File: "tern.toml", Line: 12, Key: "depth[1].total", Message: "too thin"},
		"tern.toml:12: warning: depth[1].total: too thin": {File: "tern.toml", Line: 12, Key: "depth[1].total", Message: "too thin", Warning: true},
		"tern.toml: board: missing":                       {File: "tern.toml", Key: "board", Message: "missing"},
		"board: missing":                                  {Key: "board", Line: 3, Message: "missing"},
		"tern.toml: this is empty":                        {File: "tern.toml", Message: "this is empty"},
	} {
		assert.Equal(t, want, p.Error())
	}
}

func TestProblems(t *testing.T) {
	a, w, b := Problem{Key: "a"}, Problem{Key: "w", Warning: true}, Problem{Key: "b"}
	all := Problems{a, w, b}
	assert.Equal(t, Problems{a, b}, all.Errors())
	assert.Equal(t, Problems{w}, all.Warnings())
	assert.Equal(t, "a: \nwarning: w: \nb: ", all.Error())
	assert.Equal(t, Problems{a, b}, all.Err())
	// A typed nil in an error would be an error: these must be nil.
	assert.True(t, Problems{w}.Err() == nil)
	assert.True(t, Problems(nil).Err() == nil)
}

func TestProblemsSort(t *testing.T) {
	p := Problems{{Line: 9, Key: "a"}, {Key: "b"}, {Line: 2, Key: "c"}, {Line: 9, Key: "d"}, {Key: "e"}}
	p.sort()
	keys := ""
	for _, q := range p {
		keys += q.Key
	}
	assert.Equal(t, "cadbe", keys)
}

func TestSpecProblem(t *testing.T) {
	made := &Spec{}
	assert.Equal(t, Problem{Key: "wall.height", Message: "3 of 4"}, made.Problem("wall.height", "%d of %d", 3, 4))
	s := &Spec{Source: NewSource("owl.toml")}
	s.Source.set("wall", 7)
	assert.Equal(t, "owl.toml:7: warning: wall.height: thin", s.Warning("wall.height", "thin").Error())
}

func TestLength(t *testing.T) {
	mm, in := &Spec{}, &Spec{Units: Inch}
	for _, c := range []struct {
		v            float64
		wantMM, want string
	}{
		{18.2, "18.2 mm", "0.7165 in"},
		{25.4, "25.4 mm", "1 in"},
		{1.5875, "1.587 mm", "0.0625 in"}, // 1/16 in, in mm just below the half
		{0, "0 mm", "0 in"},
		{-12, "-12 mm", "-0.4724 in"},
		{2540, "2540 mm", "100 in"},
		{0.0001, "0.0001 mm", "3.937e-06 in"},
		{math.NaN(), "NaN mm", "NaN in"},
	} {
		assert.Equal(t, c.wantMM, mm.Length(c.v))
		assert.Equal(t, c.want, in.Length(c.v))
	}
}

func TestFormatLimit(t *testing.T) {
	assert.Equal(t, "77.142 mm", Millimetre.Limit(77.14151, math.Ceil))
	assert.Equal(t, "77.141 mm", Millimetre.Limit(77.14151, math.Floor))
	assert.Equal(t, "7.3 mm", Millimetre.Limit(5.6+1.2+0.5, math.Ceil))
	assert.Equal(t, "-5 mm", Millimetre.Limit(-5, math.Ceil))
	assert.Equal(t, "0.1969 in", Inch.Limit(5, math.Ceil))
	assert.Equal(t, "0.1968 in", Inch.Limit(5, math.Floor))
}
