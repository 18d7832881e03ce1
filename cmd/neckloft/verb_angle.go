package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/joint"
	"neckloft/neck/spec"
	"neckloft/render"
)

// angleFlags are the flags of angle as they are typed.
type angleFlags struct {
	table tableFlags

	bridge, dome, compensation lengthFlag
	fretHeight, stand          lengthFlag
	gap                        lengthsFlag
	joint                      string

	shim, cut lengthFlag
	rake      numberFlag
	picture   string
}

func (p *program) angleVerb() *cobra.Command {
	var f angleFlags
	cmd := &cobra.Command{
		Use:   "angle [SPEC.toml]",
		Short: "The neck's angle to the body, and the shim or cut that gives it",
		Long: `Works out the angle of the neck to the body's top from the height of the bridge:
tan angle = rise / length. The rise is bridge, doming and gap less stand, board and
fret; the length goes from the joint to the saddle. It says how to set the neck to
that angle: a shim the length of the pocket, or what to take off the heel's face.

The heights stand in the spec, under [bridge] and [joint]; flags go before them.
--gap takes several, one row each. --shim, --cut or --rake goes the other way: the
gap that a shim, a cut or an angle gives.`,
		Example: `  neckloft angle my-neck.toml --bridge 9.6 --gap 0.4,1,1.6
  neckloft angle my-neck.toml --bridge 9.6 --shim 0.5
  neckloft angle my-neck.toml --bridge 9.6 --picture angle.png`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error { return p.angle(cmd.Flags(), &f, args) },
	}
	fl := cmd.Flags()
	addLength(fl, &f.bridge, "bridge", "", "height of the bridge over the body's top (default the spec's)")
	addLengths(fl, &f.gap, "gap", "", "of a straightedge on the frets over the bridge; one row each (default the spec's)")
	addLength(fl, &f.dome, "dome", "", "how far the top has risen at the bridge (default the spec's)")
	addLength(fl, &f.compensation, "compensation", "", "what the saddle lies past the scale length (default the spec's)")
	addLength(fl, &f.fretHeight, "fret-height", "", "of the frets over the board (default the spec's, or 1 mm)")
	addLength(fl, &f.stand, "stand", "", "how far the glue plane stands over the body's top at the joint (default the spec's)")
	fl.StringVar(&f.joint, "joint", "", "where the body begins: a fret, or x=290mm (default the spec's)")
	addLength(fl, &f.shim, "shim", "", "the gap that a shim so thick gives, thick end towards the bridge; negative for towards the nut")
	addLength(fl, &f.cut, "cut", "", "the gap that so much off the cap gives; negative for off the upper end of the face")
	addNumber(fl, &f.rake, "rake", "", "degrees", "1.5", "the gap that an angle in degrees gives")
	addPicture(fl, &f.picture, "picture", "draw it into a PNG file")
	f.table.add(cmd)
	return cmd
}

