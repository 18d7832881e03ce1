// Command neckloft computes the neck of a guitar or other fretted instrument
// from a spec, as a solid that can be measured, and writes what a builder uses
// at the bench.
//
// # Design
//
// The command is thin: flags to options, options to a call, the result to a
// writer. A verb is a file verb_NAME.go and a line in verbs (run.go). Lengths
// and stations are read with the unit of the spec.
//
// Flags that are files are marked with reads and writes (samefile.go). keepFiles
// holds them against each other once, before a verb begins, so that no file
// that was given is written over and no two outputs are one.
//
// Exit code 0: done; 1: the work failed; 2: the command or the spec is wrong.
// An error is one sentence on standard error.
//
// The manual is the Markdown under guide, embedded and printed by the verb
// guide. Its tests run the commands of README and guide to the letter, and hold
// every flag, link, table and quoted line against the program. A page keeps to
// 80 columns; its first paragraph is the sentence of the list.
//
// # Outside checks
//
// Files of testdata/golden, which say at a glance what a change does to the
// output. What the verbs write is checked in the packages that write it.
//
// # Benchmarks
//
// BenchmarkMake runs make for the demo neck; package bench says how long it
// takes. BenchmarkLiveDrag drags a slider of the live page, and BenchmarkLiveEveryControl
// and BenchmarkPageEveryControl all of them, of the page in one file too; see package
// live.
package main
