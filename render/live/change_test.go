package live

import (
	"encoding/binary"
	"encoding/json"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// TestChangeOf makes the change to the first text as a page does, and holds the
// result against the second, and its size against the least.
func TestChangeOf(t *testing.T) {
	letters := rapid.StringOfN(rapid.RuneFrom([]rune("aé€𝄞𝄟\n")), 0, 9, -1)
	drawn.Check(t, func(t *rapid.T) {
		head, tail := letters.Draw(t, "head"), letters.Draw(t, "tail")
		before, after := head+letters.Draw(t, "before")+tail, head+letters.Draw(t, "after")+tail
		c := changeOf(before, after)
		units := utf16.Encode([]rune(before))
		require.Equal(t, after, string(utf16.Decode(units[:c.At]))+c.Put+string(utf16.Decode(units[c.At+c.Cut:])))
		require.LessOrEqual(t, len(c.Put), len(after)-len(head)-len(tail))
		if before == after {
			require.Zero(t, c.Cut)
		}
	})
}

// TestChangeOfWholeCharacters changes characters that share bytes: the whole of them
// gives way.
func TestChangeOfWholeCharacters(t *testing.T) {
	for _, c := range []struct {
		before, after string
		want          change
	}{
		{"abc", "xbc", change{0, 1, "x"}},
		{"1é2", "1è2", change{1, 1, "è"}},
		{"1é2", "1ĩ2", change{1, 1, "ĩ"}},
		{"𝄞", "𝄟", change{0, 2, "𝄟"}},
		{"ab", "ab", change{2, 0, ""}},
		{"é", "", change{0, 1, ""}},
	} {
		require.Equal(t, c.want, *changeOf(c.before, c.after), "%q to %q", c.before, c.after)
	}
}

// TestBriefAnswer asks for the same model twice, once brief: but for the text both are
// the same.
func TestBriefAnswer(t *testing.T) {
	value := json.RawMessage("20.7")
	ask := func(brief bool) map[string]any {
		req := &modelRequest{Text: spec.Starter(), X: 40, Brief: brief}
		require.NoError(t, json.Unmarshal([]byte(`[{"op": "set", "path": "depth[1].total", "value": `+string(value)+`}]`), &req.Edits))
		m, err := NewEngine(Options{}).newModel(t.Context(), req)
		require.NoError(t, err)
		head, err := m.head()
		require.NoError(t, err)
		var out map[string]any
		require.NoError(t, json.Unmarshal(head, &out))
		return out
	}
	whole, brief := ask(false), ask(true)
	c := brief["change"].(map[string]any)
	at := int(c["at"].(float64))
	text := spec.Starter() // which has no character of more than one byte before there
	require.Equal(t, whole["text"], text[:at]+c["put"].(string)+text[at+int(c["cut"].(float64)):])
	require.Less(t, len(c["put"].(string)), 6)
	for _, m := range []map[string]any{whole, brief} {
		delete(m, "text")
		delete(m, "change")
	}
	require.Equal(t, whole, brief)
	require.Equal(t, true, brief["ok"])
}

// TestFrameIndices reads the indices of the largest mesh that has short ones and of
// the next larger one.
func TestFrameIndices(t *testing.T) {
	for _, vertices := range []int{mostShort, mostShort + 1} {
		b := &buffers{positions: make([]float32, 3*vertices), normals: make([]int8, 4*vertices), indices: []uint32{0, 7, uint32(vertices - 1)}, thickness: []float32{2}}
		data := frame([]byte("{}"), []*buffers{b})
		size := int(binary.LittleEndian.Uint32(data[4:]))
		rest := data[8+size+16*vertices:]
		var got []uint32
		for i := range b.indices {
			if vertices > mostShort {
				got = append(got, binary.LittleEndian.Uint32(rest[4*i:]))
			} else {
				got = append(got, uint32(binary.LittleEndian.Uint16(rest[2*i:])))
			}
		}
		require.Equal(t, b.indices, got)
		require.Len(t, rest, b.indexSize()+4)
		require.Zero(t, b.indexSize()%4)
		require.Equal(t, uint32(0x40000000), binary.LittleEndian.Uint32(rest[b.indexSize():]), "the thickness")
	}
}
