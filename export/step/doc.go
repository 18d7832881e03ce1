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
// FreeCAD's modules, where they are installed, read the files of test necks, all of
// them with DRAWN=all: closed and valid, the volume that of the sections' integrals
// within a hundred thousandth, edges within 0.0001 mm of
// their faces, sections at stations those of the neck within 0.005 mm, a box cut out,
// a mesh made. gmsh makes a mesh of the demo's surface, and measures random necks, 100
// with DRAWN=all, in one run. Both stand on the same geometry kernel, OpenCASCADE; an
// own reader of the grammar checks that every reference has its instance.
//
// That kernel measures a volume by Gauss's rule over a face at once from its side to its
// edges, with at most 61 places, and along each edge by another. By it the demo was off
// by 1.4e-4, random necks by up to 4e-4, by its adaptive rule none. So a patch is
// written with its parameters the way that the rule is better at, which is across the
// neck mostly, and edges in pieces of few spans. Of 591 files of 300 random necks, wood
// or board, one is off by more than 1e-5 now, by 1.8e-5.
//
// FreeCAD's own check calls some edges of headstock, heel and board invalid on their
// surface: it holds curves that it has laid on the surface itself, within 0.0001 mm,
// against a tolerance of a ten millionth of a millimetre.
//
// # Benchmarks
//
// The demo's wood, fitted and written, 310 kB: 130 ms on two cores of an AMD
// Turin class processor that were busy with much else, an upper bound. Fitting
// takes nearly all of it.
package step
