package bench

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render"
)

// setOf returns the set of the starter's text with one change.
func setOf(t *testing.T, old, new string) *Set {
	text := strings.Replace(spec.Starter(), old, new, 1)
	if old != new && !strings.Contains(spec.Starter(), new) {
		require.NotEqual(t, spec.Starter(), text)
	}
	s, err := spec.Read(strings.NewReader(text), "shop/tern.toml")
	require.NoError(t, err)
	n, problems := neck.Check(s)
	require.NoError(t, problems.Err())
	return New(n, problems)
}

func written(t *testing.T, p Product) string {
	var b bytes.Buffer
	require.NoError(t, p.Write(&b), p.File)
	return b.String()
}

func TestSetOfASoundNeck(t *testing.T) {
	s := setOf(t, "", "")
	require.False(t, s.Forbidden)
	require.Empty(t, s.Refusal())
	require.Empty(t, s.Cautions())
	all := s.All()
	names := Files()[1:]
	require.Len(t, all, len(names)-len(s.Without)+1)
	last := len(all) - 1
	require.Equal(t, IndexFile, all[last].File)
	index := written(t, all[last])
	for _, p := range s.Products {
		for names[0] != p.File { // in the order of the names
			require.Contains(t, s.Without, names[0])
			names = names[1:]
		}
		names = names[1:]
		require.Nil(t, p.Missing)
		require.Empty(t, p.Why())
		require.False(t, p.Refused)
		require.Contains(t, index, "- ["+p.File+"]("+p.File+"): "+p.What)
	}
	require.NotContains(t, index, "Refused")
	require.Contains(t, written(t, s.Products[1]), "\n")
	// Whoever adds to what All returns does not change the set.
	_ = append(all[:last], Product{File: "other"})
	require.Equal(t, IndexFile, s.All()[last].File)
}

// TestBoardIsMadeWithCause has files of the board only where something is cut
// into it.
func TestBoardIsMadeWithCause(t *testing.T) {
	files := []string{"board.pdf", "board.csv", "board.stl"}
	require.Subset(t, setOf(t, "", "").Without, files)
	s := setOf(t, "# [slots]\n# kerf = 0.6 ", "[slots]\ndepth = 2\nkerf = 0.6 ")
	require.NotContains(t, s.Without, "board.pdf")
	var got []string
	for _, p := range s.Products {
		if strings.HasPrefix(p.File, "board.") {
			got = append(got, p.File)
			require.NotEmpty(t, written(t, p))
		}
	}
	require.Equal(t, files, got)
}

// TestSetWithADrawnHeadstock has the sheet of a headstock that says more than a
// paddle.
func TestSetWithADrawnHeadstock(t *testing.T) {
	s := setOf(t, "shelf = 5 ", "tip_thickness = 13\nshelf = 5 ")
	require.NotContains(t, s.Without, "headstock.pdf")
	for _, p := range s.Products {
		if strings.HasPrefix(p.File, "headstock.") {
			text := written(t, p)
			require.Contains(t, text[:200], map[string]string{"headstock.pdf": "%PDF", "headstock.dxf": "Tern 636, headstock"}[p.File])
		}
	}
}

// TestFretsEndWithTheWood has the wood end at a fret, which still has wood under
// it, and just before it.
func TestFretsEndWithTheWood(t *testing.T) {
	for end, want := range map[string]int{"{ fret = 20 }": 21, "{ fret = 19.99 }": 20, "{ x = 474 }": 23} {
		s := setOf(t, "{ x = 474 }", end)
		require.Len(t, FretsOnTheWood(s.neck), want, end)
		require.Equal(t, want+1, strings.Count(written(t, s.Products[1]), "\n"), "a heading and a row a station")
	}
}

