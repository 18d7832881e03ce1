// Package bench makes what one neck needs at the bench: all its files, what
// each is for, which of them cannot be made and which must not be worked by.
//
// The command line writes the files into a folder and the live page hands them
// out. Both take them from the one list of this package (kinds), so that they
// are the same to the byte. To have make write a new file and the page hand it
// out, add a line there.
//
// A file that cannot be made says why (Missing). Files of a plan that would
// leave too little wood over the rod channel are written all the same and marked
// as refused (Forbidden), so that nobody works by those of an earlier run.
//
// What make does not write by itself, jigs and the set-up on a mill, is an Extra:
// the verbs of the command line and the page take its files from here as well.
//
// # Benchmarks
//
// make for the demo neck, nothing else running, 0.7 to 0.9 s. The preview bounds
// it.
package bench
