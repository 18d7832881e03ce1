// The section, to scale, with its dimensions.

import { byId, el, setWords, sizeOf, svg } from './dom.js';

const path = (points, f) => points.map(([y, z], i) => `${i ? 'L' : 'M'}${f.x(y).toFixed(2)} ${f.y(z).toFixed(2)}`).join('') + 'Z';

// How far the section that was drawn reaches.
let kept = null;

// drawSection draws a section and, dashed, the ghost's at the same place, and
// returns its frame. A small one has no dimensions.
export function drawSection(s, { widest, deepest }, ghost, unit, { small, held, box: given }) {
  const holder = byId('section-drawing');
  const box = given ?? sizeOf(holder, 300, 220);
  const side = small ? 14 : 62;
  const head = small ? 20 : 34;
  const foot0 = small ? 22 : 46;
  // While a handle is held the scale stays.
  if (!held || !kept) {
    kept = {
      most: Math.max(0.85 * widest, 2 * s.halfWidth, ghost ? 2 * ghost.halfWidth : 0),
      top: Math.max(s.crown, s.top, ghost?.crown ?? 0),
      bottom: Math.max(s.depth, ghost?.depth ?? 0, deepest), // so that it moves little
    };
  }
  const { most, top, bottom } = kept;
  const wide = box.width;
  const scale = Math.max(0.5, Math.min((wide - 2 * side) / most, (box.height - head - foot0) / (top + bottom)));
  const high = box.height;
  const from = head + Math.max(0, (high - head - foot0 - (top + bottom) * scale) / 2);
  const f = { x: (y) => wide / 2 + y * scale, y: (z) => from + (top - z) * scale, scale };
  f.px = ([a, b]) => [f.x(a), f.y(b)];
  f.mm = ([px, py]) => [(px - wide / 2) / scale, top - (py - from) / scale];

  const drawing = svg('svg', { viewBox: `0 0 ${wide} ${high}`, width: wide, height: high, role: 'img' });
  const say = `Section at ${s.where}: ` + s.numbers.map((n) => `${n.label} ${n.text}`).join(', ');
  drawing.append(svg('title', { text: say }));
  drawing.append(svg('path', { class: 'wood', d: path(s.wood, f) }));
  // What it is glued up of: strips in the colours of their woods under the wood's
  // edge, and what lies in the channels.
  for (const strip of s.strips ?? []) drawing.append(svg('path', { class: 'strip', fill: strip.fill, d: path(strip.points, f) }));
  for (const [[ya, za], [yb, zb]] of s.seams ?? []) drawing.append(svg('line', { class: 'seam', x1: f.x(ya), y1: f.y(za), x2: f.x(yb), y2: f.y(zb) }));
  if (s.strips) drawing.append(svg('path', { class: 'wood edge', d: path(s.wood, f) }));
  for (const inlay of s.inlays ?? []) drawing.append(svg('path', { class: `inlay inlay-${inlay.name}`, d: path(inlay.points, f) }));
  if (s.board.length) drawing.append(svg('path', { class: 'board', d: path(s.board, f) }));
  if (ghost) {
    drawing.append(svg('path', { class: 'ghost', d: path(ghost.wood, f) }));
    if (ghost.board.length) drawing.append(svg('path', { class: 'ghost', d: path(ghost.board, f) }));
  }
  const line = (name, x1, y1, x2, y2) => drawing.append(svg('line', { class: name, x1, y1, x2, y2 }));
  const text = (name, x, y, words, anchor = 'middle') => drawing.append(svg('text', { class: name, x, y, 'text-anchor': anchor, text: words }));
  const foot = f.y(-s.depth);

  line('centre', f.x(0), f.y(top) - 6, f.x(0), foot + 8);
  if (!small) dimensions(drawing, s, f, { line, text, wide, side, foot, from });

  // Cover.
  if (s.cover.length) {
    const [[ya, za], [yb, zb]] = s.cover;
    line('cover-under', f.x(ya), f.y(za), f.x(yb), f.y(zb));
    line('cover', f.x(ya), f.y(za), f.x(yb), f.y(zb));
    if (small) text('feature halo', wide / 2, high - 6, `cover ${s.short.Cover}`);
    else {
      const tx = f.x(yb) + (yb < 0 ? -16 : 16);
      line('lead', f.x(yb), f.y(zb), tx, foot + 20);
      text('feature halo', tx, foot + 31, `cover ${s.short.Cover}`, yb < 0 ? 'end' : 'start');
    }
  }

  // Scale bar.
  if (!small) {
    const inch = unit === 'in';
    const length = inch ? 12.7 : 10;
    const bar = high - 8;
    const x0 = wide - 10 - length * scale;
    line('bar', x0, bar, x0 + length * scale, bar);
    for (const x of [x0, x0 + length * scale]) line('bar', x, bar - 4, x, bar + 1);
    text('quiet', x0 - 5, bar + 1, inch ? '0.5 in' : '10 mm', 'end');
  }
  holder.replaceChildren(drawing);

  setWords(byId('section-where'), s.where);
  const list = byId('section-numbers');
  const keys = s.numbers.map((n) => n.key).join();
  if (list.dataset.keys !== keys) {
    list.dataset.keys = keys;
    list.replaceChildren(...s.numbers.map((n) => el('div', { 'data-key': n.key }, el('dt', { text: n.label }), el('dd', {}, el('span'), el('em', { class: 'apart' })))));
  }
  s.numbers.forEach((n, i) => {
    const [told, apart] = list.children[i].lastChild.children;
    setWords(told, n.text);
    setWords(apart, n.apart ?? '');
  });
  return f;
}

