package render

import (
	"image/color"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/joint"
	"neckloft/neck/spec"
)

// The picture of the angle: for every kind of heel and both ways, the same bytes
// twice, no higher than its drawing, and with the shim or the cut filled in.
func TestAnglePicture(t *testing.T) {
	through := spec.Demo()
	through.Heel.Kind, through.Heel.End = spec.HeelThrough, spec.AtX(800)
	butt := spec.Demo()
	butt.Joint = &spec.Joint{Kind: spec.JointButt}
	for name, s := range map[string]*spec.Spec{"pocket": spec.Demo(), "butt": butt, "through": through} {
		n, err := neck.New(s)
		require.NoError(t, err)
		h := joint.HeightsOf(n)
		level := h.Board + h.Fret
		filled := func(bridge float64) int {
			h.Bridge = bridge
			img, err := Angle(n, h, 900)
			require.NoError(t, err)
			again := img
			if bridge == level {
				again, err = Angle(n, h, 900)
				require.NoError(t, err)
			}
			assert.Equal(t, img, again, name)
			assert.Equal(t, 900, img.Bounds().Dx())
			assert.LessOrEqual(t, img.Bounds().Dy(), 666)
			count := 0
			for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
				for x := range 900 {
					r, g, b, _ := img.At(x, y).RGBA()
					if uint8(r>>8) == featureColor.R && uint8(g>>8) == featureColor.G && uint8(b>>8) == featureColor.B {
						count++
					}
				}
			}
			return count
		}
		flat := filled(level)
		for _, bridge := range []float64{level + 12, level - 5} {
			if name == "through" {
				filled(bridge)
				continue
			}
			assert.Greater(t, filled(bridge), flat+50, "%s, %g", name, bridge)
		}
	}
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	_, err = Angle(n, joint.HeightsOf(n), 3)
	assert.Error(t, err)
}

// TestAngleWordsAreLegible looks at the labels of pictures in both units, for
// necks that tip either way, with and without a tenon: all within the margins,
// none cut off, and no board under one.
func TestAngleWordsAreLegible(t *testing.T) {
	butt := spec.Demo()
	butt.Joint = &spec.Joint{Kind: spec.JointButt}
	inch := spec.Demo()
	inch.Units = spec.Inch
	inch.Joint = &spec.Joint{Kind: spec.JointButt}
	dovetail, err := spec.ReadFile("../testdata/specs/fulmar.toml")
	require.NoError(t, err)
	isBoard := func(c color.Color) bool {
		r, g, b, _ := c.RGBA()
		return uint8(r>>8) == boardFill.R && uint8(g>>8) == boardFill.G && uint8(b>>8) == boardFill.B
	}
	for name, s := range map[string]*spec.Spec{"pocket": spec.Demo(), "butt": butt, "inch": inch, "dovetail": dovetail} {
		n, err := neck.New(s)
		require.NoError(t, err)
		for _, bridge := range []float64{2, 10.16, 21} {
			h := joint.HeightsOf(n)
			h.Bridge, h.Gap = bridge, 1.27
			a, img := drawAngle(n, h, 900)
			cut := 0
			for _, l := range a.p.Labels() {
				assert.NotContains(t, l.Text, "…")
				assert.True(t, l.Box.Min.X >= a.left-0.1 && l.Box.Max.X <= a.right+0.1, "%s, %g: %q", name, bridge, l.Text)
				if strings.Contains(l.Text, " off the ") {
					cut++
				}
				dark := 0
				for y := int(a.p.Height - l.Box.Max.Y); y < int(a.p.Height-l.Box.Min.Y); y++ {
					for x := int(l.Box.Min.X); x < int(l.Box.Max.X); x++ {
						if isBoard(img.At(x, y)) {
							dark++
						}
					}
				}
				assert.Zero(t, dark, "%s, %g: board under %q", name, bridge, l.Text)
			}
			if name != "pocket" {
				assert.Equal(t, 1, cut, "%s, %g", name, bridge)
			}
		}
	}
}
