// Handles: what a hand takes in a picture to shape the neck. Where they are and
// how they move for a change of their keys the engine says; here that is turned
// into points of the picture, and back.

import { byId, el, plain, setWords, sizeOf } from './dom.js';

// finest is the least way in px that a pointer goes for a step of a value. A
// mouse has the handle under it, and with shift goes ten times finer. A finger
// hides the handle and is coarse: where the picture is too small for it the
// handle goes slower than the hand.
const finest = { mouse: 0, pen: 0, touch: 2 };

const sum = (a, b, k) => a.map((v, i) => v + k * b[i]);
const cut = (v, step) => parseFloat((Math.round(v / step) * step).toFixed(6));

export class Handles {
  // hooks: edit(edits, gesture, at), gestureEnd(), gesture(), about(axis), ready(), released()
  constructor(hooks) {
    this.hooks = hooks;
    this.knobs = new Map(); // picture and paths -> knob
    this.held = null;
    this.near = '';
  }

  // show places the handles of a list that belong to a picture. project takes
  // a place in mm to one in px of the picture's layer; null out of sight, if it is
  // not asked for anyway.
  show(picture, list, project, on) {
    const layer = byId(`${picture}-knobs`);
    const wanted = new Set();
    if (on) {
      for (const h of list) {
        if (!h.pictures.includes(picture)) continue;
        const key = picture + ' ' + h.axes.map((a) => a.path).join(' ');
        const knob = this.placed(key, layer, h, project);
        if (knob) wanted.add(key);
      }
    }
    for (const [key, knob] of this.knobs) {
      if (knob.layer !== layer || wanted.has(key) || this.held?.knob === knob) continue;
      knob.node.remove();
      this.knobs.delete(key);
    }
    const order = [...layer.children].map((n) => n.dataset.path);
    if (order.join() !== layer.order) layer.order = order.join();
  }

  placed(key, layer, h, project) {
    const at = project(h.at);
    if (!at) return null;
    const axes = [];
    for (const a of h.axes) {
      const about = this.hooks.about(a);
      if (!about || about.value === undefined) return null;
      const small = about.step;
      const to = project(sum(h.at, a.per, small), true); // from an end of the neck it goes out of the picture
      if (!to) return null;
      axes.push({ ...a, ...about, px: [(to[0] - at[0]) / small, (to[1] - at[1]) / small] });
    }
    // What goes straight into the picture cannot be drawn along it.
    if (axes.some((a) => Math.hypot(...a.px) * a.step < 1e-3)) return null;
    if (axes.length > 1 && Math.abs(sine(axes[0].px, axes[1].px)) < 0.2) return null;
    let knob = this.knobs.get(key);
    if (!knob) {
      knob = this.made(key, axes);
      knob.layer = layer;
      this.knobs.set(key, knob);
      layer.append(knob.node);
    }
    this.rebase(knob, axes);
    knob.axes = axes;
    const { node } = knob;
    const [main] = axes;
    const turn = Math.atan2(main.px[1], main.px[0]) * 180 / Math.PI;
    const { width } = sizeOf(layer, 600, 160);
    // What the style hands down to the parts of a handle changes seldom; where it is, often.
    const styles = { transform: `translate(${at[0].toFixed(1)}px, ${at[1].toFixed(1)}px)`, '--at': `${at[0].toFixed(0)}px`, '--wide': `${width}px`, '--turn': `${turn.toFixed(0)}deg` };
    for (const [name, v] of Object.entries(styles)) {
      if (knob.styles[name] === v) continue;
      knob.styles[name] = v;
      node.style.setProperty(name, v);
    }
    knob.at = at;
    node.classList.toggle('left', at[0] > width * 0.6);
    node.classList.toggle('up', at[1] > 40);
    const words = (a) => `${plain(a.value)} ${a.unit}`.trim();
    const said = axes.map((a) => (axes.length > 1 ? `${a.label} ` : '') + words(a)).join(', ');
    const set = (name, v) => { if (node.getAttribute(name) !== String(v)) node.setAttribute(name, v); };
    set('aria-valuenow', plain(main.value));
    set('aria-valuemin', plain(main.min));
    set('aria-valuemax', plain(main.max));
    set('aria-valuetext', said);
    set('aria-label', main.name);
    set('aria-orientation', Math.abs(main.px[1]) > Math.abs(main.px[0]) ? 'vertical' : 'horizontal');
    if (this.held?.knob !== knob) setWords(knob.says, `${main.name}: ${said}`);
    node.classList.toggle('near', axes.some((a) => a.path === this.near));
    return knob;
  }

