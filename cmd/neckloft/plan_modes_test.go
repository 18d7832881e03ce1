package main

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestWalkByHand works out every number of the walks on paper, and holds both
// the page and the program to it. The neck is a half circle of 22 mm radius.
func TestWalkByHand(t *testing.T) {
	page := squeezed(readingsText(t, "guide/walk.md"))
	shown := shownNeck(t)
	inFolder(t)
	require.NoError(t, os.WriteFile("half-round.toml", []byte(shown), 0o666))
	const r, bit, bearing, body = 22.0, 10.0, 5.0, 10 + 12.7/2
	crown := r - math.Sqrt(r*r-(r-bit)*(r-bit)) // under the flat back
	end := crown + bit
	mm := func(v float64) string { return fmt.Sprintf("%.2f mm", math.Floor(v*100+1e-9)/100) }
	for _, said := range []string{mm(end), mm(crown), mm(end + bearing), "24 mm wide", "16.35 mm", "= 9.11 mm", "= 18.23 mm"} {
		assert.Contains(t, page, said)
	}
	hand := unbroken(call("", "plan", "half-round.toml", "--bit-radius", "10mm", "--allowance", "0mm").out)
	assert.Contains(t, hand, "End of the arc "+mm(end)+" out of the base; its crown then "+mm(crown)+" out too")

	table := unbroken(call("", "plan", "half-round.toml", "--bit-radius", "10mm", "--allowance", "0mm", "--router", "table",
		"--guide", "template", "--template", "10mm").out)
	assert.Contains(t, table, "End of the arc "+mm(end)+" over it; crown of the arc "+mm(crown)+" over it; foot of the bearing "+mm(end)+" and its top "+mm(end+bearing))
	assert.Contains(t, table, "34 mm when one side is cut and 24 mm after both")
	assert.Contains(t, table, "stand "+mm(body)+" or more past it")
	assert.NotContains(t, table, "out of the base")

	for _, row := range planRows(t, "flats", "half-round.toml", "--pairs", "1", "--allowance", "0mm") {
		line := r * (math.Sqrt2 - 1)
		assert.InDelta(t, 45, value(t, row, "angle_deg"), 0.01)
		assert.InDelta(t, line, value(t, row, "back_line_from_centre_mm"), 0.002)
		assert.InDelta(t, line, value(t, row, "board_line_depth_mm"), 0.002)
		assert.InDelta(t, 2*line, value(t, row, "width_mm"), 0.004)
	}
}

// TestPlanModes gives the flags of every mode and reads what they change.
func TestPlanModes(t *testing.T) {
	const heron, dunnock = "../../testdata/specs/heron.toml", "../../testdata/specs/dunnock.toml"
	r := call("", "plan", heron, "--router", "table")
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, unbroken(r.out), "below the table at")
	assert.NotContains(t, r.out, "out of the base")

	row := planRows(t, "table", dunnock, "--router", "table", "--bit-radius", "8mm")[0]
	high := planRows(t, "table", dunnock, "--router", "table", "--bit-radius", "8mm", "--packing", "5mm")[0]
	assert.InDelta(t, value(t, row, "height_mm")+5, value(t, high, "height_mm"), 0.011)
	assert.Equal(t, "body end", row["bass_leads"])
	assert.Equal(t, "nut end", row["treble_leads"])
	for _, b := range planRows(t, "bearing", dunnock, "--router", "table", "--bit-radius", "8mm") {
		sum := 0.0
		for _, key := range []string{"on_side_mm", "on_board_mm", "on_template_mm", "on_nothing_mm"} {
			sum += value(t, b, key)
		}
		assert.InDelta(t, value(t, b, "top_mm")-value(t, b, "foot_mm"), sum, 1e-3)
	}
	// Ranked with what can be had, the first leaves least; two together leave less.
	rows := planRows(t, "offsets", dunnock, "--tape", "0.2mm", "--bearings", "16mm,19mm")
	assert.Len(t, rows, 19*(1+6+2))
	for i := 1; i < len(rows) && rows[i]["refused"] == ""; i++ {
		assert.LessOrEqual(t, value(t, rows[i-1], "remaining_cm3"), value(t, rows[i], "remaining_cm3"))
	}
	assert.Contains(t, call("", "plan", dunnock, "--bits", "--tape", "0.2mm").out, "layers of tape")
	assert.Contains(t, call("", "plan", dunnock, "--bits").out, "ridge from")

	// A side profile leaves the slope to take off, whatever the blank was.
	thick := strings.Replace(spec.Starter(), "thickness = 32", "thickness = 95", 1)
	r = call(thick, "plan", "-", "--blank-state", "side profile", "--blank-allowance", "1mm")
	assert.Equal(t, exitDone, r.code, r.err)
	assert.NotContains(t, r.out, "Saw ")
	assert.Contains(t, unbroken(r.out), "Take off 3.33 mm at the nut end and 1 mm at the body end")

	sled := planRows(t, "sled", heron, "--shims", "0.1mm,0.6mm")[0]
	assert.Contains(t, sled["shim_of"], "sheets of 0.6 mm")
	assert.InDelta(t, value(t, sled, "near_over_bed_mm")-value(t, sled, "far_over_bed_mm"), 3.32, 0.02)

	board := unbroken(call("", "plan", heron, "--board-on", "--reference", "glue").out)
	assert.Contains(t, board, "above the bench")
	assert.NotContains(t, board, "above the glue plane")
}

// TestPlanModesRefuse holds messages to what is wrong and what is allowed.
func TestPlanModesRefuse(t *testing.T) {
	for args, want := range map[string]string{
		"--router sled":                   `--router "sled" is unknown; allowed: hand, table`,
		"--packing 3mm":                   "allowed: the router table",
		"--router table --packing 1,2,3":  "--packing has 3 thicknesses; allowed: one, or two",
		"--tape 0mm":                      "--tape 0mm is no thickness; allowed: more than 0",
		"--overhang 2mm":                  "goes with a template",
		"--under 2mm":                     "goes with a board that is glued on",
		"--blank-state cut":               `--blank-state "cut" is unknown; allowed: squared, side profile`,
		"--router table --reference glue": "there are no rails",
	} {
		r := call("", append([]string{"plan"}, strings.Fields(args)...)...)
		assert.Equal(t, exitUsage, r.code, args)
		assert.Contains(t, r.err, want, args)
		assert.Empty(t, r.out, args)
	}
}
