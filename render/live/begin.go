package live

import (
	"neckloft/neck"
	"neckloft/neck/spec"
)

// begin is what the page needs once, whatever the spec.
type begin struct {
	Groups   []Group    `json:"groups"`
	Shapes   []shapeArt `json:"shapes"`
	Cautions []string   `json:"cautions"`
	MMPerIn  float64    `json:"mmPerInch"`
}

// shapeArt is a named shape with a little drawing of it.
type shapeArt struct {
	Name     string  `json:"name"`
	Fullness float64 `json:"fullness"`
	Outline  []point `json:"outline"`
}

// drawShapes returns the named shapes, each drawn on the demo neck.
func drawShapes() ([]shapeArt, error) {
	var out []shapeArt
	for _, sh := range spec.Shapes() {
		s := spec.Demo()
		at := spec.AtFret(5)
		s.Profile = []spec.ProfileStation{{At: at, Shape: sh.Name, Bass: sh.Fullness, Treble: sh.Fullness}}
		s.Rod, s.Strings = nil, nil
		n, err := neck.New(s)
		if err != nil {
			return nil, err
		}
		out = append(out, shapeArt{sh.Name, sh.Fullness, drawSection(n, s.X(at)).Wood})
	}
	return out, nil
}

func (e *Engine) begin() (*begin, error) {
	shapes, err := drawShapes()
	if err != nil {
		return nil, err
	}
	return &begin{Groups(), shapes, append([]string{}, e.cautions...), spec.MillimetresPerInch}, nil
}
