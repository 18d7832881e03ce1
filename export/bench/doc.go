// Package bench knows all that one neck needs at the bench: the files, what
// each is for, which of them cannot be made and which of them must not be
// worked by. The command line writes them into a folder and the live page hands
// them out; both from the one list of this package, so that they are the same
// to the byte.
package bench
