package main

import (
	"github.com/spf13/cobra"

	"neckloft/export"
)

func (p *program) stationsVerb() *cobra.Command {
	var table tableFlags
	var along alongFlags
	var deep bool
	cmd := &cobra.Command{
		Use:   "stations [SPEC.toml]",
		Short: "Widths, thicknesses and depths, one row a station",
		Long: `Prints one row a station, from the exact section there. The text table holds
what is read at the bench; csv and json hold every column. The total is what wide
caliper jaws read over board and back, at the deepest point; on the centreline,
which is another column, the neck is thinner where its apex lies beside it. On
the face of a headstock they read the column head, square to it.`,
		Example: `  neckloft stations
  neckloft stations my-neck.toml --at 1,5,12 --in
  neckloft stations my-neck.toml --every 25mm --format csv -o stations.csv`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := along.check(cmd.Flags()); err != nil {
				return err
			}
			n, err := p.readNeck(args)
			if err != nil {
				return err
			}
			places, err := along.places(n)
			if err != nil {
				return err
			}
			rows, err := n.Stations(places)
			if err != nil {
				return usageError{err}
			}
			t := export.StationTable(rows, n.Spec().Hand, table.format == "text")
			switch {
			case deep && table.format == "text":
				t = export.StiffnessTable(n, rows)
			case deep:
				export.AddStiffness(t, n, rows)
			}
			return p.writeTable(t.WithSquareNote(n.Spec()), table, n.Spec().PrintUnit())
		},
	}
	addStations(cmd.Flags(), &along.at, "at", "frets", `"frets", or stations such as 1,5,12 or x=120mm`)
	addLength(cmd.Flags(), &along.every, "every", "", "a station every so far from the nut, such as 25mm or 1-1/2in")
	cmd.Flags().BoolVar(&deep, "deep", false, "stiffness and the bow under the strings: in text alone, in csv and json after the other columns")
	table.add(cmd)
	return cmd
}
