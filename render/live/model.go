package live

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/compare"
	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
)

// Tolerances of the meshes that the page draws, in mm.
const (
	coarseTolerance = 0.1  // while a control moves
	fineTolerance   = 0.02 // at rest

	// manyFaces is the number of triangles of the coarse mesh from which there
	// is no fine one: it would have several times as many.
	manyFaces = 200_000
)

// modelRequest asks for the neck that a text describes, after edits.
type modelRequest struct {
	Text  string  `json:"text"`
	Edits edits   `json:"edits"`
	X     float64 `json:"x"`    // of the section plane, mm
	Fine  bool    `json:"fine"` // with the fine mesh and what takes longer

	Thickness bool `json:"thickness"` // at the vertices of the wood

	Lean bool `json:"lean"` // in place of thickness, how the wood leans along the neck

	With  string        `json:"with"`  // text of another neck, to say how the numbers differ from its own
	Along compare.Along `json:"along"` // what that has in the same place

	// Hand is "left" or "right" for the neck as it is for this hand, and "" as it is
	// written.
	Hand string `json:"hand"`

	Brief bool `json:"brief"` // what has changed of the text in place of the text
}

// model is the answer.
type model struct {
	words
	meshes

	buffers []*buffers
	said    []byte // the words as JSON
}

// words are all of a model but its meshes.
type words struct {
	Text      string          `json:"text"`
	Change    *change         `json:"change,omitempty"` // from the text of the request, for a brief answer without Text
	OK        bool            `json:"ok"`               // the neck can be built
	Problems  []problem       `json:"problems"`
	Values    map[string]any  `json:"values,omitempty"` // nil where the text cannot be read
	Numbers   []labelled      `json:"numbers,omitempty"`
	Section   *sectionDrawing `json:"section,omitempty"`
	Elevation *elevation      `json:"elevation,omitempty"`
	Top       *topDrawing     `json:"top,omitempty"`
	Handles   []handle        `json:"handles,omitempty"`
	Stations  *stationTable   `json:"stations,omitempty"`
	Products  []productInfo   `json:"products,omitempty"`
	Bench     []string        `json:"bench,omitempty"` // what to know of them
	Pictures  []pictureInfo   `json:"pictures,omitempty"`
	Turned    bool            `json:"turned,omitempty"` // to the hand that was asked for
}

// meshes say which meshes follow.
type meshes struct {
	Meshes []meshInfo `json:"meshes"`
	Fine   bool       `json:"fine"`
}

// say puts the words into JSON, which is done beside the meshes.
func (m *model) say() (err error) {
	m.said, err = json.Marshal(&m.words)
	return err
}

// head returns the model as one JSON object.
func (m *model) head() ([]byte, error) {
	if m.said == nil {
		if err := m.say(); err != nil {
			return nil, err
		}
	}
	more, err := json.Marshal(&m.meshes)
	if err != nil {
		return nil, err
	}
	return slices.Concat(m.said[:len(m.said)-1], []byte(","), more[1:]), nil
}

// problem is a problem of the spec for the page.
type problem struct {
	Key     string `json:"key"`
	Line    int    `json:"line"`
	Message string `json:"message"`
	Warning bool   `json:"warning"`
}

func problemsOf(ps spec.Problems) []problem {
	out := []problem{}
	for _, p := range ps {
		out = append(out, problem{p.Key, p.Line, p.Message, p.Warning})
	}
	return out
}

