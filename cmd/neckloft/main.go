// Command neckloft computes the neck of a guitar or other fretted instrument
// from a spec, as a solid that can be measured, and writes what a builder uses
// at the bench.
package main

import "os"

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