  made(key, axes) {
    const says = el('span', { class: 'says' });
    const node = el('div', { class: 'knob' + (axes.length > 1 ? ' cross' : ''), role: 'slider', tabindex: '0', 'data-path': axes.map((a) => a.path).join(' ') }, el('i'), el('span', { class: 'saying' }, says));
    const knob = { key, node, says, axes, styles: {} };
    node.addEventListener('pointerdown', (e) => this.take(knob, e));
    node.addEventListener('keydown', (e) => this.press(knob, e));
    node.addEventListener('blur', () => { knob.stroke = 0; });
    node.addEventListener('dblclick', (e) => e.stopPropagation());
    return knob;
  }

  // take follows a pointer from where it has taken the knob.
  take(under, event) {
    if (event.button || this.held || !this.hooks.ready()) return;
    const knob = this.nearest(under, event);
    event.preventDefault();
    event.stopPropagation();
    knob.node.focus({ preventScroll: true });
    knob.node.setPointerCapture(event.pointerId);
    knob.node.classList.add('held');
    const p = [event.clientX, event.clientY];
    this.held = { knob, gesture: this.hooks.gesture(), from: p, last: p, fine: finest[event.pointerType] ?? 1, raw: knob.axes.map((a) => a.value), sent: knob.axes.map((a) => a.value), axes: knob.axes, moved: false, slow: false };
    const move = (e) => this.move(e);
    const end = () => {
      knob.node.removeEventListener('pointermove', move);
      for (const kind of ['pointerup', 'pointercancel', 'lostpointercapture']) knob.node.removeEventListener(kind, end);
      knob.node.classList.remove('held');
      const { moved } = this.held;
      this.held = null;
      if (!moved) return;
      this.hooks.gestureEnd();
      this.hooks.released();
    };
    knob.node.addEventListener('pointermove', move);
    for (const kind of ['pointerup', 'pointercancel', 'lostpointercapture']) knob.node.addEventListener(kind, end);
  }

  // nearest returns the knob whose middle is nearest to a pointer: where knobs
  // lie close the one on top is not always the one that is meant.
  nearest(under, event) {
    const box = under.layer.getBoundingClientRect();
    const far = (k) => Math.hypot(k.at[0] - event.clientX + box.left, k.at[1] - event.clientY + box.top);
    return [...this.knobs.values()].filter((k) => k.layer === under.layer).reduce((best, k) => (far(k) < far(best) ? k : best), under);
  }

  // move turns the way of the pointer since the last answer into values.
  move(event) {
    const h = this.held;
    if (event.shiftKey !== h.slow) {
      if (h.now) h.raw = h.now;
      h.from = h.last;
      h.slow = event.shiftKey;
    }
    const d = [event.clientX - h.from[0], event.clientY - h.from[1]];
    const fits = (v, a) => Math.min(a.max, Math.max(a.min, v));
    const change = solved(d, h.axes, h.fine).map((v) => (h.slow ? v / 10 : v));
    const now = h.axes.map((a, i) => h.raw[i] + change[i]);
    h.last = [event.clientX, event.clientY];
    h.now = now;
    const edits = [];
    h.axes.forEach((a, i) => {
      const v = fits(cut(now[i], a.step), a);
      if (v === h.sent[i]) return;
      h.sent[i] = v;
      edits.push({ op: a.op, path: a.path, by: a.by, value: v });
    });
    h.knob.says.textContent = h.axes.map((a, i) => `${a.label} ${plain(h.sent[i])} ${a.unit}`.trim()).join(', ');
    if (!edits.length) return;
    h.moved = true;
    this.hooks.edit(edits, h.gesture, event.timeStamp);
  }

