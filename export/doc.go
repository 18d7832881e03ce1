// Package export writes the results of neckloft: meshes as STL and 3MF, tables
// as text, CSV and JSON, and files that appear whole or not at all.
//
// The same input gives the same bytes: nothing written holds a time, a random
// name or an order that varies from run to run.
package export
