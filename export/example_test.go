package export_test

import (
	"bytes"
	"fmt"
	"os"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// A table is text, csv or json, in millimetres or inches.
func ExampleStationTable() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	rows, err := n.Stations([]spec.Place{spec.AtFret(1)})
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := export.StationTable(rows, spec.RightHand, false).Write(os.Stdout, "csv", spec.Millimetre); err != nil {
		fmt.Println(err)
	}
	// Output:
	// station,x_mm,width_mm,total_mm,wood_mm,cover_mm,area_mm2,girth_mm,apex_y_mm,depth_y-15_mm,depth_y-10_mm,depth_y-5_mm,depth_y0_mm,depth_y+5_mm,depth_y+10_mm,depth_y+15_mm,centre_mm
	// fret 1,35.696,43.824,20.600,15.000,5.534,527.577,59.222,0.000,11.260,13.479,14.636,15.000,14.636,13.479,11.260,20.600
}

func ExampleWriteSTL() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := n.Solid(neck.PartBoard, 0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	var b bytes.Buffer
	err = export.WriteSTL(&b, m, export.STLOptions{Name: "board"})
	fmt.Println(b.Len() == 84+50*len(m.Faces), err)
	// Output: true <nil>
}
