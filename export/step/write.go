package step

import (
	"errors"
	"fmt"
	"image/color"
	"io"

	"neckloft/mesh"
	"neckloft/mesh/brep"
)

// Schema is the application protocol that a file follows.
type Schema int

const (
	AP242 Schema = iota // ISO 10303-242, managed model based 3D engineering
	AP214               // ISO 10303-214, automotive design, for older readers
)

// schemas holds the names of the protocols: that of the file's head with its
// object identifier, those of the context, and the year.
var schemas = [...]struct {
	head, name, context string
	year                int
}{
	AP242: {"AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }", "ap242_managed_model_based_3d_engineering", "managed model based 3d engineering", 2014},
	AP214: {"AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }", "automotive_design", "core data for automotive mechanical design processes", 2001},
}

// Part is a solid of a file with its colour on a screen (sRGB).
type Part struct {
	Solid  *brep.Solid
	Colour color.NRGBA
}

// Options are what a file says besides its solids.
type Options struct {
	Schema      Schema
	Name        string // of the whole
	Description []string
	Program     string
}

// Write writes solids as a STEP file: one as a part, several as an assembly, each
// in its place. Lengths are in millimetres. A solid that does not pass
// brep.Solid.Check is an error, and nothing is written.
func Write(w io.Writer, parts []Part, o Options) error {
	if len(parts) == 0 {
		return errors.New("a STEP file needs a solid")
	}
	for _, p := range parts {
		if err := p.Solid.Check(); err != nil {
			return fmt.Errorf("solid %q: %w", p.Solid.Name, err)
		}
	}
	d := newDocument(o)
	var shapes []shape
	for _, p := range parts {
		s, err := d.part(p)
		if err != nil {
			return fmt.Errorf("solid %q: %w", p.Solid.Name, err)
		}
		shapes = append(shapes, s)
	}
	if len(shapes) > 1 {
		d.assembly(o.Name, shapes)
	}
	d.colours(parts, shapes)
	description := ""
	for i, t := range o.Description {
		if i > 0 {
			description += ","
		}
		description += quoted(t)
	}
	if description == "" {
		description = "''"
	}
	return d.writeTo(w, header{name: o.Name, description: description, program: o.Program, schema: schemas[o.Schema].head})
}

// document is a file with what all of its products share.
type document struct {
	file
	product, definition ref // contexts
	geometry            ref // context
	origin              ref
}

// shape is a product with its shape.
type shape struct {
	definition     ref // of the product
	representation ref
	solid          ref
}

func newDocument(o Options) *document {
	d := &document{}
	s := schemas[o.Schema]
	app := d.add("APPLICATION_CONTEXT(%s)", quoted(s.context))
	d.add("APPLICATION_PROTOCOL_DEFINITION('international standard',%s,%d,%v)", quoted(s.name), s.year, app)
	d.product = d.add("PRODUCT_CONTEXT('',%v,'mechanical')", app)
	d.definition = d.add("PRODUCT_DEFINITION_CONTEXT('part definition',%v,'design')", app)
	mm := d.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))")
	rad := d.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))")
	sr := d.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())")
	unsure := d.add("UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(%s),%v,'distance_accuracy_value','how far edges may lie from surfaces')", real(brep.OnSurface), mm)
	d.geometry = d.add("(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((%v))GLOBAL_UNIT_ASSIGNED_CONTEXT((%v,%v,%v))REPRESENTATION_CONTEXT('','3D'))", unsure, mm, rad, sr)
	d.origin = d.axes(mesh.Vec{}, mesh.Vec{Z: 1}, mesh.Vec{X: 1})
	return d
}

// newProduct adds a product and returns its definition.
func (d *document) newProduct(name string) ref {
	p := d.add("PRODUCT(%s,%s,'',(%v))", quoted(name), quoted(name), d.product)
	d.add("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(%v))", p)
	f := d.add("PRODUCT_DEFINITION_FORMATION('','',%v)", p)
	return d.add("PRODUCT_DEFINITION('design','',%v,%v)", f, d.definition)
}

// describe says that a product has the shape of a representation.
func (d *document) describe(definition, representation ref) {
	d.add("SHAPE_DEFINITION_REPRESENTATION(%v,%v)", d.add("PRODUCT_DEFINITION_SHAPE('','',%v)", definition), representation)
}

// part adds a product with a solid.
func (d *document) part(p Part) (shape, error) {
	s := shape{definition: d.newProduct(p.Solid.Name)}
	var err error
	if s.solid, err = d.solid(p.Solid); err != nil {
		return s, err
	}
	s.representation = d.add("ADVANCED_BREP_SHAPE_REPRESENTATION(%s,(%v,%v),%v)", quoted(p.Solid.Name), d.origin, s.solid, d.geometry)
	d.describe(s.definition, s.representation)
	return s, nil
}

// assembly adds a product that the others are the components of, each in its
// place.
func (d *document) assembly(name string, of []shape) {
	definition := d.newProduct(name)
	items := refs{d.origin}
	var places refs
	for range of {
		// Each component has a place of its own.
		p := d.add("AXIS2_PLACEMENT_3D('',%v,%v,%v)", d.point(mesh.Vec{}), d.direction(mesh.Vec{Z: 1}), d.direction(mesh.Vec{X: 1}))
		places, items = append(places, p), append(items, p)
	}
	whole := d.add("SHAPE_REPRESENTATION(%s,%v,%v)", quoted(name), items, d.geometry)
	d.describe(definition, whole)
	for i, s := range of {
		use := d.add("NEXT_ASSEMBLY_USAGE_OCCURRENCE('%d','','',%v,%v,$)", i+1, definition, s.definition)
		placed := d.add("PRODUCT_DEFINITION_SHAPE('','',%v)", use)
		move := d.add("ITEM_DEFINED_TRANSFORMATION('','',%v,%v)", d.origin, places[i])
		relation := d.add("(REPRESENTATION_RELATIONSHIP('','',%v,%v)REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(%v)SHAPE_REPRESENTATION_RELATIONSHIP())",
			s.representation, whole, move)
		d.add("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(%v,%v)", relation, placed)
	}
}

// colours gives each solid its colour.
func (d *document) colours(parts []Part, of []shape) {
	var styled refs
	for i, p := range parts {
		c := p.Colour
		part := func(v uint8) string { return fine(float64(int(float64(v)/255*1e4+0.5)) / 1e4) }
		rgb := d.add("COLOUR_RGB('',%s,%s,%s)", part(c.R), part(c.G), part(c.B))
		fill := d.add("FILL_AREA_STYLE('',(%v))", d.add("FILL_AREA_STYLE_COLOUR('',%v)", rgb))
		side := d.add("SURFACE_SIDE_STYLE('',(%v))", d.add("SURFACE_STYLE_FILL_AREA(%v)", fill))
		style := d.add("PRESENTATION_STYLE_ASSIGNMENT((%v))", d.add("SURFACE_STYLE_USAGE(.BOTH.,%v)", side))
		styled = append(styled, d.add("STYLED_ITEM('colour',(%v),%v)", style, of[i].solid))
	}
	d.add("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',%v,%v)", styled, d.geometry)
}