func (p *program) angle(given *pflag.FlagSet, f *angleFlags, args []string) error {
	back := 0
	for _, name := range []string{"shim", "cut", "rake"} {
		if given.Changed(name) {
			back++
		}
	}
	switch {
	case back > 1:
		return wrong("--shim, --cut and --rake exclude each other")
	case back == 1 && given.Changed("gap"):
		return wrong("--gap is what --shim, --cut and --rake work out; give one of them")
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	s := n.Spec()
	if s.Bridge == nil && !given.Changed("bridge") {
		return wrong("the spec has no [bridge]; give --bridge, its height over the body's top")
	}
	rows, err := f.rows(given, n)
	if err != nil {
		return err
	}
	if l := rows[0].Length(); l <= 0 {
		return wrong("--joint: the joint lies past the saddle, by %s; allowed: before it", s.Length(-l))
	}
	unit := f.table.asked.unit(s.PrintUnit())
	t := export.AngleTable(n, rows)
	t.Note = strings.Join(wrapped(angleWords(n, rows[0], unit)), "\n")
	if f.picture != "" {
		img, err := render.Angle(n, rows[0], render.DefaultWidth)
		if err != nil {
			return err
		}
		if err := p.write(f.picture, func(w io.Writer) error { return render.WritePNG(w, img) }); err != nil {
			return err
		}
	}
	return p.writeTable(t, f.table, s.PrintUnit())
}

// rows returns the heights for each gap.
func (f *angleFlags) rows(given *pflag.FlagSet, n *neck.Neck) ([]joint.Heights, error) {
	unit := n.Spec().Units
	h := joint.HeightsOf(n)
	for _, l := range []struct {
		flag *lengthFlag
		into *float64
		key  string // of the spec, which has its limits
	}{{&f.bridge, &h.Bridge, "bridge.height"}, {&f.dome, &h.Dome, "bridge.dome"}, {&f.compensation, &h.Compensation, "bridge.compensation"},
		{&f.fretHeight, &h.Fret, "bridge.fret_height"}, {&f.stand, &h.Stand, "joint.stand"}} {
		if !given.Changed(l.flag.name) {
			continue
		}
		v, err := l.flag.asKey(unit, l.key)
		if err != nil {
			return nil, err
		}
		*l.into = v
	}
	if f.joint != "" {
		x, err := jointAt(n, f.joint)
		if err != nil {
			return nil, err
		}
		h.Joint = x
	}
	angle, back, err := f.angleBack(given, n)
	switch {
	case err != nil:
		return nil, err
	case back:
		return []joint.Heights{h.AtAngle(angle)}, nil
	case !given.Changed("gap"):
		return []joint.Heights{h}, nil
	}
	var rows []joint.Heights
	for _, text := range listed(f.gap.text) {
		gap, err := (&lengthFlag{f.gap.name, text}).asKey(unit, "bridge.gap")
		if err != nil {
			return nil, err
		}
		h.Gap = gap
		rows = append(rows, h)
	}
	return rows, nil
}

// jointAt reads where the body begins: on the neck, at a fret that it has, and
// before the saddle.
func jointAt(n *neck.Neck, text string) (float64, error) {
	s := n.Spec()
	at, err := spec.ParsePlace(text, s.Units)
	if err != nil {
		return 0, wrong("--joint: %w", err)
	}
	x := s.X(at)
	switch last := s.LastNamed(); {
	case x >= s.Scale.Length:
		return x, nil // told with what the saddle adds
	case at.ByFret && at.Fret > float64(last):
		return 0, wrong("--joint: there is no fret %s on this neck; allowed: up to %d", spec.Number(at.Fret, 3), last)
	case x < spec.LeastJoint || x > math.Max(n.End(), s.BoardEnd()):
		return 0, wrong("--joint: %s is not where a body can begin; allowed: x = %s to the end of the neck at %s", text, s.Length(spec.LeastJoint), s.Length(math.Max(n.End(), s.BoardEnd())))
	}
	return x, nil
}

// angleBack returns the angle that a shim, a cut or a number of degrees makes.
func (f *angleFlags) angleBack(given *pflag.FlagSet, n *neck.Neck) (angle float64, ok bool, err error) {
	s := n.Spec()
	set := joint.SettingOf(n, 0)
	switch {
	case given.Changed("rake"):
		if math.Abs(f.rake.value) > 30 {
			return 0, false, wrong("--rake %s is not sensible; allowed: -30 to 30 degrees", f.rake.text)
		}
		return f.rake.value * math.Pi / 180, true, nil
	case given.Changed("shim"):
		if set.Length == 0 {
			return 0, false, wrong("--shim goes with a neck that lies in a pocket; with this heel give --cut")
		}
		v, err := f.shim.between(s.Units, -10, 10)
		return joint.AngleOfWedge(v, set.Length), true, err
	case given.Changed("cut"):
		if set.Depth == 0 {
			return 0, false, wrong("--cut goes with a heel whose face lies against the body; with a pocket give --shim")
		}
		v, err := f.cut.between(s.Units, -20, 20)
		return joint.AngleOfCut(v, set.Depth, s.Heel.Rake), true, err
	}
	return 0, false, nil
}

// angleWords say what the heights are and how to set the neck.
func angleWords(n *neck.Neck, h joint.Heights, u spec.Unit) []string {
	mm := func(v float64) string { return u.Rounded(v) }
	out := []string{
		fmt.Sprintf("Rise %s: bridge %s, doming %s and gap %s, less stand %s, board %s and fret %s. Length %s, from the joint at %s to the saddle.",
			mm(h.Rise()), mm(h.Bridge), mm(h.Dome), mm(h.Gap), mm(h.Stand), mm(h.Board), mm(h.Fret), mm(h.Length()), n.WhereIn(u, h.Joint)),
	}
	return append(out, joint.SettingOf(n, h.Angle()).Words(n, u)...)
}

// wrapped breaks sentences into lines of a terminal.
func wrapped(sentences []string) []string {
	var out []string
	for _, s := range sentences {
		out = append(out, export.InLines(s, 84)...)
	}
	return out
}
