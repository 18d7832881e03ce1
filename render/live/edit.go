package live

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"

	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// An Edit is a change of the spec that a control asks for.
type Edit struct {
	Op    string   `json:"op"`
	Path  string   `json:"path"`
	Value *float64 `json:"value,omitempty"` // a number, in the spec's unit
	Text  *string  `json:"text,omitempty"`  // or a text
	By    string   `json:"by,omitempty"`    // of a place: "fret" or "x"
	Index int      `json:"index,omitempty"` // of a list entry, from 1
}

// maxEdits is the number of edits that one request may carry.
const maxEdits = 50

// edits are those of one request.
type edits []Edit

// UnmarshalJSON reads a list of edits, and no further than it may be long.
func (e *edits) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	switch t, err := d.Token(); {
	case err != nil:
		return err
	case t == nil: // null
		return nil
	case t != json.Delim('['):
		return errors.New("a list of edits is wanted")
	}
	for d.More() {
		if len(*e) > maxEdits {
			return nil // one too many, which is refused where they are applied
		}
		var one Edit
		if err := d.Decode(&one); err != nil {
			return err
		}
		*e = append(*e, one)
	}
	return nil
}

// applyEdits changes the text of a spec. The rest of the text stays as it is.
func applyEdits(ctx context.Context, text string, edits []Edit) (string, error) {
	if len(edits) == 0 {
		return text, nil
	}
	if len(edits) > maxEdits {
		return "", fmt.Errorf("more edits at once than %d, which are allowed", maxEdits)
	}
	// The mark that some editors put in front is no TOML, and stays.
	rest, marked := strings.CutPrefix(text, "\ufeff")
	mark := ""
	if marked {
		mark = "\ufeff"
	}
	d, err := tomledit.Parse(rest)
	if err != nil {
		return "", fmt.Errorf("the spec's text cannot be edited before it is put right: %w", err)
	}
	for _, e := range edits {
		if err := ctx.Err(); err != nil {
			return "", err
		}
		if err := e.apply(d); err != nil {
			return "", err
		}
	}
	return mark + d.String(), nil
}

func (e Edit) apply(d *tomledit.Document) error {
	switch e.Op {
	case "set":
		v, err := e.literal()
		if err != nil {
			return err
		}
		return d.Set(e.Path, v)
	case "place":
		return e.place(d)
	case "side":
		return e.side(d)
	case "shape":
		return e.shape(d)
	case "remove":
		return d.Remove(e.Path)
	case "add":
		return addFeature(d, e.Path)
	case "insert":
		return insertEntry(d, e.Path, e.Index)
	case "station":
		return e.station(d)
	case "units":
		return e.units(d)
	}
	return fmt.Errorf("edit %q is not known", e.Op)
}

// literal returns the value to set.
func (e Edit) literal() (tomledit.Literal, error) { return e.literalOf(spec.Keys().Field(e.Path)) }

// literalOf is literal for a key, or for none that a spec has.
func (e Edit) literalOf(f *spec.Field) (tomledit.Literal, error) {
	switch {
	case f != nil && f.Kind == spec.KindBool && e.Text != nil && (*e.Text == "true" || *e.Text == "false"):
		return tomledit.Literal(*e.Text), nil
	case e.Text != nil:
		return tomledit.Text(*e.Text), nil
	case e.Value != nil && !math.IsNaN(*e.Value) && !math.IsInf(*e.Value, 0):
		return tomledit.Number(tidy(*e.Value)), nil
	}
	return "", fmt.Errorf("%s: a number or a text is wanted", e.Path)
}

// place sets a place, and the way it is given.
func (e Edit) place(d *tomledit.Document) error {
	v, err := e.literal()
	if err != nil {
		return err
	}
	if e.By != "fret" && e.By != "x" || e.Value == nil {
		return fmt.Errorf("%s: a place is a fret or x, and a number", e.Path)
	}
	other := "x"
	if e.By == "x" {
		other = "fret"
	}
	switch {
	case d.Has(e.Path + "." + other):
		return d.Rename(e.Path+"."+other, e.By, v)
	case d.Has(e.Path):
		return d.Set(e.Path+"."+e.By, v)
	}
	return d.Set(e.Path, tomledit.Inline(tomledit.Field{Key: e.By, Value: v}))
}

// shape gives a profile station a named shape, for both sides.
func (e Edit) shape(d *tomledit.Document) error {
	if e.Text == nil {
		return errors.New("a shape has a name")
	}
	if err := ensureProfile(d); err != nil {
		return err
	}
	v := tomledit.Text(*e.Text)
	bass, treble := d.Has(e.Path+".bass"), d.Has(e.Path+".treble")
	switch {
	case d.Has(e.Path + ".shape"):
		if err := d.Set(e.Path+".shape", v); err != nil {
			return err
		}
	case bass:
		if err := d.Rename(e.Path+".bass", "shape", v); err != nil {
			return err
		}
		bass = false
	default:
		if err := d.Set(e.Path+".shape", v); err != nil {
			return err
		}
	}
	for name, there := range map[string]bool{"bass": bass, "treble": treble} {
		if there {
			if err := d.Remove(e.Path + "." + name); err != nil {
				return err
			}
		}
	}
	return nil
}

