package live

import (
	"context"
	"sync"

	"neckloft/export/bench"
	"neckloft/mesh"
	"neckloft/neck"
)

// mostKeptFaces is the number of triangles up to which a mesh is remembered.
const mostKeptFaces = 50_000

// work is what was computed of a neck and is asked for again: by a step back to it,
// and by each of its pictures and files.
type work struct {
	mu     sync.Mutex
	solids map[solidKey]drawnMesh
	set    *bench.Set
	turned *judgement // of the same neck for the other hand
}

type solidKey struct {
	part neck.Part
	fine bool // as asked
}

type drawnMesh struct {
	mesh *mesh.Mesh
	fine bool // as it is
}

// drawn returns the mesh to draw of a part, and whether it is the fine one.
func (j *judgement) drawn(ctx context.Context, part neck.Part, fine bool) (*mesh.Mesh, bool, error) {
	key := solidKey{part, fine}
	j.work.mu.Lock()
	d, ok := j.work.solids[key]
	j.work.mu.Unlock()
	if ok {
		return d.mesh, d.fine, nil
	}
	m, isFine, err := j.drawnSolid(ctx, part, fine)
	if err == nil && len(m.Faces) <= mostKeptFaces {
		j.work.mu.Lock()
		defer j.work.mu.Unlock()
		if j.work.solids == nil {
			j.work.solids = make(map[solidKey]drawnMesh)
		}
		j.work.solids[key] = drawnMesh{m, isFine}
	}
	return m, isFine, err
}

// made returns what can be made of a judgement's neck.
func (e *Engine) made(j *judgement) *bench.Set {
	j.work.mu.Lock()
	defer j.work.mu.Unlock()
	if j.work.set == nil {
		j.work.set = e.bench(j.neck, j.problems)
	}
	return j.work.set
}
