package joint

import (
	"fmt"
	"math"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// leastRakeOff is how far, in mm, the end of a face may lie off its angle: it is
// cut no better than to a tenth. Common practice, no published source.
const leastRakeOff = 0.1

// RakeProblem warns where the heel's face, which lies against the body, does not
// lie at the angle that the bridge asks for: ok is false where it does, or where the spec says nothing of a bridge.
func RakeProblem(n *neck.Neck) (warning spec.Problem, ok bool) {
	s := n.Spec()
	if s.Bridge == nil {
		return warning, false
	}
	set := SettingOf(n, HeightsOf(n).Angle())
	if set.Depth == 0 || math.Abs(set.Cut) < leastRakeOff {
		return warning, false
	}
	key, has := "heel.rake", "is raked by "+s.Heel.RakeWords()
	if s.Heel.Rake == 0 {
		key, has = "heel", "is square to the glue plane"
	}
	end := "the cap"
	if set.Cut < 0 {
		end = "the glue plane"
	}
	degrees := set.Angle * 180 / math.Pi
	give := "rake = " + spec.Number(degrees, 2)
	if most := spec.Keys().Field("heel.rake").Max; math.Abs(set.Angle) > most {
		give = fmt.Sprintf("heights under [bridge] that ask for less than %s°", spec.Number(most*180/math.Pi, 0))
	}
	return s.Warning(key, "the heel's face %s, and the bridge asks for an angle of %.2f°, which takes another %s off it at %s; give %s, or cut it so",
		has, degrees, n.Rounded(math.Abs(set.Cut)), end, give), true
}
