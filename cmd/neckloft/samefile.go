package main

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// No verb writes over a file that it was given. Verbs say which of their flags
// and arguments are files, with the functions below; keepFiles holds these
// against each other once, before a verb begins.
const (
	fileRead    = "file that is read"
	fileWritten = "file that is written"
	filesInside = "folder that is written into"
)

// reads marks a flag as a file that the verb reads, called so in messages.
func reads(fs *pflag.FlagSet, flag, name string) { annotate(fs, flag, fileRead, name) }

// writes marks flags as files that the verb writes, or lists of such.
func writes(fs *pflag.FlagSet, flags ...string) {
	for _, flag := range flags {
		annotate(fs, flag, fileWritten)
	}
}

// writesInside marks a flag as a folder in which the verb writes these files.
func writesInside(fs *pflag.FlagSet, flag string, files []string) {
	annotate(fs, flag, filesInside, files...)
}

func annotate(fs *pflag.FlagSet, flag, key string, values ...string) {
	if err := fs.SetAnnotation(flag, key, values); err != nil {
		panic(err) // a flag that does not exist is a slip in the verb
	}
}

// namedFile is a file of a call and how it was named there. Its info is that of
// standard input where the path is "-".
type namedFile struct {
	name, path string
	info       os.FileInfo
}

// keepFiles refuses a call that would write over a file it was given, or two of
// whose files to write are one. All arguments of a verb are files that it
// reads; names says how they are called, the last one all that follow.
func (p *program) keepFiles(cmd *cobra.Command, args []string, names ...string) error {
	p.given = nil
	give := func(name, path string) {
		f := namedFile{name: name, path: path}
		if in, ok := p.in.(*os.File); ok && path == "-" {
			f.info, _ = in.Stat() // what cannot be asked is no regular file
		}
		p.given = append(p.given, f)
	}
	for i, arg := range args {
		give(names[min(i, len(names)-1)], arg)
	}
	var out []namedFile
	cmd.Flags().VisitAll(func(fl *pflag.Flag) {
		name := "--" + fl.Name
		if fl.Shorthand != "" {
			name = "-" + fl.Shorthand
		}
		paths := []string{fl.Value.String()}
		if list, ok := fl.Value.(pflag.SliceValue); ok {
			paths = list.GetSlice()
		}
		if called := fl.Annotations[fileRead]; called != nil {
			give(called[0], paths[0])
		}
		if _, ok := fl.Annotations[fileWritten]; ok {
			for _, path := range paths {
				out = append(out, namedFile{name: name, path: path})
			}
		}
		if inside := fl.Annotations[filesInside]; inside != nil {
			out = append(out, namedFile{name: name, path: paths[0]})
			for _, file := range inside {
				out = append(out, namedFile{name: name + " " + paths[0] + ":", path: filepath.Join(paths[0], file)})
			}
		}
	})
	return keepApart(p.given, out)
}

// keepApart refuses files to write that are one of those read, or of which two
// are one.
func keepApart(in, out []namedFile) error {
	given, made := places(in), places(out)
	for i, o := range out {
		for j, other := range in {
			if given[j].is(made[i]) {
				return wrong("%s %s would write over %s; give another name", o.name, o.path, other.name)
			}
		}
		for j, other := range out[:i] {
			if made[j].is(made[i]) {
				return wrong("%s and %s are both %s; give each a name of its own", other.name, o.name, o.path)
			}
		}
	}
	return nil
}

// place is where a path leads: to a file that is there already, or to one of a
// name that is to be made in a folder. It is empty where neither is.
type place struct {
	file, folder os.FileInfo
	base         string
}

// places looks each file up once: of a verb that writes many, every two are held
// against each other.
func places(files []namedFile) []place {
	all := make([]place, len(files))
	for i, f := range files {
		switch info, err := os.Stat(f.path); {
		case f.path == "" || f.path == "-":
			all[i].file = f.info // of standard input, or nil
		case err == nil:
			all[i].file = info
		default:
			all[i].folder, _ = os.Stat(filepath.Dir(f.path)) // nothing can be made where none is
			all[i].base = filepath.Base(f.path)
		}
	}
	return all
}

// is reports whether two paths lead to one file, there already or to be made.
// Terminals, pipes and the like are none, and neither is a folder.
func (a place) is(b place) bool {
	if a.file != nil && b.file != nil {
		return os.SameFile(a.file, b.file) && a.file.Mode().IsRegular()
	}
	return a.file == nil && b.file == nil && a.folder != nil && b.folder != nil &&
		a.base == b.base && os.SameFile(a.folder, b.folder)
}
