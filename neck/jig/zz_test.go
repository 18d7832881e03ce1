package jig

import (
	"fmt"
	"testing"

	"neckloft/mesh"
	"neckloft/neck/necktest"
)

func TestZZ(t *testing.T) {
	for _, n := range necktest.All(t) {
		fmt.Println("==", n.Spec().Name)
		for _, c := range Choices(n, DefaultOptions()) {
			js, err := New(n, DefaultOptions(), c.Name)
			if err != nil {
				fmt.Printf("  %-10s [%s] ERR %v\n", c.Name, c.Cause, err)
				continue
			}
			for _, p := range js[0].Parts {
				m := p.Mesh
				if p.Flat() {
					if m, err = mesh.Extrude(p.Region, 0, p.Thick); err != nil {
						t.Errorf("%s %s: %v", n.Spec().Name, p.Name, err)
						continue
					}
				}
				lo, hi := m.Bounds()
				if err := m.Validate(); err != nil {
					t.Errorf("%s %s: %v", n.Spec().Name, p.Name, err)
				}
				if testing.Verbose() {
					fmt.Printf("  %-10s [%s] %s: %d %.1f x %.1f x %.1f label %.1f x %.1f %q\n", c.Name, c.Cause, p.Name, len(m.Faces), hi.X-lo.X, hi.Y-lo.Y, hi.Z-lo.Z, p.Label.Width, p.Label.Height, p.Label.Words)
				}
			}
			if testing.Verbose() {
				fmt.Println("     ", js[0].Gaps)
			}
		}
	}
}
