package mesh_test

import (
	"fmt"

	"neckloft/mesh"
)

// A plate with a hole in it, as a solid 3 mm thick.
func ExampleExtrude() {
	plate := mesh.Region{
		Outer: []mesh.Vec2{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 20}, {X: 0, Y: 20}},
		Holes: [][]mesh.Vec2{{{X: 10, Y: 5}, {X: 20, Y: 5}, {X: 20, Y: 15}, {X: 10, Y: 15}}},
	}
	m, err := mesh.Extrude(plate, 0, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("sound:", m.Validate() == nil)
	fmt.Printf("%.0f mm³, genus %d\n", m.Volume(), m.Topology().Genus())
	// Output:
	// sound: true
	// 2100 mm³, genus 1
}

func ExampleTriangulate() {
	faces, err := mesh.Triangulate([]mesh.Vec2{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 3}, {X: 0, Y: 3}})
	fmt.Println(len(faces), err)
	// Output: 2 <nil>
}

// A block with a hole through it and a slot out of one edge.
func ExampleSubtract() {
	plate := func(x0, y0, x1, y1, bottom, top float64) *mesh.Mesh {
		m, err := mesh.Extrude(mesh.Region{Outer: []mesh.Vec2{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}, bottom, top)
		if err != nil {
			panic(err)
		}
		return m
	}
	m, err := mesh.Subtract(
		plate(0, 0, 40, 20, 0, 10),
		plate(5, 5, 15, 15, -1, 11),
		plate(20, 8, 41, 12, 6, 11))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("sound:", m.Validate() == nil)
	fmt.Printf("%.0f mm³, genus %d\n", m.Volume(), m.Topology().Genus())
	// Output:
	// sound: true
	// 6680 mm³, genus 1
}
