// The bench: which picture is large, which part of the neck it shows, and that
// what is being shaped is in view.

import { byId, el } from './dom.js';
import { windows } from './along.js';

const names = { whole: 'Whole', head: 'Headstock', neck: 'Neck', heel: 'Heel' };

// where says in which picture a key is seen best, and in which part of it.
const where = [
  [/^depth|^limits|^blank|^fall_away|^scallop|^strings\.(height|relief|fret)/, 'side'],
  [/^volute|^headstock\.(angle|thickness|shelf|step|cove|tip_thickness|face_veneer|back_veneer)|^scarf/, 'side', 'head'],
  [/^heel\.(start|full|total|end|sweep|rake)$|^stack|^joint|^bridge/, 'side', 'heel'],
  [/^rod\.(from|to)$|^channel.*(from|to|angle|pocket)/, 'side'],
  [/^profile|^wall|^rod|^channel|^board\.(thickness|radius|surface)|^binding|^slots/, 'section'],
  [/^headstock|^tuner/, 'top', 'head'],
  [/^heel/, 'top', 'heel'],
  [/^width|^scale|^board|^nut|^spacing|^partial|^marker|^side_dots|^pins|^lamination|^temperament/, 'top'],
];

export class Bench {
  // hooks: redraw(), moveTo(x), held()
  constructor(hooks) {
    this.hooks = hooks;
    this.root = byId('bench-area');
    this.parts = { side: 'whole', top: 'whole' };
    this.printing = false; // on paper all pictures have their numbers
    this.kept = {}; // how the pictures were drawn, for as long as a handle is held
    for (const b of this.root.querySelectorAll('button[data-pane]')) b.onclick = () => this.show(b.dataset.pane);
    byId('stretch').onchange = () => hooks.redraw();
  }

  get main() { return this.root.dataset.main; }
  get stretched() { return byId('stretch').checked; }

  // show makes a picture the large one.
  show(pane, part) {
    const same = this.main === pane && (!part || this.parts[pane] === part);
    if (part) this.parts[pane] = part;
    if (same) return;
    this.root.dataset.main = pane;
    byId('made').hidden = pane !== 'made';
    byId('view').tabIndex = pane === 'space' ? 0 : -1; // small, it is a picture and a button
    for (const b of byId('tabs').querySelectorAll('[data-pane]')) b.setAttribute('aria-pressed', String(b.dataset.pane === pane));
    this.hooks.redraw();
  }

  // follow brings the picture of a key into view.
  follow(path, values) {
    if (!byId('follow').checked) return;
    const [, pane, part] = where.find(([key]) => key.test(path)) ?? [];
    if (!pane) return;
    const known = this.shown ?? {};
    if (pane === 'section') {
      const station = /^(profile\[\d+\]|depth\[\d+\])/.exec(path);
      const at = station && values?.[station[1]]?.mm;
      if (at !== undefined && at !== null) this.hooks.moveTo(at);
    }
    const keep = this.parts[pane] === 'whole' || pane === 'section';
    this.show(pane, part && known[part] ? part : !keep && !part ? 'whole' : undefined);
  }

  // fit works out the parts of a neck, and keeps their buttons.
  fit(e, ghost, heelStart) {
    this.shown = windows(e, ghost, heelStart);
    const list = Object.keys(this.shown).join();
    const box = byId('parts');
    if (box.list !== list) {
      box.list = list;
      box.replaceChildren(...Object.keys(this.shown).map((k) => el('button', { type: 'button', 'data-part': k, text: names[k], onclick: () => this.show(this.main, k) })));
    }
    for (const b of box.children) b.setAttribute('aria-pressed', String(b.dataset.part === this.partOf(this.main)));
  }

  partOf(pane) {
    const part = this.parts[pane] ?? 'whole';
    return this.shown?.[part] ? part : 'whole';
  }

  // how says how a picture along the neck is drawn.
  how(pane) {
    if (this.printing) return { window: this.shown.whole, stretched: true, small: false, box: { width: 760, height: 168 } };
    const large = this.main === pane;
    if (this.hooks.held() && this.kept[pane]) return { ...this.kept[pane], held: true };
    this.kept[pane] = { window: this.shown[large ? this.partOf(pane) : 'whole'], stretched: !large || this.stretched, small: !large };
    return this.kept[pane];
  }
}
