// The side view, on the same axis as the slider of the section plane.

import { byId, svg, widthOf } from './dom.js';

// inset is half the width of the slider's thumb, which keeps inside its track.
export const inset = 9;

// range returns the extent along the neck, and the ghost's.
export const range = (e, ghost) => [Math.min(e.start, 0, ghost?.start ?? 0), Math.max(e.end, e.board[1], ghost?.end ?? 0)];

// What was drawn, for the next drawing to change only what moves.
let drawn = null;

// drawElevation draws the side view.
export function drawElevation(e, x, stretch, ghost, hooks) {
  const holder = byId('side-drawing');
  const wide = Math.max(240, Math.round(widthOf(holder)) || 600);
  const [from, to] = range(e, ghost);
  const scale = (wide - 2 * inset) / (to - from);
  const k = stretch ? 4 : 1;
  const low = Math.min(e.low, ghost ? ghost.low : 0);
  const high = Math.max(e.crown, 0);
  const head = 22;
  const foot = 44;
  const tall = head + foot + (high - low) * scale * k;
  const f = { x: (v) => inset + (v - from) * scale, y: (z) => head + (high - z) * scale * k };
  const xy = (points) => points.map(([a, b]) => `${f.x(a).toFixed(2)} ${f.y(b).toFixed(2)}`);
  const shape = (v) => 'M' + [...xy(v.back), ...xy([...v.top].reverse())].join('L') + 'Z';

  const place = (h, target) => h.setAttribute('transform', `translate(${f.x(target.x).toFixed(2)} ${f.y(-target.depth).toFixed(2)})`);
  const channel = e.channels.map(line => 'M' + xy(line).join('L')).join('') || 'M0 0';
  const fixed = JSON.stringify([wide, tall, from, to, e.crown, e.board, e.frets.map((v) => v.x), e.targets.map((t) => t.path), ghost ? ghost.back : 0]);
  if (drawn?.fixed === fixed && drawn.wood.isConnected) {
    drawn.wood.setAttribute('d', shape(e));
    drawn.channel.setAttribute('d', channel);
    drawn.handles.forEach((h, i) => place(h, e.targets[i]));
    drawn.e = e;
    movePlane(x);
    return;
  }
  drawn = { fixed, e, from, to, wood: svg('path', { class: 'wood', d: shape(e) }), channel: svg('path', { class: 'hidden-line', d: channel }), handles: [] };
  const drawing = svg('svg', { viewBox: `0 0 ${wide} ${tall.toFixed(1)}`, width: wide, height: tall, role: 'img' });
  drawing.append(svg('title', { text: 'Side view of the neck' + (stretch ? ', depth drawn four times' : ', to scale') }));
  const line = (name, x1, y1, x2, y2) => drawing.append(svg('line', { class: name, x1, y1, x2, y2 }));

  // Fret axis under the neck, numbered where there is room.
  const axis = tall - foot + 16;
  let last = -Infinity; // end of the label before
  for (const fret of e.frets) {
    const at = f.x(fret.x);
    line('tick', at, axis, at, axis + (fret.n % 12 === 0 ? 7 : 4));
    const half = (fret.n === 0 ? 18 : fret.n > 9 ? 14 : 7) / 2; // of a label at 11 px
    if (at - half >= last + 3) {
      drawing.append(svg('text', { class: 'quiet', x: at, y: axis + 18, 'text-anchor': 'middle', text: fret.n === 0 ? 'nut' : fret.n }));
      last = at + half;
    }
  }
  drawing.append(drawn.wood);
  const crown = [[e.board[0], 0], [e.board[0], e.crown], [e.board[1], e.crown], [e.board[1], 0]];
  drawing.append(svg('path', { class: 'board', d: 'M' + xy(crown).join('L') + 'Z' }));
  drawing.append(drawn.channel);
  if (ghost) drawing.append(svg('path', { class: 'ghost', d: shape(ghost) }));

  e.targets.forEach((target, i) => {
    const handle = svg('g', { class: 'handle', 'aria-hidden': 'true' },
      svg('circle', { class: 'reach', r: 16 }),
      svg('circle', { class: 'knob', r: 5.5 }),
      svg('title', { text: 'A thickness target. Drag up or down: 0.1 mm for each step of the pointer.' }));
    place(handle, target);
    handle.addEventListener('pointerdown', (event) => hooks.grab(event, drawn.e.targets[i]));
    drawn.handles.push(handle);
    drawing.append(handle);
  });
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
  movePlane(x);
}

// movePlane moves the line of the section plane.
export function movePlane(x) {
  const holder = byId('side-drawing');
  const plane = holder.querySelector('.plane');
  if (!plane) return;
  const { from, to } = drawn;
  const wide = parseFloat(holder.querySelector('svg').getAttribute('width'));
  plane.setAttribute('transform', `translate(${inset + ((x - from) / (to - from)) * (wide - 2 * inset)} 0)`);
}
