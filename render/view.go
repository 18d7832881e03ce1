package render

import (
	"fmt"
	"strings"
)

// View is what a preview shows.
type View int

const (
	ViewSheet        View = iota // all the main views on one sheet
	ViewThreeQuarter             // the back, seen from beyond the headstock
	ViewSide                     // from the side of lower y
	ViewBack                     // square on the back
	ViewFront                    // square on the fretboard
	ViewBare                     // the front of the wood without its board
	ViewSections                 // three sections to one scale
)

var viewNames = [...]string{"sheet", "three-quarter", "side", "back", "front", "bare", "sections"}

// Views returns every view in the order that help texts list them.
func Views() []View {
	vs := make([]View, len(viewNames))
	for i := range vs {
		vs[i] = View(i)
	}
	return vs
}

// String returns the view's name on the command line.
func (v View) String() string {
	if v < 0 || int(v) >= len(viewNames) {
		return fmt.Sprintf("View(%d)", int(v))
	}
	return viewNames[v]
}

// ParseView returns the view of the given name.
func ParseView(name string) (View, error) {
	for _, v := range Views() {
		if v.String() == name {
			return v, nil
		}
	}
	return 0, fmt.Errorf("view %q is unknown; allowed: %s", name, strings.Join(viewNames[:], ", "))
}
