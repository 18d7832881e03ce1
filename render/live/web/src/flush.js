// Where another neck is laid over this one: across it and up; where along it the
// program says. Lengths in mm; sections and views as the program draws them, both
// necks for the same hand.

// hasHeels reports whether both necks have a heel to lay flush.
export const hasHeels = (mine, other) => Boolean(mine?.values?.['heel.start'] && other?.values?.['heel.start']);

// acrossAndUp returns how far a section is moved, [y, z], so that it is flush with
// another one.
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
