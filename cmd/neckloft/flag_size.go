package main

import (
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"neckloft/export"
)

// pixelsFlag is the size of a picture: its width, or width and height.
type pixelsFlag struct {
	name, text    string
	width, height int // 0 where they were not given
	both          bool
}

// addPixels defines a flag that is a width in pixels, or with both WIDTHxHEIGHT
// too.
func addPixels(fs *pflag.FlagSet, f *pixelsFlag, name string, both bool, usage string) {
	*f = pixelsFlag{name: name, both: both}
	fs.Var(f, name, usage)
}

func (f *pixelsFlag) String() string { return f.text }
func (f *pixelsFlag) Type() string   { return "pixels" }

func (f *pixelsFlag) Set(text string) error {
	w, h, cut := strings.Cut(text, "x")
	width, err := strconv.Atoi(w)
	height := 0
	if err == nil && cut {
		height, err = strconv.Atoi(h)
	}
	if err != nil || width <= 0 || cut && (height <= 0 || !f.both) {
		allowed := "a width in pixels such as 1800"
		if f.both {
			allowed = "a width such as 1800, or 1800x1200, in pixels"
		}
		return wrong("--%s %q is not understood; allowed: %s", f.name, text, allowed)
	}
	f.text, f.width, f.height = text, width, height
	return nil
}

// bedFlag is the size of a printer's or cutter's bed, in mm.
type bedFlag struct {
	name, text   string
	width, depth float64
}

// addBed defines a flag that is the size of a bed.
func addBed(fs *pflag.FlagSet, f *bedFlag, name, def, usage string) {
	f.name = name
	if err := f.Set(def); err != nil {
		panic(err) // a slip in the verb
	}
	fs.Var(f, name, usage)
}

func (f *bedFlag) String() string { return f.text }
func (f *bedFlag) Type() string   { return "size" }

func (f *bedFlag) Set(text string) (err error) {
	if f.width, f.depth, err = export.ParseBed(text); err != nil {
		return wrong("--%s: %w", f.name, err)
	}
	f.text = text
	return nil
}