  // rebase goes on from where the pointer is, with how the handle moves there:
  // a shoulder does not move in a straight line.
  rebase(knob, axes) {
    const h = this.held;
    if (h?.knob !== knob) return;
    if (h.now) h.raw = h.now;
    h.from = h.last;
    h.axes = axes;
  }

  // press moves a knob by keys: where an arrow points, or up and to the right
  // for more.
  press(knob, event) {
    const ways = { ArrowUp: [0, -1], ArrowDown: [0, 1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] };
    let times = event.shiftKey ? 10 : 1;
    let way = ways[event.key];
    if (event.key === 'PageUp' || event.key === 'PageDown') {
      way = event.key === 'PageUp' ? [0, -1] : [0, 1];
      times = 10;
    }
    if (!way || event.ctrlKey || event.metaKey || event.altKey || !this.hooks.ready()) return;
    event.preventDefault();
    event.stopPropagation();
    const along = (a) => (way[0] * a.px[0] + way[1] * a.px[1]) / Math.hypot(...a.px);
    const a = knob.axes.reduce((best, b) => (Math.abs(along(b)) > Math.abs(along(best)) ? b : best));
    const d = along(a);
    const sign = Math.abs(d) > 0.3 ? Math.sign(d) : way[0] - way[1];
    const from = knob.wanted?.path === a.path && performance.now() - knob.pressed < 400 ? knob.wanted.value : a.value;
    const grid = cut(from, a.fine);
    const near = Math.abs(grid - from) < 1e-9 ? from : sign > 0 ? Math.floor(from / a.fine) * a.fine : Math.ceil(from / a.fine) * a.fine;
    const value = Math.min(a.max, Math.max(a.min, cut(near + sign * times * a.fine, a.fine)));
    if (!knob.stroke || performance.now() - knob.pressed > 1200) knob.stroke = this.hooks.gesture();
    knob.pressed = performance.now();
    knob.wanted = { path: a.path, value };
    if (value !== a.value) this.hooks.edit([{ op: a.op, path: a.path, by: a.by, value }], knob.stroke, event.timeStamp);
    this.hooks.gestureEnd();
  }

  // mark marks the handles of a key whose control is in hand.
  mark(path) {
    this.near = path;
    for (const knob of this.knobs.values()) knob.node.classList.toggle('near', knob.axes.some((a) => a.path === path));
  }

  clear() {
    for (const knob of this.knobs.values()) knob.node.remove();
    this.knobs.clear();
    this.held = null;
  }
}

// sine is that of the angle between two ways.
const sine = (a, b) => (a[0] * b[1] - a[1] * b[0]) / (Math.hypot(...a) * Math.hypot(...b));

// solved returns by how much the values change when the pointer goes by d px.
function solved(d, axes, fine) {
  if (axes.length === 1) {
    const [{ px, step }] = axes;
    const far = Math.hypot(...px);
    const slow = Math.min(1, far * step / fine);
    return [slow * (d[0] * px[0] + d[1] * px[1]) / (far * far)];
  }
  const [{ px: a, step }, { px: b }] = axes;
  const det = a[0] * b[1] - a[1] * b[0];
  if (Math.abs(det) < 1e-9) return [0, 0];
  const slow = Math.min(1, Math.hypot(...a) * step / fine);
  return [slow * (d[0] * b[1] - d[1] * b[0]) / det, slow * (a[0] * d[1] - a[1] * d[0]) / det];
}
