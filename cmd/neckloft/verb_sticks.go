package main

import (
	"io"

	"github.com/spf13/cobra"

	"neckloft/export"
	"neckloft/neck/carve"
	"neckloft/neck/sticks"
	"neckloft/render"
)

func (p *program) sticksVerb() *cobra.Command {
	var table tableFlags
	var along alongFlags
	var picture string
	var strips bool
	cmd := &cobra.Command{
		Use:   "sticks [SPEC.toml]",
		Short: "What wood to buy, what to cut from it, and in which order to glue it up",
		Long: `Prints the sticks to buy and the pieces to cut from them: the two pieces of a
scarf joint, the blocks of a stacked heel, the strips of a laminated neck, each
with its grain. Below the table stand what the joints will show on the finished
neck, what the woods weigh and how they bend, and the order of the glue-ups.

With --strips it prints what each strip of a laminated neck has at stations.`,
		Example: `  neckloft sticks my-neck.toml
  neckloft sticks my-neck.toml --picture sticks.png
  neckloft sticks my-neck.toml --strips --at 1,7,12`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := along.check(cmd.Flags()); err != nil {
				return err
			}
			if !strips && (cmd.Flags().Changed("at") || cmd.Flags().Changed("every")) {
				return wrong("--at and --every go with --strips")
			}
			n, err := p.readNeckBy(carve.Check, args)
			if err != nil {
				return err
			}
			if strips {
				if len(n.Spec().Laminations) == 0 {
					return wrong("--strips: the neck is of one piece across; allowed: a spec with [[lamination]]")
				}
				places, err := along.places(n)
				if err != nil {
					return err
				}
				rows, err := n.Stations(places)
				if err != nil {
					return usageError{err}
				}
				return p.writeTable(export.StripTable(n, rows), table, n.Spec().PrintUnit())
			}
			l := sticks.New(n)
			u := table.asked.unit(n.Spec().PrintUnit())
			if err := p.writeTable(export.SticksTable(l, table.format == "text", u), table, u); err != nil || picture == "" {
				return err
			}
			return p.write(picture, func(w io.Writer) error {
				return render.WriteSticksPNG(w, l, u)
			})
		},
	}
	addStations(cmd.Flags(), &along.at, "at", "1,12", `with --strips: "frets", or stations such as 1,5,12 or x=120mm`)
	addLength(cmd.Flags(), &along.every, "every", "", "with --strips: a station every so far from the nut, such as 25mm or 1-1/2in")
	cmd.Flags().BoolVar(&strips, "strips", false, "edges, section, weight and stiffness of each strip at stations")
	addPicture(cmd.Flags(), &picture, "picture", "draw sticks, pieces and joints, as PNG")
	table.add(cmd)
	return cmd
}
