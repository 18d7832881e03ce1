// Reading a picture: what is under the pointer, and the distance of two points.

import { byId, setWords, svg } from './dom.js';

const near = 9; // px within which a point of the outline is meant

// names of what a picture's two coordinates are, x along the neck first.
const parts = { space: [0, 1, 2], section: [1, 2], side: [0, 2], top: [0, 1] };

export class Measure {
  // hooks: frame(pane), hit(event), corners(pane), project(at), probe(x, y), x(), unit(), mmPerInch
  constructor(hooks) {
    this.hooks = hooks;
    this.points = [];
    this.pane = '';
    this.on = false;
    byId('measure').onclick = (e) => this.turn(!this.on, e.detail === 0);
    byId('cross').onkeydown = (e) => this.key(e);
    byId('cross').onblur = () => { if (this.on) byId('cross').classList.add('left'); };
    byId('cross').onfocus = () => byId('cross').classList.remove('left');
    for (const pane of Object.keys(parts)) {
      const holder = pane === 'space' ? byId('view') : byId(`${pane}-drawing`);
      // Before the listeners that move the section or turn the view.
      holder.parentElement.addEventListener('pointerdown', (e) => this.press(pane, e), true);
      holder.addEventListener('pointermove', (e) => this.hover(pane, e));
      holder.addEventListener('pointerleave', () => this.quiet());
    }
    document.addEventListener('keydown', (e) => {
      if (e.key !== 'Escape' || !this.on || document.querySelector('dialog[open]')) return;
      this.turn(false);
      if (document.activeElement === document.body) byId('measure').focus();
    });
  }

  turn(on, byKey) {
    this.on = on;
    this.points = [];
    this.cross(on && byKey);
    byId('measure').setAttribute('aria-pressed', String(on));
    byId('bench-area').classList.toggle('measuring', on);
    setWords(byId('read'), on ? 'Press two points of a picture' : '');
    this.draw();
  }

  // cross shows or hides the cross that keys move over the large picture. It begins in
  // the middle.
  cross(on) {
    const cross = byId('cross');
    cross.hidden = !on;
    if (!on) return;
    const holder = this.holder(this.hooks.main());
    if (!holder) return;
    if (cross.parentElement !== holder) holder.append(cross);
    const { width, height } = holder.getBoundingClientRect();
    this.put(width / 2, height / 2);
    cross.focus({ preventScroll: true });
  }

  holder(pane) {
    return pane === 'space' ? byId('view').parentElement : byId(`${pane}-drawing`)?.parentElement;
  }

  put(x, y) {
    this.at0 = [x, y];
    byId('cross').style.left = `${x}px`;
    byId('cross').style.top = `${y}px`;
  }

  // key moves the cross, a point of the screen at a time and with Shift ten, and sets
  // a point. What lies under it is read when the keys rest.
  key(e) {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
    const pane = this.hooks.main();
    const box = this.holder(pane).getBoundingClientRect();
    if (way) {
      const far = e.shiftKey ? 10 : 1;
      const held = (v, most) => Math.max(0, Math.min(most, v));
      this.put(held(this.at0[0] + far * way[0], box.width), held(this.at0[1] + far * way[1], box.height));
    } else if (e.key !== 'Enter' && e.key !== ' ') return;
    e.preventDefault();
    e.stopPropagation();
    const place = { clientX: box.left + this.at0[0], clientY: box.top + this.at0[1] };
    if (!way) return this.set(pane, place);
    clearTimeout(this.timer);
    this.timer = setTimeout(async () => {
      const at = this.at(pane, place);
      const words = at && await this.said(pane, at);
      if (this.on && words && this.points.length !== 2) setWords(byId('read'), words);
    }, 250);
  }

  // at returns the place in mm that a pointer shows, or null.
  at(pane, e) {
    if (pane === 'space') return this.hooks.hit(e);
    const f = this.hooks.frame(pane);
    if (!f) return null;
    const box = byId(`${pane}-drawing`).getBoundingClientRect();
    const [px, py] = [e.clientX - box.left, e.clientY - box.top];
    let best = f.mm([px, py]);
    let least = near;
    for (const p of this.hooks.corners(pane)) {
      const [a, b] = f.px(p);
      const d = Math.hypot(a - px, b - py);
      if (d < least) [least, best] = [d, p];
    }
    const out = [this.hooks.x(), 0, 0];
    parts[pane].forEach((part, i) => { out[part] = best[i]; });
    return out;
  }

  press(pane, e) {
    if (!this.on || e.button || e.target.closest('button, .knob')) return;
    e.preventDefault();
    e.stopPropagation();
    this.set(pane, e);
  }

  // set takes the point that is pointed at.
  set(pane, e) {
    const at = this.at(pane, e);
    if (!at) return;
    if (this.pane !== pane || this.points.length === 2) this.points = [];
    this.pane = pane;
    this.points.push(at);
    this.draw();
    if (this.points.length < 2) return this.first(pane, at);
    const [a, b] = this.points;
    const d = parts[pane].map((k) => b[k] - a[k]);
    const names = ['along', 'across', 'up'];
    setWords(byId('read'), `${this.length(Math.hypot(...d))} apart: ` + parts[pane].map((k, i) => `${this.length(Math.abs(d[i]))} ${names[k]}`).join(', '));
  }

  // first reads the neck at the first point, which is all that a finger can do to
  // read it.
  async first(pane, at) {
    const words = 'And the second point';
    setWords(byId('read'), words);
    const said = await this.said(pane, at);
    if (said && this.on && this.points.length === 1) setWords(byId('read'), `${said}. ${words}`);
  }

  // said reads the neck at a place.
  async said(pane, at) {
    const there = await this.hooks.probe(at[0], pane === 'side' ? null : at[1]);
    return there?.where ? `${there.where}: ${there.thickness}${there.cover ? `, cover ${there.cover}` : ''}` : '';
  }

  length(mm) {
    return this.hooks.unit() === 'in' ? `${(mm / this.hooks.mmPerInch()).toFixed(3)} in` : `${mm.toFixed(2)} mm`;
  }

  // draw shows the points and the line between them, in the picture that they
  // were taken in.
  draw() {
    const layer = byId('ruler');
    layer.replaceChildren();
    layer.toggleAttribute('hidden', !this.points.length || this.hooks.main() !== this.pane);
    if (layer.hasAttribute('hidden')) return;
    const holder = this.holder(this.pane);
    if (layer.parentElement !== holder) holder.append(layer);
    const f = this.hooks.frame(this.pane);
    const dots = this.points.map((p) => (this.pane === 'space' ? this.hooks.project(p) : f.px(parts[this.pane].map((k) => p[k])))).filter(Boolean);
    if (dots.length === 2) layer.append(svg('line', { x1: dots[0][0], y1: dots[0][1], x2: dots[1][0], y2: dots[1][1] }));
    for (const [cx, cy] of dots) layer.append(svg('circle', { cx, cy, r: 4 }));
  }

  // hover reads what is under the pointer when it rests.
  hover(pane, e) {
    clearTimeout(this.timer);
    if (this.on || e.buttons || e.pointerType === 'touch') return;
    const { clientX, clientY, target } = e;
    this.timer = setTimeout(async () => {
      const at = this.at(pane, { clientX, clientY, target });
      if (!at) return this.quiet();
      const said = await this.said(pane, at);
      if (!this.on) setWords(byId('read'), said);
    }, 120);
  }

  quiet() {
    clearTimeout(this.timer);
    if (!this.on) setWords(byId('read'), '');
  }
}