// newModel computes a model. A text that is no spec gives a model that says
// what is wrong; an error is that of an edit, or of the context.
func (e *Engine) newModel(ctx context.Context, req *modelRequest) (*model, error) {
	text, err := e.edited(ctx, req)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	m := &model{words: words{Text: text}, meshes: meshes{Meshes: []meshInfo{}}}
	if req.Brief {
		m.Text, m.Change = "", changeOf(req.Text, text)
	}
	j := e.judged(text)
	if len(req.Edits) > 0 && j.spec == nil {
		return nil, refusal{j.problems.Errors()[0]}
	}
	if turned := j.turned(handOf(req.Hand, j)); turned != j {
		j, m.Turned = turned, true
	}
	m.Problems = problemsOf(j.problems)
	if j.spec != nil {
		m.Values = values(j.spec)
	}
	if j.neck == nil {
		return m, nil
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	m.OK = true
	if err := e.draw(ctx, m, j, req); err != nil {
		return nil, err
	}
	return m, ctx.Err()
}

// edited returns the text of a request after its edits.
func (e *Engine) edited(ctx context.Context, req *modelRequest) (string, error) {
	// A control shows what was read of a text. Of one that cannot be read it
	// shows something else, and must not act on it.
	if len(req.Edits) > 0 {
		if before := e.judged(req.Text); before.spec == nil {
			return "", refusal{fmt.Errorf("the text cannot be read, so no control acts on it; put it right first: %w", before.problems.Errors()[0])}
		}
	}
	text, err := applyEdits(ctx, req.Text, req.Edits)
	switch {
	case err == nil:
		return text, nil
	case ctx.Err() != nil:
		return "", ctx.Err()
	}
	return "", refusal{err}
}

// draw computes what the page shows of a neck: the two meshes at the same time,
// and after that of the board all the rest.
func (e *Engine) draw(ctx context.Context, m *model, j *judgement, req *modelRequest) error {
	parts := []neck.Part{neck.PartWood, neck.PartBoard}
	solids := make([]*buffers, len(parts))
	fine := make([]bool, len(parts))
	errs := make([]error, len(parts)+1) // those of the meshes, and that of the words
	solid := func(i int) {
		var mesh *mesh.Mesh
		if errs[i] = ctx.Err(); errs[i] != nil {
			return
		}
		if mesh, fine[i], errs[i] = j.drawn(ctx, parts[i], req.Fine); errs[i] == nil {
			solids[i] = newBuffers(mesh)
			switch {
			case parts[i] != neck.PartWood:
			case req.Lean:
				solids[i].thickness = leans(j.neck, solids[i])
			case req.Thickness:
				solids[i].thickness = thicknesses(j.neck, solids[i].positions)
			}
		}
	}
	both := parallel{}
	both.run(func() { solid(0) })
	both.run(func() {
		solid(1)
		e.figures(ctx, m, j, req)
		errs[len(parts)] = m.say()
	})
	errs = append(errs, both.wait(), ctx.Err())
	if err := errors.Join(errs...); err != nil {
		return err
	}
	m.Fine = fine[0] && fine[1]
	for i, b := range solids {
		m.buffers = append(m.buffers, b)
		m.Meshes = append(m.Meshes, meshInfo{parts[i].String(), len(b.positions) / 3, len(b.indices), b.thickness != nil, req.Lean && b.thickness != nil})
	}
	return nil
}

// figures computes the drawings and numbers, and at rest also what takes longer.
// It stops where the request was given up.
func (e *Engine) figures(ctx context.Context, m *model, j *judgement, req *modelRequest) {
	if ctx.Err() != nil {
		return
	}
	m.Elevation = drawElevation(j.neck)
	m.Top = drawTop(j.neck, m.Elevation.Frets)
	m.Handles = drawHandles(j.neck)
	other := e.compared(j.neck, req.With, req.Along)
	var with *neck.Neck
	if other != nil {
		with = other.neck
	}
	m.Section = drawSectionWith(j.neck, req.X, other)
	if !req.Fine {
		m.Numbers = numbers(export.QuickHeadlines(j.neck), apart(export.QuickApart, j.neck, with))
		return
	}
	for _, step := range []func(){
		func() { m.Numbers = numbers(export.Headlines(j.neck), apart(export.Apart, j.neck, with)) },
		func() { m.Stations = drawStations(j.neck, with) },
		func() {
			set := e.made(j)
			m.Products, m.Bench, m.Pictures = productInfos(set.All()), productWords(set), pictureInfos(set.Pictures())
		},
	} {
		if ctx.Err() != nil {
			return
		}
		step()
	}
}

// drawnSolid computes the mesh to draw. The fine one, which is looked over as those
// of files are, is not begun where the coarse one has many triangles.
func (j *judgement) drawnSolid(ctx context.Context, part neck.Part, fine bool) (*mesh.Mesh, bool, error) {
	if !fine {
		m, err := fretboard.Sketch(j.neck, part, coarseTolerance)
		return m, false, err
	}
	coarse, _, err := j.drawn(ctx, part, false)
	if err != nil || len(coarse.Faces) > manyFaces {
		return coarse, false, err
	}
	if err := ctx.Err(); err != nil {
		return nil, false, err
	}
	m, err := fretboard.Solid(j.neck, part, fineTolerance)
	return m, true, err
}

// numbers are what a builder looks at first, and by how much they differ from
// another neck's, where there is one.
func numbers(headlines []export.Headline, apart []string) []labelled {
	var out []labelled
	for i, h := range headlines {
		l := labelled{Key: strings.ReplaceAll(h.Name, " ", "-"), Label: strings.ToUpper(h.Name[:1]) + h.Name[1:], Text: h.Value}
		if apart != nil {
			l.Apart = apart[i]
		}
		out = append(out, l)
	}
	return out
}

// apart compares a neck with another one, if there is one.
func apart(how func(a, b *neck.Neck) []string, n, with *neck.Neck) []string {
	if with == nil {
		return nil
	}
	return how(n, with)
}

// judgement is what reading and checking a text gave.
type judgement struct {
	spec     *spec.Spec // nil where the text is no spec
	neck     *neck.Neck // nil where it cannot be built
	problems spec.Problems

	work work // on the neck
}

// judge reads and checks a text. The neck, and what is made of it, has the shared
// tools for what the text does not say; the spec is that of the text alone.
func judge(text string, shared *spec.Tools) *judgement {
	j := &judgement{}
	s, err := spec.Read(strings.NewReader(text), "")
	if err != nil {
		if !errors.As(err, &j.problems) {
			j.problems = spec.Problems{{Message: err.Error()}}
		}
		return j
	}
	j.spec = s
	equipped := *s
	equipped.UseTools(shared)
	j.neck, j.problems = carve.Check(&equipped)
	return j
}

// keptJudgements is how many texts are remembered: a page moves its section
// plane through the same neck, and its ghost's, many times, and goes back to the
// neck that it began with.
const keptJudgements = 16

// judged returns the judgement of a text, from memory if it is there.
func (e *Engine) judged(text string) *judgement {
	e.mu.Lock()
	for i, k := range e.kept {
		if k.text == text {
			copy(e.kept[1:i+1], e.kept[:i])
			e.kept[0] = k
			e.mu.Unlock()
			return k.judgement
		}
	}
	e.mu.Unlock()
	j := judge(text, e.tools)
	e.mu.Lock()
	defer e.mu.Unlock()
	e.kept = append([]keptJudgement{{text, j}}, e.kept...)
	if len(e.kept) > keptJudgements {
		e.kept = e.kept[:keptJudgements]
	}
	return j
}

type keptJudgement struct {
	text      string
	judgement *judgement
}

// parallel runs functions at the same time. A panic of one is an error.
type parallel struct {
	wg  sync.WaitGroup
	mu  sync.Mutex
	err error
}

func (p *parallel) run(fn func()) {
	p.wg.Add(1)
	go func() {
		defer p.wg.Done()
		defer func() {
			if r := recover(); r != nil {
				p.mu.Lock()
				p.err = defect(r)
				p.mu.Unlock()
			}
		}()
		fn()
	}()
}

func (p *parallel) wait() error {
	p.wg.Wait()
	return p.err
}

// defect is an error of the program itself.
func defect(r any) error {
	return fmt.Errorf("internal error: %v; this is a defect of the program, please report it with the spec", r)
}

// refusal is an error that is the request's own fault.
type refusal struct{ err error }

func (r refusal) Error() string { return r.err.Error() }
func (r refusal) Unwrap() error { return r.err }
