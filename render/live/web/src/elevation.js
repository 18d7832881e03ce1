// The side view, on the same axis as the slider of the section plane.

import { byId, svg } from './dom.js';

// inset is half the width of the slider's thumb, which keeps inside its track.
export const inset = 9;

// range returns the extent along the neck.
export const range = (e) => [Math.min(e.start, 0), Math.max(e.end, e.boardEnd)];

// drawElevation draws the side view from the bass side.
export function drawElevation(e, x, stretch, ghost, hooks) {
  const holder = byId('side-drawing');
  const wide = Math.max(240, Math.round(holder.clientWidth) || 600);
  const [from, to] = range(e);
  const scale = (wide - 2 * inset) / (to - from);
  const k = stretch ? 4 : 1;
  const low = Math.min(...e.back.map((p) => p[1]), ...(ghost ? ghost.back.map((p) => p[1]) : []));
  const high = Math.max(e.crown, 0);
  const head = 22;
  const foot = 44;
  const tall = head + foot + (high - low) * scale * k;
  const f = { x: (v) => inset + (v - from) * scale, y: (z) => head + (high - z) * scale * k };
  const xy = (points) => points.map(([a, b]) => `${f.x(a).toFixed(2)} ${f.y(b).toFixed(2)}`);
  const shape = (v) => 'M' + [...xy(v.back), ...xy([...v.top].reverse())].join('L') + 'Z';

  const drawing = svg('svg', { viewBox: `0 0 ${wide} ${tall.toFixed(1)}`, width: wide, height: tall, role: 'img' });
  drawing.append(svg('title', { text: 'Side view of the neck from the bass side' + (stretch ? ', depth drawn four times' : ', to scale') }));
  const line = (name, x1, y1, x2, y2) => drawing.append(svg('line', { class: name, x1, y1, x2, y2 }));

  // Fret axis under the neck, numbered where there is room.
  const axis = tall - foot + 16;
  let last = -Infinity;
  for (const fret of e.frets) {
    const at = f.x(fret.x);
    line('tick', at, axis, at, axis + (fret.n % 12 === 0 ? 7 : 4));
    if (at - last > 17 || (fret.n === 0 && at - last > 14)) {
      drawing.append(svg('text', { class: 'quiet', x: at, y: axis + 18, 'text-anchor': 'middle', text: fret.n === 0 ? 'nut' : fret.n }));
      last = at;
    }
  }
  drawing.append(svg('path', { class: 'wood', d: shape(e) }));
  const crown = [[0, 0], [0, e.crown], [e.boardEnd, e.crown], [e.boardEnd, 0]];
  drawing.append(svg('path', { class: 'board', d: 'M' + xy(crown).join('L') + 'Z' }));
  if (e.channel.length) drawing.append(svg('path', { class: 'hidden-line', d: 'M' + xy(e.channel).join('L') }));
  if (ghost) drawing.append(svg('path', { class: 'ghost', d: shape(ghost) }));

  for (const target of e.targets) {
    const cx = f.x(target.x);
    const cy = f.y(-target.depth);
    const handle = svg('g', { class: 'handle', 'aria-hidden': 'true' },
      svg('circle', { class: 'reach', cx, cy, r: 16 }),
      svg('circle', { class: 'knob', cx, cy, r: 5.5 }),
      svg('title', { text: `${target.text}. Drag up or down: 0.1 mm for each step of the pointer.` }));
    handle.addEventListener('pointerdown', (event) => hooks.grab(event, target));
    drawing.append(handle);
  }
  const plane = svg('g', { class: 'plane' },
    svg('line', { x1: 0, x2: 0, y1: 6, y2: axis }),
    svg('path', { d: 'M-5 2h10l-5 8Z' }));
  drawing.append(plane);
  holder.replaceChildren(drawing);
  drawing.addEventListener('pointerdown', (event) => {
    if (event.target.closest('.handle')) return;
    hooks.point(event, (clientX) => {
      const box = holder.getBoundingClientRect();
      return from + ((clientX - box.left) * (wide / box.width) - inset) / scale;
    });
  });
  movePlane(e, x);
}

// movePlane moves the line of the section plane.
export function movePlane(e, x) {
  const holder = byId('side-drawing');
  const plane = holder.querySelector('.plane');
  if (!plane) return;
  const [from, to] = range(e);
  const wide = holder.querySelector('svg').viewBox.baseVal.width;
  plane.setAttribute('transform', `translate(${inset + ((x - from) / (to - from)) * (wide - 2 * inset)} 0)`);
}
