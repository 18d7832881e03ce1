package main

import (
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"
)

// pictureFlag is the name of a PNG file to write.
type pictureFlag struct {
	name string
	into *string
}

// addPicture defines a flag that is the name of a PNG file, empty for none.
func addPicture(fs *pflag.FlagSet, into *string, name, usage string) {
	fs.Var(&pictureFlag{name, into}, name, usage)
	writes(fs, name)
}

func (f *pictureFlag) String() string { return *f.into }
func (f *pictureFlag) Type() string   { return "file" }

func (f *pictureFlag) Set(path string) error {
	if !strings.EqualFold(filepath.Ext(path), ".png") {
		return wrong("--%s %q: the picture is a PNG; allowed: a name that ends in .png", f.name, path)
	}
	*f.into = path
	return nil
}
