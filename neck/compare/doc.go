// Package compare lays two to six necks side by side and says in words what a
// hand would notice.
//
// # Design
//
// The first neck is the reference. A fret is each neck's own. A [Comparison]
// holds numbers; [Comparison.Words] turns them into words, with thresholds that
// are constants of our own choice, since there is no published source.
//
// The shoulder is how far the back reaches at 45°, beyond what the reference
// would reach if it were stretched to the same width and depth. A stretch acts
// on the support function in closed form, so that shape alone is compared.
//
// # Outside checks
//
// Circle and ellipse stretched by hand; the words of necks that differ in one
// trait alone; distances and thickness of backs against half cylinders, and the
// least thickness against the least cover; each threshold read back from the
// sentence that states them.
//
// # Benchmarks
//
// Two cores shared with other jobs, load about 2, so upper bounds: the
// difference map of the demo 210 ms, its thickness 15 ms.
package compare
