package spec

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The limits of the keys, in mm and degrees, as builders of large and small
// necks were promised them.
func TestLimits(t *testing.T) {
	for key, want := range map[string][2]float64{
		"scale.length": {50, 3000}, "scale.frets": {0, 60},
		"width.nut": {2, 300}, "width.end": {2, 300}, "width.past_last_fret": {0, 300},
		"board.thickness": {0.5, 50}, "board.length": {10, 2500}, "board.radius_nut": {5, 100000}, "board.radius_end": {5, 100000},
		"board.density": {100, 1500}, "board.modulus": {1000, 40000},
		"depth.total": {2, 200}, "profile.bass": {1.05, 40}, "profile.treble": {1.05, 40}, "profile.apex": {-150, 150},
		"wall.height": {0, 50}, "rod.width": {0.5, 50}, "rod.depth": {0.5, 100},
		"volute.rise": {0.1, 50}, "volute.length": {5, 500},
		"headstock.angle": {0, 30}, "headstock.thickness": {3, 60}, "headstock.length": {20, 2000}, "headstock.width": {2, 400},
		"headstock.shelf": {1, 200}, "headstock.step": {0, 50}, "headstock.cove": {0, 500}, "headstock.corner": {0, 50},
		"heel.total": {2, 200}, "heel.width": {2, 300}, "heel.corner": {0, 100},
		"blank.thickness": {1, 5000}, "blank.width": {1, 5000}, "blank.length": {1, 5000},
		"scarf.angle": {2, 30}, "scarf.thickness": {3, 100}, "stack.blocks": {1, 20}, "stack.thickness": {2, 200},
		"lamination.width": {0.3, 300}, "lamination.width_end": {0.3, 300}, "lamination.density": {100, 1500}, "lamination.modulus": {1000, 40000},
		"tools.kerf": {0.2, 20}, "tools.planing": {0.05, 20}, "tools.trim": {0.5, 200},
		"limits.cover": {0, 50}, "wood.density": {100, 1500}, "wood.modulus": {1000, 40000},
		"strings.height_nut": {0, 50}, "strings.height_12": {0, 50},
		"strings.set.frequency": {5, 5000}, "strings.set.gauge": {0.05, 6}, "strings.set.core": {0.05, 6},
		"strings.set.density": {500, 25000}, "strings.set.wrap_density": {500, 25000},
		"strings.set.mass": {0.01, 200}, "strings.set.tension": {1, 1000},
		"tools.router_mass": {0.1, 50}, "tools.base_width": {10, 1000}, "tools.table_length": {50, 5000}, "tools.table_width": {50, 5000},
		"tools.template": {1, 100}, "tools.feed": {10, 20000}, "tools.hand_rate": {0.001, 1000},
		"tools.bit.radius": {1, 150}, "tools.bit.offset": {-20, 20}, "tools.bit.bearing": {1, 100}, "tools.bit.bearing_height": {0.5, 50},
		"tools.bit.straight": {0, 100}, "tools.bit.diameter": {2, 400},
		"tools.sled.span": {10, 5000}, "tools.sled.offset": {-1000, 5000}, "tools.sled.thickness": {1, 200}, "tools.sled.width": {10, 2000},
		"tools.sled.modulus": {100, 300000}, "tools.sled.unsupported": {10, 5000},
		"tools.printer.bed_width": {20, 5000}, "tools.printer.bed_depth": {20, 5000}, "tools.printer.nozzle": {0.1, 3},
	} {
		f := Keys().Field(key)
		require.NotNil(t, f, key)
		got := [2]float64{f.Min, f.Max}
		if f.Kind == KindAngle {
			got = [2]float64{degrees(f.Min), degrees(f.Max)}
		}
		assert.InDeltaSlice(t, want[:], got[:], 1e-12, key)
	}
}

// Every number of every key is taken at its limits and refused past them.
func TestLimitsAreKept(t *testing.T) {
	s := Demo()
	s.Source, s.Tools = nil, allOfThem()
	refused := func(key string) bool {
		for _, p := range s.Validate() {
			if p.Key == key && strings.Contains(p.Message, "not sensible") {
				return true
			}
		}
		return false
	}
	tried := 0
	var each func(at string, table *Table, row any)
	each = func(at string, table *Table, row any) {
		for i := range table.Fields {
			f := &table.Fields[i]
			key := joinKey(at, f.Key)
			set := func(v float64) bool {
				switch p := f.At(row).(type) {
				case *float64:
					was := *p
					defer func() { *p = was }()
					*p = v
				case *int:
					was := *p
					defer func() { *p = was }()
					*p = int(v)
				}
				return refused(key)
			}
			below, above := math.Nextafter(f.Min, -1e9), math.Nextafter(f.Max, 1e9)
			switch f.Kind {
			default:
				continue
			case KindCount:
				below, above = f.Min-1, f.Max+1
			case KindLength, KindAngle, KindNumber:
			}
			tried++
			assert.False(t, set(f.Min), key)
			assert.False(t, set(f.Max), key)
			assert.True(t, set(below), key)
			assert.True(t, set(above), key)
			if f.Zero != "" || f.Blank {
				assert.False(t, set(0), key)
			}
		}
		for _, inner := range table.Tables {
			for i, r := range inner.Rows.All(row) {
				each(inner.Path(at, i), inner, r)
			}
		}
	}
	each("", Keys().Top, s)
	assert.Greater(t, tried, 100)
}

// A key that does nothing is written where it says something all the same.
func TestWriteCove(t *testing.T) {
	for _, c := range []struct {
		angle, cove float64
		written     bool
	}{{0, 15, true}, {0, 20, true}, {radians(11), 15, false}, {radians(11), 20, true}, {1, 15, false}} {
		s := Demo()
		s.Headstock.Angle, s.Headstock.Cove = c.angle, c.cove
		var b strings.Builder
		require.NoError(t, s.WriteTOML(&b))
		assert.Equal(t, c.written, strings.Contains(b.String(), "\ncove = "), "%v", c)
	}
}
