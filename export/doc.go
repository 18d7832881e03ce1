// Package export writes the results of neckloft: solids, tables, flat drawings
// and pages at full size, each file whole or not at all.
//
// The same input gives the same bytes: nothing written holds a time, a random
// name or an order that varies from run to run.
//
// # Design
//
// [File] writes beside the file, syncs and renames; [FileIn] does so inside a
// folder that nothing leads out of. The carving log is written anew beside
// itself under a lock of the folder. Temporary files of programs that have
// ended hold no lock any more and are removed.
//
// A [Table] is text, csv or json, in millimetres or inches. A limit is rounded
// to its safe side. Tables of the plan, the stations, comparisons and readings
// are built here once, and pages and terminal print them.
//
// Solids go out as STL, 3MF and glTF, and STL is read. Our own encoder writes
// binary STL, since it is several times as fast as the library's. 3MF moves all
// coordinates to be positive, glTF turns them to y up in metres, as the formats
// ask.
//
// Gauges and full-size sheets: gauges.go picks words that fit and cuts them.
// The stencil alphabet (stencil*.go) draws each opening as a tree of strokes,
// so that no island can arise; the outline is a walk around the tree. bed.go
// lays pieces out. A [Sheet] is the flat drawing that svg.go, dxf.go and
// pdf_tiles.go write; pdf*.go set the full-size pages.
//
// # Outside checks
//
// STL, 3MF and glTF read by their libraries, glTF judged by the validator of its
// makers (in cmd/neckloft), and binary STL against its published
// layout byte by byte; the alphabet looked at as bitmaps (islands, narrowest bridge and
// stroke); pages drawn by poppler at 10 pixels a millimetre, and bars, gauges
// and overlaps of tiles measured there; SVG drawn by librsvg; DXF read and
// audited by ezdxf; logs written by several processes at once, killed at any
// moment, torn at every byte. Tests that need poppler, librsvg or ezdxf skip
// with a message where they are missing; .ci/run installs them.
//
// # Benchmarks
//
// Two cores shared with other work, so upper bounds:
//
//   - binary STL into memory 620 to 780 MB/s; the library's encoder reaches 180
//     to 260 MB/s
//   - 3MF of 12 000 triangles 23 ms, bound by deflate
//   - glTF of 12 000 triangles 7 ms, of 200 000 triangles 200 ms
//   - one gauge outline 0.06 ms; 24 labelled gauges from spec to STL in memory,
//     33 000 triangles, 24 ms of processor time, 28 ms on two idle cores
//   - both full-size sheets 0.15 ms, their six PDF pages 20 ms
package export
