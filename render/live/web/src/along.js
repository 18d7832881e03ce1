// Pictures along the neck: side view and top view share the axis and the window.

// inset is half the width of the slider's thumb, which keeps inside its track.
export const inset = 9;

// grain, in mm, is more than what places are rounded by on their way here: one at
// the very end of the neck is in the window that ends there.
const grain = 1e-3;

// range returns the extent along the neck, and the ghost's.
export const range = (e, ghost) => [Math.min(e.start, e.board[0], ghost?.start ?? 0), Math.max(e.end, e.board[1], ghost?.end ?? 0)];

// windows are the parts of a neck that fill a picture, [from, to] by name.
export function windows(e, ghost, heelStart) {
  const [from, to] = range(e, ghost);
  const out = { whole: [from, to] };
  if (e.start < -20) out.head = [from - 4, 26];
  const stop = heelStart ?? e.board[1];
  out.neck = [-12, Math.min(stop, to) + 8];
  if (heelStart !== undefined && heelStart < e.end) out.heel = [heelStart - 24, to + 4];
  return out;
}

// frameOf lays a window [from, to] and heights [low, high] into a box, with room
// for the edges. Where stretched, heights fill the box and are drawn larger than
// lengths, but never smaller.
export function frameOf(box, [from, to], [low, high], stretched, { head, foot }) {
  const wide = box.width - 2 * inset;
  const tall = Math.max(10, box.height - head - foot);
  let sx = wide / (to - from);
  let sy = tall / Math.max(1, high - low);
  if (!stretched || sy < sx) sx = sy = Math.min(sx, sy);
  const left = inset + (wide - sx * (to - from)) / 2;
  const top = head + (tall - sy * (high - low)) / 2;
  return {
    from, to, sx, sy, times: sy / sx,
    x: (v) => left + (v - from) * sx,
    y: (v) => top + (high - v) * sy,
    px: ([a, b]) => [left + (a - from) * sx, top + (high - b) * sy],
    mm: ([px, py]) => [from + (px - left) / sx, high - (py - top) / sy],
    back: (px) => from + (px - left) / sx,
    has: (v) => v >= from - grain && v <= to + grain,
  };
}

// line returns a path through points.
export const line = (f, points, closed) => (points.length ? 'M' + points.map(([a, b]) => `${f.x(a).toFixed(2)} ${f.y(b).toFixed(2)}`).join('L') + (closed ? 'Z' : '') : 'M0 0');

// within returns the least and the greatest second part of points in a window.
export function within(points, [from, to], [low, high]) {
  for (const [x, v] of points) {
    if (x < from || x > to) continue;
    low = Math.min(low, v);
    high = Math.max(high, v);
  }
  return [low, high];
}
