// Package step writes exact solids as STEP files, ISO 10303-21 (clear text
// encoding), by the application protocol AP242 or AP214.
//
// Each solid is a MANIFOLD_SOLID_BREP of its own product, with its colour;
// several are the components of an assembly. Lengths are in millimetres, with
// seven decimals. Everything is numbered in the order of the solids' faces, and
// no clock is asked: the same solids give the same bytes.
//
// The entities are those of the integrated resources ISO 10303-42 (geometry and
// topology), -43 and -44 (representation and product structure) and -46
// (presentation), from memory of the published standards; two kernels read the
// files in the tests.
//
// # Outside checks
//
// FreeCAD's modules, where they are installed, read the files of a set of necks:
// closed and valid, the volume that of the sections' integrals within a hundred
// thousandth, edges within 0.0001 mm of their faces, sections at
// stations those of the neck, a box cut out, a mesh made. gmsh does so for the
// demo. Both stand on the same geometry kernel, OpenCASCADE; an own reader of
// the grammar checks that every reference has its instance.
//
// That kernel measures a volume by Gauss's rule with as many places along a face as
// its spans across ask for: faces of straight lines have more of these than they
// need (neck/exact), for with one span its volume was off by 1.4e-4. By its adaptive
// rule it was right at all times. FreeCAD's own check calls some edges of a
// headstock invalid on their surface: it holds curves that it has laid on the
// surface itself against a tolerance of its own, a ten millionth of a millimetre.
//
// # Benchmarks
//
// The demo's wood, fitted and written, 240 kB: 130 ms on two cores of an AMD
// Turin class processor that were busy with much else, an upper bound. Fitting
// takes nearly all of it.
package step