// side sets the fullness of one side, Path being that of the key bass or
// treble. A shape gives way to the two numbers.
func (e Edit) side(d *tomledit.Document) error {
	v, err := e.literal()
	if err != nil {
		return err
	}
	at, name, ok := cutLast(e.Path)
	if !ok || name != "bass" && name != "treble" {
		return fmt.Errorf("%s is not a side", e.Path)
	}
	if err := ensureProfile(d); err != nil {
		return err
	}
	raw, named := d.Raw(at + ".shape")
	if !named {
		return d.Set(e.Path, v)
	}
	n, ok := spec.ShapeFullness(strings.Trim(raw, `"'`))
	if !ok {
		return fmt.Errorf("%s.shape: put the shape right first", at)
	}
	// The shape's line becomes that of the side which has none yet.
	other := map[string]string{"bass": "treble", "treble": "bass"}[name]
	switch hasThis, hasOther := d.Has(e.Path), d.Has(at+"."+other); {
	case hasThis && hasOther:
		if err := d.Remove(at + ".shape"); err != nil {
			return err
		}
		return d.Set(e.Path, v)
	case hasThis:
		if err := d.Rename(at+".shape", other, tomledit.Number(n)); err != nil {
			return err
		}
		return d.Set(e.Path, v)
	case hasOther:
		return d.Rename(at+".shape", name, v)
	}
	first, second := tomledit.Number(n), v // bass, treble
	if name == "bass" {
		first, second = v, tomledit.Number(n)
	}
	if err := d.Rename(at+".shape", "bass", first); err != nil {
		return err
	}
	return d.Set(at+".treble", second)
}

// ensureProfile writes out the profile that a spec without one has.
func ensureProfile(d *tomledit.Document) error {
	if d.Has("profile") {
		return nil
	}
	return d.Insert("profile", 1,
		tomledit.Field{Key: "fret", Value: "1"}, tomledit.Field{Key: "shape", Value: tomledit.Text("C")})
}

func cutLast(path string) (at, name string, ok bool) {
	i := strings.LastIndexByte(path, '.')
	if i < 0 {
		return "", path, false
	}
	return path[:i], path[i+1:], true
}

// units converts every length of the file to another unit, with as many digits
// as it takes to come back to the very same number.
func (e Edit) units(d *tomledit.Document) error {
	if e.Text == nil || *e.Text != "mm" && *e.Text != "in" {
		return errors.New(`units: allowed: "mm" or "in"`)
	}
	s, err := spec.Read(strings.NewReader(d.String()), "spec")
	if err != nil {
		return fmt.Errorf("the unit cannot be changed before the spec is put right: %w", err)
	}
	to := spec.Millimetre
	if *e.Text == "in" {
		to = spec.Inch
	}
	if to == s.Units {
		return nil
	}
	all := make(map[string]tomledit.Literal)
	for path, v := range values(s) {
		in, ok := v.(float64)
		if p, is := v.(placeValue); is {
			in, ok, path = p.X, p.By == "x", path+".x"
		} else if ok {
			ok = isLength(path)
		}
		if !ok || !d.Has(path) {
			continue
		}
		all[path] = tomledit.Number(converted(in, s.Units, to))
	}
	if err := d.SetAll(all); err != nil {
		return err
	}
	return d.Set("units", tomledit.Text(*e.Text))
}

// converted returns a length v of unit from in unit to: to 0.001 mm or
// 0.0001 in, or as much finer as it must be for v to be had back from it.
func converted(v float64, from, to spec.Unit) float64 {
	usual := map[spec.Unit]int{spec.Millimetre: 3, spec.Inch: 4}
	as := func(v float64, from, to spec.Unit, places int) float64 {
		return roundTo(to.Of(from.Millimetres(v)), places)
	}
	back := usual[from]
	for back < 9 && math.Abs(roundTo(v, back)-v) > 1e-10 {
		back++
	}
	places := usual[to]
	for places < 9 && as(as(v, from, to, places), to, from, back) != roundTo(v, back) {
		places++
	}
	return as(v, from, to, places)
}

func roundTo(v float64, places int) float64 {
	grain := math.Pow10(places)
	return math.Round(v*grain) / grain
}

// isLength reports whether a path is that of a length.
func isLength(path string) bool {
	f := spec.Keys().Field(path)
	return f != nil && f.Kind == spec.KindLength
}
