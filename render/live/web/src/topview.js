// The neck from above.

import { byId, setAttribute, sizeOf, svg } from './dom.js';
import { frameOf, line, within } from './along.js';
import { fretAxis } from './elevation.js';

let drawn = null;

// drawTop draws the top view in its box and returns its frame.
export function drawTop(t, e, x, ghost, how) {
  const holder = byId('top-drawing');
  const box = how.box ?? sizeOf(holder, 600, 160);
  let heights = within([...t.wood, ...t.board], how.window, [-5, 5]);
  if (ghost) heights = within([...ghost.wood, ...ghost.board], how.window, heights);
  heights = [Math.floor(heights[0] - 1), Math.ceil(heights[1] + 1)];
  if (how.held && drawn?.heights) ({ heights } = drawn);
  const f = frameOf(box, how.window, heights, how.stretched, how.small ? { head: 20, foot: 8 } : { head: 20, foot: 32 });
  const fixed = JSON.stringify([box, how.window, how.stretched, how.small, heights, e.frets.length, ghost ? [ghost.wood, ghost.board] : 0, t.sides]);
  if (drawn?.fixed !== fixed || !drawn.wood.isConnected) {
    drawn = { fixed, heights, wood: svg('path', { class: 'wood' }), board: svg('path', { class: 'board' }), frets: svg('path', { class: 'fret' }), channels: svg('path', { class: 'hidden-line' }), holes: svg('path', { class: 'hole' }) };
    const drawing = svg('svg', { viewBox: `0 0 ${box.width} ${box.height}`, width: box.width, height: box.height, role: 'img' });
    drawing.append(svg('title', { text: 'Top view of the neck' + (f.times > 1.05 ? `, width drawn ${f.times.toFixed(1)} times` : ', to scale') }));
    if (!how.small) fretAxis(drawing, e.frets, f, box);
    drawing.append(drawn.wood, drawn.board, drawn.frets, drawn.channels, drawn.holes);
    drawing.append(svg('line', { class: 'centre', x1: 0, x2: box.width, y1: f.y(0), y2: f.y(0) }));
    if (ghost) drawing.append(svg('path', { class: 'ghost', d: line(f, ghost.wood, true) }), svg('path', { class: 'ghost', d: line(f, ghost.board, true) }));
    drawn.plane = svg('g', { class: 'plane' },
      svg('line', { x1: 0, x2: 0, y1: 3, y2: box.height - (how.small ? 3 : 26) }),
      svg('path', { d: 'M-5 0h10l-5 8Z' }));
    drawing.append(drawn.plane);
    if (!how.small) {
      const note = (y, text) => drawing.append(svg('text', { class: 'caption halo', x: box.width - 4, y, 'text-anchor': 'end', text }));
      note(12, `${t.sides[1]} side up, ` + (f.times > 1.05 ? `width drawn ${f.times.toFixed(1)} times` : 'to scale'));
    }
    holder.replaceChildren(drawing);
  }
  drawn.frame = f;
  setAttribute(drawn.wood, 'd', line(f, t.wood, true));
  setAttribute(drawn.board, 'd', line(f, t.board, true));
  setAttribute(drawn.frets, 'd', t.frets.filter((l) => l.length).map((l) => line(f, l)).join('') || 'M0 0');
  setAttribute(drawn.channels, 'd', t.channels.map((l) => line(f, l, true)).join('') || 'M0 0');
  const ellipse = (c) => `M${(f.x(c.X) - c.R * f.sx).toFixed(2)} ${f.y(c.Y).toFixed(2)}a${c.R * f.sx} ${c.R * f.sy} 0 1 0 ${2 * c.R * f.sx} 0a${c.R * f.sx} ${c.R * f.sy} 0 1 0 ${-2 * c.R * f.sx} 0`;
  setAttribute(drawn.holes, 'd', t.tuners.map(ellipse).join('') || 'M0 0');
  moveTopPlane(x);
  return f;
}

// moveTopPlane moves the line of the section plane.
export function moveTopPlane(x) {
  if (drawn?.plane) setAttribute(drawn.plane, 'transform', `translate(${drawn.frame.x(x).toFixed(2)} 0)`);
}
