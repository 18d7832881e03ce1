// Where another neck is laid over this one: along the neck, across it and up.
// Lengths in mm; sections and views as the program draws them.

// atSame returns the place of another neck that stands for x of this one.
export function atSame(along, x, mine, other) {
  switch (along) {
    case 'fret': return between(mine.elevation.frets.map((f) => f.x), other.elevation.frets.map((f) => f.x), x);
    case 'heel': return !hasHeels(mine, other) ? x : x - mine.values['heel.start'].mm + other.values['heel.start'].mm;
    default: return x;
  }
}

// between carries x from one row of frets to another: the same share of the way
// from fret to fret, and outside of both the same distance from the last.
function between(a, b, x) {
  const last = Math.min(a.length, b.length) - 1;
  if (last < 0) return x;
  if (x <= a[0]) return b[0] + x - a[0];
  if (x >= a[last]) return b[last] + x - a[last];
  const i = a.findIndex((v) => v > x);
  return b[i - 1] + ((x - a[i - 1]) / (a[i] - a[i - 1])) * (b[i] - b[i - 1]);
}

// hasHeels reports whether both necks have a heel to lay flush.
export const hasHeels = (mine, other) => Boolean(mine?.values?.['heel.start'] && other?.values?.['heel.start']);

// acrossAndUp returns how far a section is moved, [y, z], so that it is flush with
// another one. Edges are those of this neck's sides, also where the other neck is for
// the other hand.
export function acrossAndUp(at, s, other) {
  const edge = (v) => (s.sides[0] === at ? -v.halfWidth : v.halfWidth);
  switch (at) {
    case 'back': return [s.apex - other.apex, other.depth - s.depth];
    case 'crown': return [0, s.crown - other.crown];
    case 'bass': case 'treble': return [edge(s) - edge(other), 0];
    default: return [0, 0];
  }
}

const shifted = (points, a, b) => points.map(([u, v]) => [u + a, v + b]);

// movedSide, movedTop and movedSection return a view of a neck somewhere else.
export const movedSide = (e, [x, , z]) => ({
  ...e, start: e.start + x, end: e.end + x, board: [e.board[0] + x, e.board[1] + x], glue: z, crown: e.crown + z, low: e.low + z,
  back: shifted(e.back, x, z), top: shifted(e.top, x, z),
});
export const movedTop = (t, [x, y]) => ({ ...t, wood: shifted(t.wood, x, y), board: shifted(t.board, x, y) });
export const movedSection = (s, [, y, z]) => ({
  ...s, wood: shifted(s.wood, y, z), board: shifted(s.board, y, z), halfWidth: s.halfWidth + Math.abs(y), crown: s.crown + z, depth: s.depth - z,
});