// dimensions draws width, wood and total.
function dimensions(drawing, s, f, { line, text, wide, foot, from }) {
  // Glue plane.
  const l = f.x(-s.halfWidth);
  const r = f.x(s.halfWidth);
  line('glue', l - 40, f.y(0), l - 4, f.y(0));
  line('glue', r + 4, f.y(0), r + 40, f.y(0));

  // Width, above.
  const y = from - 14;
  for (const x of [l, r]) line('extension', x, y - 4, x, f.y(Math.max(0, s.top)) - 3);
  arrow(drawing, l, y, r, y);
  text('measure halo', (l + r) / 2, y - 6, s.short.Width);
  text('quiet', 4, 14, s.sides[0], 'start');
  text('quiet', wide - 4, 14, s.sides[1], 'end');

  // Wood on the left, total on the right.
  const left = l - 46;
  line('extension', left - 4, foot, f.x(s.apex), foot);
  arrow(drawing, left, f.y(Math.min(0, s.top)), left, foot);
  if (s.top < 0) line('extension', left - 4, f.y(s.top), l, f.y(s.top));
  upright(drawing, left - 5, (f.y(Math.min(0, s.top)) + foot) / 2, s.short.Wood, 'wood');
  const right = r + 46;
  if (s.short.Total) {
    line('extension', f.x(0), f.y(s.crown), right + 4, f.y(s.crown));
    line('extension', f.x(s.apex), foot, right + 4, foot);
    arrow(drawing, right, f.y(s.crown), right, foot);
    upright(drawing, right + 14, (f.y(s.crown) + foot) / 2, s.short.Total, 'total');
  }
}

function arrow(drawing, x1, y1, x2, y2) {
  drawing.append(svg('line', { class: 'dimension', x1, y1, x2, y2 }));
  const along = x1 === x2 ? [0, 1] : [1, 0];
  for (const [x, y, d] of [[x1, y1, 1], [x2, y2, -1]]) {
    const [a, b] = along.map((v) => v * d * 6);
    drawing.append(svg('path', { class: 'head', d: `M${x} ${y}l${a + b * 0.3} ${b + a * 0.3}l${-b * 0.6} ${-a * 0.6}Z` }));
  }
}

function upright(drawing, x, y, words, what) {
  drawing.append(svg('text', { class: 'measure halo', x, y, 'text-anchor': 'middle', transform: `rotate(-90 ${x} ${y})`, text: `${what} ${words}` }));
}
