// The side view.

import { byId, setAttribute, sizeOf, svg } from './dom.js';
import { frameOf, line, within } from './along.js';

// What was drawn, for the next drawing to change only what moves.
let drawn = null;

// drawElevation draws the side view in its box and returns its frame.
// how: { window, stretched, small, held, box }, the box of a drawing for paper.
export function drawElevation(e, x, ghost, how) {
  const holder = byId('side-drawing');
  const box = how.box ?? sizeOf(holder, 600, 160);
  let heights = within([...e.back, ...e.top], how.window, [0, Math.max(e.crown, 0)]);
  if (ghost) heights = within([...ghost.back, [Math.max(ghost.board[0], how.window[0]), ghost.crown]], how.window, heights);
  // So that the picture does not breathe with every move, and stays while a
  // handle is held.
  heights = [Math.floor(heights[0] - 1), Math.ceil(heights[1] + 1)];
  if (how.held && drawn?.heights) ({ heights } = drawn);
  const f = frameOf(box, how.window, heights, how.stretched, how.small ? { head: 20, foot: 8 } : { head: 20, foot: 32 });
  const shape = (v) => line(f, [...v.back, ...[...v.top].reverse()], true);
  const channel = e.channels.map((c) => line(f, c)).join('') || 'M0 0';
  const fixed = JSON.stringify([box, how.window, how.stretched, how.small, heights, e.crown, e.board, e.frets.map((v) => v.x), ghost ? [ghost.back, ghost.crown, ghost.board] : 0]);
  if (drawn?.fixed === fixed && drawn.wood.isConnected) {
    setAttribute(drawn.wood, 'd', shape(e));
    setAttribute(drawn.channel, 'd', channel);
    drawn.frame = f;
    movePlane(x);
    return f;
  }
  drawn = { fixed, heights, frame: f, wood: svg('path', { class: 'wood', d: shape(e) }), channel: svg('path', { class: 'hidden-line', d: channel }) };
  const drawing = svg('svg', { viewBox: `0 0 ${box.width} ${box.height}`, width: box.width, height: box.height, role: 'img' });
  drawing.append(svg('title', { text: 'Side view of the neck' + (f.times > 1.05 ? `, depth drawn ${f.times.toFixed(1)} times` : ', to scale') }));
  if (!how.small) fretAxis(drawing, e.frets, f, box);
  drawing.append(drawn.wood);
  const crown = [[e.board[0], 0], [e.board[0], e.crown], [e.board[1], e.crown], [e.board[1], 0]];
  drawing.append(svg('path', { class: 'board', d: line(f, crown, true) }));
  drawing.append(drawn.channel);
  if (ghost) {
    const [from, to] = ghost.board;
    drawing.append(svg('path', { class: 'ghost', d: shape(ghost) }), svg('path', { class: 'ghost', d: line(f, [[from, ghost.glue], [from, ghost.crown], [to, ghost.crown], [to, ghost.glue]], true) }));
  }
  drawn.plane = svg('g', { class: 'plane' },
    svg('line', { x1: 0, x2: 0, y1: 3, y2: box.height - (how.small ? 3 : 26) }),
    svg('path', { d: 'M-5 0h10l-5 8Z' }));
  drawing.append(drawn.plane);
  if (!how.small) {
    drawing.append(svg('text', { class: 'caption halo', x: box.width - 4, y: 12, 'text-anchor': 'end', text: f.times > 1.05 ? `depth drawn ${f.times.toFixed(1)} times` : 'to scale' }));
  }
  holder.replaceChildren(drawing);
  movePlane(x);
  return f;
}

// fretAxis draws the frets as a grid and under a picture, numbered where there is
// room. The last fret has its number wherever it is seen.
export function fretAxis(drawing, frets, f, box) {
  const axis = box.height - 26;
  const seen = frets.filter((fret) => f.has(fret.x));
  const half = (fret) => (fret.n === 0 ? 18 : fret.n > 9 ? 14 : 7) / 2; // of a label at 11 px
  const last = seen.at(-1);
  const stop = last ? f.x(last.x) - half(last) : 0;
  let end = -Infinity; // of the label before
  for (const fret of seen) {
    const at = f.x(fret.x);
    drawing.append(svg('line', { class: 'tick', x1: at, y1: axis, x2: at, y2: axis + (fret.n % 12 === 0 ? 7 : 4) }));
    drawing.append(svg('line', { class: 'grid', x1: at, y1: 18, x2: at, y2: axis }));
    if (at - half(fret) < end + 2 || (fret !== last && at + half(fret) + 2 > stop)) continue;
    drawing.append(svg('text', { class: 'quiet', x: Math.max(at, half(fret) + 2), y: axis + 18, 'text-anchor': 'middle', text: fret.n === 0 ? 'nut' : fret.n }));
    end = at + half(fret);
  }
}

// movePlane moves the line of the section plane.
export function movePlane(x) {
  if (drawn?.plane) setAttribute(drawn.plane, 'transform', `translate(${drawn.frame.x(x).toFixed(2)} 0)`);
}