// TestSolidThatFailsIsTold lets wood and board fail.
func TestSolidThatFailsIsTold(t *testing.T) {
	s := setOf(t, "", "")
	bad := errors.New("no wood")
	fails := func() (*mesh.Mesh, error) { return nil, bad }
	works := func() (*mesh.Mesh, error) { return s.neck.Solid(neck.PartBoard, neck.DefaultTolerance) }
	var b bytes.Buffer
	require.ErrorIs(t, writeSTL(&b, &job{n: s.neck, wood: fails}), bad)
	require.ErrorIs(t, write3MF(&b, &job{n: s.neck, wood: fails, board: works}), bad)
	require.ErrorIs(t, write3MF(&b, &job{n: s.neck, wood: works, board: fails}), bad)
	require.NoError(t, write3MF(&b, &job{n: s.neck, wood: works, board: works}))
}

func TestMain(m *testing.M) {
	PreviewWidth, render.Rough = render.MinWidth, true // looked at in their own package
	os.Exit(m.Run())
}

// TestEveryProductTellsOfADiskThatIsFull writes to where nothing fits.
func TestEveryProductTellsOfADiskThatIsFull(t *testing.T) {
	for _, p := range setOf(t, "", "").All() {
		require.Error(t, p.Write(full{}), p.File)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestRefusedPlanIsMarked(t *testing.T) {
	s := setOf(t, "cover = 4.0 ", "cover = 5.45 ")
	require.True(t, s.Forbidden)
	require.NotEmpty(t, s.Refused)
	require.Contains(t, s.Refusal(), "do not cut by plan.pdf, plan.csv or plan.json; all other files are made: "+s.Refused[0])
	require.Empty(t, s.Cautions(), "what is refused is said once")
	index := written(t, s.All()[len(s.Products)])
	require.Contains(t, index, "- carving plan: "+s.Refused[0])
	for _, p := range s.Products {
		planned := strings.HasPrefix(p.File, "plan.")
		require.Equal(t, planned, p.Refused, p.File)
		require.Equal(t, planned, strings.Contains(index, "]("+p.File+"): **Refused: do not cut by it.** "+p.What), p.File)
	}
}

// TestPartOfAPlanIsACaution makes a plan of which a stage is left out though
// none leaves too little wood.
func TestPartOfAPlanIsACaution(t *testing.T) {
	s := setOf(t, "", "")
	s.Refused = []string{"facets: refused: for a test", "bit: refused: too"}
	require.Equal(t, []string{"the carving plan is not complete:\n  facets: refused: for a test\n  bit: refused: too"}, s.Cautions())
	require.Empty(t, s.Refusal())
	require.Contains(t, written(t, s.All()[len(s.Products)]), "- carving plan: facets: refused: for a test\n- carving plan: bit")
}

func TestBlankTooThinToPlan(t *testing.T) {
	s := setOf(t, "thickness = 32", "thickness = 16")
	require.False(t, s.Forbidden)
	cautions := s.Cautions()
	require.Len(t, cautions, 1)
	require.True(t, strings.HasPrefix(cautions[0], "plan.pdf, plan.csv, plan.json are not made: shop/tern.toml:"), cautions[0])
	index := written(t, s.All()[len(s.Products)])
	require.NotContains(t, index, "shop/", "the index does not depend on where the spec is")
	for _, p := range s.Products {
		planned := strings.HasPrefix(p.File, "plan.")
		require.Equal(t, planned, p.Missing != nil, p.File)
		require.Equal(t, planned, p.Write == nil, p.File)
		require.Equal(t, planned, strings.Contains(index, "- "+p.File+" is missing: blank: the wood is 16 mm deep"), p.File)
	}
}

func TestCautionsJoinWhatHasOneReason(t *testing.T) {
	s := &Set{Products: []Product{
		{File: "a", Missing: errors.New("no wood")},
		{File: "b"},
		{File: "c", Missing: errors.New("no wood")},
		{File: "d", Missing: errors.New("no wood")},
		{File: "e", Missing: spec.Problems{{Key: "rod", Message: "no rod"}}},
	}}
	require.Equal(t, []string{"a is not made: no wood", "c, d are not made: no wood", "e is not made: rod: no rod"}, s.Cautions())
}
