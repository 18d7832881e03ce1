// The controls: one for every key of the spec.

import { withThumb } from './thumb.js';
import { byId, el, halfTyped, idOf, limit, parseLength, parseNumber, plain, svg, unfinished } from './dom.js';

// rests is how long, in ms, a hand that types must rest before what it has typed
// is taken: 4 on the way to 43.5 would be an error.
const rests = 350;

// Groups that are open at first: what a neck is shaped with.
const open = new Set(['depth', 'profile']);

// Lists that every spec has.
const neverEmpty = new Set(['depth', 'profile', 'strings.set']);

// hasWords stand beside the tick of a table that a spec may lack.
function hasWords(g) {
  if (g.table === 'strings') return 'This neck has strings to reckon with';
  if (g.table === 'tools') return 'This spec says which tools there are';
  const whose = g.table.startsWith('tools.') ? 'This shop' : 'This neck';
  return `${whose} has a ${g.title.toLowerCase()}`;
}

export class Controls {
  // hooks: edit(edits, gesture, at), gestureEnd(), takeBack(gesture, path), say(words, kind), more()
  constructor(start, hooks) {
    this.groups = start.groups;
    this.byKey = new Map(start.groups.flatMap((g) => g.controls.map((c) => [g.table ? `${g.table}.${c.key}` : c.key, c])));
    this.shapes = start.shapes;
    this.mmPerInch = start.mmPerInch;
    this.hooks = hooks;
    this.root = byId('controls');
    this.bound = new Map(); // path -> { update(value), control }
    this.typed = new Map(); // path -> sentence about what stands in the field
    this.gesture = 0;
  }

  // show brings the controls up to date with the values of a model.
  show(values, problems) {
    if (values) {
      this.values = values;
      const signature = this.signature(values);
      if (signature !== this.built) {
        this.built = signature;
        this.build();
      } else {
        for (const [path, bound] of this.bound) {
          const now = JSON.stringify(values[path]);
          if (bound.shown === now && !this.fresh) continue;
          bound.shown = now;
          bound.update(values[path]);
        }
      }
      this.fresh = false;
    }
    this.showProblems(problems);
  }

  // anew makes the next show fill in every control, also the one in hand: its
  // value has come from somewhere else.
  anew() {
    this.drop();
    this.fresh = true;
    this.typed.clear();
  }

  // lock keeps hands off while there is no text that could be read.
  lock(locked) {
    if (locked === this.locked) return;
    this.locked = locked;
    if (locked) this.held = this.root.contains(document.activeElement) ? document.activeElement.id : '';
    this.root.inert = locked;
    if (!locked && this.held && document.activeElement === document.body) byId(this.held)?.focus({ preventScroll: true });
  }

  keepOpen() {
    if (this.sought) return; // what a search opens is not kept
    for (const d of this.root.querySelectorAll('details')) (d.open ? open.add(d.dataset.table) : open.delete(d.dataset.table));
  }

  // clear takes every control away: the next neck is another one.
  clear() {
    this.drop();
    this.keepOpen();
    this.values = undefined;
    this.built = undefined;
    this.bound.clear();
    this.typed.clear();
    this.shownProblems = '';
    this.root.replaceChildren();
  }

  // delay does what typing asks for when the hand rests; flush does it at once.
  // What is half typed waits for as long as the field is not left.
  delay(go, ms = rests) {
    this.drop();
    this.delayed = { go, timer: ms < Infinity ? setTimeout(() => this.flush(), ms) : 0 };
    this.hooks.typing();
  }

  flush() {
    const go = this.delayed?.go;
    this.drop();
    go?.();
  }

  drop() {
    clearTimeout(this.delayed?.timer);
    this.delayed = null;
  }

  // refused marks a field that is being typed into, if the program does not take
  // what stands in it; it is taken back when the field is left.
  refused(path, sentence) {
    const field = this.bound.get(path)?.row.querySelector(':scope > .inputs input[type=text]');
    if (!field || document.activeElement !== field) return;
    this.typed.set(path, sentence);
  }

  // again makes the next show fill in every control but the one in hand.
  again() {
    for (const bound of this.bound.values()) bound.shown = undefined;
  }

  // inHand reports whether a hand is on an input, so that it is left alone.
  inHand(input) {
    return !this.fresh && document.activeElement === input && (input.type !== 'range' || input.dataset.held === 'yes' || this.hooks.more());
  }

  counts(values, table) {
    let n = 0;
    while (Object.keys(values).some((k) => k.startsWith(`${table}[${n + 1}]`))) n++;
    return n;
  }

  signature(values) {
    return JSON.stringify(this.groups.map((g) => {
      if (g.list) return this.counts(values, g.table);
      if (g.optional) return values[g.table] === true;
      return values.units;
    }));
  }

  get unit() { return this.values.units; }

  build() {
    const focused = document.activeElement?.id;
    this.keepOpen();
    this.bound.clear();
    this.shownProblems = '';
    this.root.replaceChildren(...this.groups.filter((g) => g.table !== 'strings.set').map((g) => this.group(g)));
    if (this.sought) this.seek(this.sought);
    for (const [path, bound] of this.bound) bound.update(this.values[path]);
    const next = this.next ?? focused;
    this.next = undefined;
    if (next) (byId(next) ?? this.near(next))?.focus({ preventScroll: true });
  }

  // near returns what is closest to an element that is gone: of an entry the
  // same of the one before, or else what its table begins with.
  near(id) {
    const m = /^(.*?-)(\d+)(-.*)$/.exec(id);
    if (!m) return null;
    for (let i = Number(m[2]); i > 0; i--) {
      const there = byId(`${m[1]}${i}${m[3]}`);
      if (there) return there;
    }
    return byId(m[1] + '1--add') ?? null;
  }

  group(g) {
    const there = !g.optional || this.values[g.table] === true;
    const help = el('p', { class: 'help', id: idOf('help-' + g.table), text: g.help, hidden: true });
    const body = el('div', { class: 'group-body' }, this.asking(help, g.title), help, this.slot(g.table));
    if (g.optional) {
      const id = idOf('has-' + g.table);
      body.append(el('p', { class: 'toggle' },
        el('input', {
          type: 'checkbox', id, checked: there,
          onchange: (e) => this.once([{ op: e.target.checked ? 'add' : 'remove', path: g.table }]),
        }),
        el('label', { for: id, text: hasWords(g) })));
    }
    if (there && g.list) body.append(...this.entries(g));
    else if (there) {
      body.append(...g.controls.map((c) => this.control(g.table ? `${g.table}.${c.key}` : c.key, c)));
      if (g.table === 'strings') body.append(this.slot('strings.set'), ...this.entries(this.groups.find((x) => x.table === 'strings.set')));
    }
    const mark = el('span', { class: 'mark', hidden: true });
    return el('details', { 'data-table': g.table, open: open.has(g.table) },
      el('summary', {}, el('span', { text: g.title }), there ? null : el('span', { class: 'none', text: 'none' }), mark), body);
  }

  // asking is the button that shows a sentence of help.
  asking(help, about) {
    return el('button', {
      type: 'button', class: 'ask', text: '?', 'aria-expanded': 'false', 'aria-controls': help.id, 'aria-label': `What is ${about}?`,
      onclick: (e) => {
        help.hidden = !help.hidden;
        e.currentTarget.setAttribute('aria-expanded', String(!help.hidden));
      },
    });
  }

  // seek shows only the controls that have all of some words in label, key or
  // help, and returns how many there are. Tables that the neck lacks count too.
  seek(text) {
    const words = text.toLowerCase().split(/\s+/).filter(Boolean);
    const before = this.sought;
    if (words.length && !before) this.keepOpen();
    this.sought = words.length ? text : '';
    let found = 0;
    for (const d of this.root.querySelectorAll('details')) {
      const g = this.groups.find((x) => x.table === d.dataset.table);
      const of = [g, ...(g.table === 'strings' ? this.groups.filter((x) => x.table === 'strings.set') : [])];
      const has = (c, x) => {
        const all = `${x.table}.${c.key} ${x.title} ${c.label} ${c.help} ${c.key.replaceAll('_', ' ')}`.toLowerCase();
        return words.every((w) => all.includes(w));
      };
      const keys = of.flatMap((x) => x.controls.filter((c) => has(c, x)).map((c) => (x.table ? `${x.table}.${c.key}` : c.key)));
      found += keys.length;
      for (const row of d.querySelectorAll('.control')) {
        const plainPath = row.dataset.path.replace(/\[\d+\]/g, '');
        row.hidden = words.length > 0 && !keys.includes(plainPath) && !keys.includes(plainPath + '.');
      }
      for (const f of d.querySelectorAll('fieldset')) f.hidden = words.length > 0 && ![...f.querySelectorAll('.control')].some((r) => !r.hidden);
      d.hidden = words.length > 0 && !keys.length;
      if (words.length) d.open = keys.length > 0;
      else if (before) d.open = open.has(d.dataset.table);
    }
    return found;
  }

  // slot is where sentences about a table stand.
  slot(path) {
    return el('div', { class: 'sentences', 'data-for': path });
  }

  entries(g) {
    const n = this.counts(this.values, g.table);
    const out = [];
    for (let i = 1; i <= n; i++) {
      const at = `${g.table}[${i}]`;
      const buttons = el('p', { class: 'entry-buttons' },
        el('button', { type: 'button', id: idOf(at) + '-add', text: 'Add one after it', onclick: () => this.insert(g.table, i + 1) }),
        n > 1 || !neverEmpty.has(g.table) ? el('button', { type: 'button', id: idOf(at) + '-remove', text: 'Remove', 'aria-label': `Remove ${g.item.toLowerCase()} ${i}`, onclick: () => this.once([{ op: 'remove', path: at }]) }) : null);
      out.push(el('fieldset', {}, el('legend', { text: `${g.item} ${i}` }), this.slot(at),
        ...g.controls.map((c) => this.control(c.key ? `${at}.${c.key}` : at, c)), buttons));
    }
    if (g.table !== 'strings.set') {
      out.unshift(el('p', { class: 'entry-buttons' }, el('button', {
        type: 'button', text: n ? 'Add one before the first' : 'Add one', onclick: () => this.insert(g.table, 1),
      })));
    }
    return out;
  }

  control(path, c) {
    switch (c.kind) {
      case 'length': case 'number': case 'whole': case 'angle': return this.numeric(path, c);
      case 'place': return this.place(path, c);
      case 'shape': return this.shapeButtons(path, c);
      default: return this.words(path, c);
    }
  }

  // insert adds an entry, and goes to it when it is there.
  insert(table, index) {
    this.next = `${idOf(`${table}[${index}]`)}-add`;
    this.once([{ op: 'insert', path: table, index }]);
  }

  // once sends an edit that is a whole gesture.
  once(edits) {
    this.hooks.edit(edits, ++this.gesture, performance.now());
    this.hooks.gestureEnd();
  }

  scaleOf(c) { return (c.kind === 'length' || c.kind === 'place') && this.unit === 'in' ? 1 / this.mmPerInch : 1; }

  unitOf(c) {
    if (c.kind === 'length') return this.unit;
    if (c.kind === 'angle') return '°';
    return c.unit ?? '';
  }

  stepOf(c) {
    if (this.scaleOf(c) === 1) return c.step;
    return c.step < 0.05 ? 0.0005 : c.step < 0.2 ? 0.005 : 0.02;
  }

  limits(c) {
    const k = this.scaleOf(c);
    const show = (v) => plain(parseFloat((v * k).toFixed(k === 1 ? 3 : 4)));
    const unit = this.unitOf(c);
    let text = `${show(c.min)} to ${show(c.max)}${unit === '°' ? '°' : unit ? ' ' + unit : ''}`;
    if (c.zero) text += `, or 0: ${c.zero}`;
    if (c.optional) text += '; may be left empty';
    return text;
  }

  // nameOf says which control this is among all of the page.
  nameOf(path, c) {
    const entry = /^(.*)\[(\d+)\]/.exec(path);
    const table = entry ? entry[1] : path.slice(0, Math.max(0, path.lastIndexOf('.')));
    const g = this.groups.find((x) => x.table === table);
    if (!g) return c.label;
    return `${g.title}${entry ? `, ${g.item.toLowerCase()} ${entry[2]}` : ''}: ${c.label}`;
  }

  numeric(path, c) {
    const id = idOf(path);
    const k = this.scaleOf(c);
    const step = this.stepOf(c);
    const allowed = [c.zero ? 0 : c.min * k, c.max * k];
    const slider = el('input', { type: 'range', id: id + '-slider', step, 'aria-label': `${this.nameOf(path, c)}, slider` });
    const field = el('input', { type: 'text', inputmode: 'decimal', id, autocomplete: 'off', 'aria-describedby': `${id}-help ${id}-error` });
    const row = this.frame(path, c, id, [slider, el('span', { class: 'with-unit' }, field, el('span', { class: 'unit', text: this.unitOf(c) }))]);
    const op = path.startsWith('profile[') && (c.key === 'bass' || c.key === 'treble') ? 'side' : 'set';
    const send = (v, event) => this.hooks.edit([{ op, path, value: v }], this.gesture, event.timeStamp || performance.now());
    this.sliding(slider, (event) => {
      const v = valueOf(slider);
      field.value = plain(v);
      this.typed.delete(path);
      send(v, event);
    });
    this.typing(field, path, c, step, c.kind === 'length' ? this.readLength : parseNumber, (v, event) => {
      fit(slider, v, c.from * k, c.to * k, step, ...allowed);
      send(v, event);
    }, c.optional ? () => this.hooks.edit([{ op: 'remove', path }], this.gesture, performance.now()) : null, () => this.values[path]);
    this.bound.set(path, {
      row,
      update: (v) => {
        if (!this.inHand(field)) {
          field.value = plain(v);
          this.typed.delete(path);
        }
        if (!this.inHand(slider)) {
          fit(slider, v ?? c.from * k, c.from * k, c.to * k, step, ...allowed);
        }
        slider.setAttribute('aria-valuetext', `${plain(v)} ${this.unitOf(c)}`);
      },
    });
    return row;
  }

  // sliding makes everything between pressing and letting go one gesture.
  sliding(slider, move) {
    withThumb(slider);
    slider.addEventListener('input', (event) => {
      if (slider.dataset.held !== 'yes') {
        slider.dataset.held = 'yes';
        this.gesture++;
      }
      move(event);
    });
    slider.addEventListener('change', () => {
      this.hooks.gestureEnd();
      slider.dataset.held = 'no';
    });
  }

  readLength = (text) => parseLength(text, this.unit, this.mmPerInch);

  // typing follows a field as it is typed into; the arrow keys step. What is no
  // number when the field is left is taken back, with all that it has come by:
  // the neck is as it was before.
  typing(field, path, c, step, read, change, clear, value) {
    let active = false;
    const begin = () => {
      if (!active) {
        active = true;
        this.gesture++;
      }
    };
    field.addEventListener('input', (event) => {
      begin();
      this.delay(() => take(event), halfTyped(field.value) ? Infinity : tooLittle(read(field.value)) ? 4 * rests : rests);
    });
    // What is too little may be the beginning of more.
    const tooLittle = (v) => c.kind !== 'place' && v < c.min * this.scaleOf(c) && !(c.zero && v === 0);
    const take = (event) => {
      if (field.value.trim() === '' && clear) {
        this.typed.delete(path);
        if (value() !== undefined) clear();
        return;
      }
      const v = read(field.value);
      if (Number.isNaN(v)) {
        this.typed.set(path, unfinished(field.value) ? '' : `“${field.value}” is not a number. Write it as 12.5, 12,5 or 12 1/2.`);
        this.showProblems(this.problems);
        return;
      }
      this.typed.delete(path);
      change(v, event);
    };
    field.addEventListener('keydown', (event) => {
      if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return;
      const v = read(field.value);
      if (Number.isNaN(v)) return;
      event.preventDefault();
      this.drop();
      begin();
      const next = parseFloat((v + (event.key === 'ArrowUp' ? step : -step) * (event.shiftKey ? 10 : 1)).toFixed(6));
      field.value = plain(next);
      change(next, event);
    });
    const end = () => {
      this.flush();
      const wrong = this.typed.get(path);
      if (this.typed.delete(path)) {
        const typed = field.value.trim() ? `“${field.value}”` : 'An empty field';
        this.hooks.say(`${wrong === '' || wrong.startsWith('“') ? `${typed} is not a number` : wrong}: ${c.label} is as it was before.`, 'error');
        this.hooks.takeBack(active ? this.gesture : -1, path);
        this.showProblems(this.problems);
      } else if (active) this.hooks.gestureEnd();
      active = false;
    };
    field.addEventListener('change', end);
    field.addEventListener('blur', () => {
      end();
      if (!this.hooks.more()) this.bound.get(path)?.update(this.values[path]);
    });
  }

  // place is a fret or a distance from the nut.
  place(path, c) {
    const id = idOf(path);
    const by = el('select', { id: id + '-by', 'aria-label': `${this.nameOf(path, c)}, given as` },
      el('option', { value: 'fret', text: 'fret' }), el('option', { value: 'x', text: `x, ${this.unit}` }));
    const slider = el('input', { type: 'range', id: id + '-slider', 'aria-label': `${this.nameOf(path, c)}, slider` });
    const field = el('input', { type: 'text', inputmode: 'decimal', id, autocomplete: 'off', 'aria-describedby': `${id}-help ${id}-error` });
    const row = this.frame(path, c, id, [slider, el('span', { class: 'with-unit' }, by, field)], path.startsWith('rod') || path.startsWith('volute') ? 'x counts from the nut; before it, less than 0' : '');
    const stepFor = () => (by.value === 'fret' ? 0.25 : this.unit === 'in' ? 0.02 : 0.5);
    const k = this.unit === 'in' ? 1 / this.mmPerInch : 1;
    const span = (v) => {
      const frets = this.values['scale.frets'] || 24;
      const length = this.values['scale.length'] ?? 650;
      if (by.value === 'fret') return fit(slider, v, 0, frets, 0.25);
      return fit(slider, v, -0.3 * length, 0.8 * length, stepFor());
    };
    const send = (v, event) => this.hooks.edit([{ op: 'place', path, by: by.value, value: v }], this.gesture, event.timeStamp || performance.now());
    this.sliding(slider, (event) => {
      field.value = plain(valueOf(slider));
      this.typed.delete(path);
      send(valueOf(slider), event);
    });
    this.typing(field, path, c, c.kind === 'place' ? 0.5 * k : 1, (t) => (by.value === 'x' ? this.readLength(t) : parseNumber(t)), (v, event) => {
      span(v);
      send(v, event);
    }, c.optional ? () => this.hooks.edit([{ op: 'remove', path }], this.gesture, performance.now()) : null, () => this.values[path]);
    by.addEventListener('change', () => {
      const v = this.values[path];
      const value = by.value === 'fret' ? v?.fret : v?.x;
      if (value === undefined || value === null) {
        if (v) by.value = v.by;
        return;
      }
      const grain = by.value === 'fret' ? 1e3 : this.unit === 'in' ? 1e4 : 1e3;
      this.once([{ op: 'place', path, by: by.value, value: Math.round(value * grain) / grain }]);
    });
    this.bound.set(path, {
      row,
      update: (v) => {
        if (!this.inHand(by) && v) by.value = v.by;
        const value = v ? (v.by === 'fret' ? v.fret : v.x) : undefined;
        if (!this.inHand(field)) {
          field.value = plain(value);
          this.typed.delete(path);
        }
        if (!this.inHand(slider)) span(value ?? 0);
      },
    });
    return row;
  }

  shapeButtons(path, c) {
    const at = path.slice(0, -'.shape'.length);
    const buttons = this.shapes.map((s) => {
      const ys = s.outline.map((p) => p[0]);
      const zs = s.outline.map((p) => p[1]);
      const [w, h] = [Math.max(...ys), Math.min(...zs)];
      const d = s.outline.map(([y, z], i) => `${i ? 'L' : 'M'}${y.toFixed(1)} ${(-z).toFixed(1)}`).join('') + 'Z';
      return el('button', {
        type: 'button', class: 'shape', 'data-shape': s.name, 'aria-pressed': 'false', title: `Fullness ${s.fullness}`,
        onclick: () => this.once([{ op: 'shape', path: at, text: s.name }]),
      }, svg('svg', { viewBox: `${-w - 2} -2 ${2 * w + 4} ${-h + 4}`, 'aria-hidden': 'true' }, svg('path', { d })), el('span', { text: s.name }));
    });
    const row = this.frame(path, c, null, [el('div', { class: 'shapes', role: 'group', 'aria-label': c.label }, ...buttons)]);
    this.bound.set(path, {
      row,
      update: (v) => buttons.forEach((b) => b.setAttribute('aria-pressed', String(b.dataset.shape === v))),
    });
    return row;
  }

  // words is a text or a choice.
  words(path, c) {
    const id = idOf(path);
    const describe = { id, 'aria-describedby': `${id}-help ${id}-error` };
    let input;
    if (c.kind === 'text') {
      input = el('input', { type: 'text', autocomplete: 'off', spellcheck: 'false', maxlength: 100, ...describe });
      let active = false;
      input.addEventListener('input', () => {
        if (!active) this.gesture++;
        active = true;
        const empty = input.value.trim() === '' && c.optional;
        if (empty && this.values[path] === undefined) return;
        this.hooks.edit([empty ? { op: 'remove', path } : { op: 'set', path, text: input.value }], this.gesture, performance.now());
      });
      input.addEventListener('change', () => {
        active = false;
        this.hooks.gestureEnd();
      });
    } else {
      input = el('select', describe, c.optional ? el('option', { value: '', text: 'not given' }) : null, ...c.choices.map((v) => el('option', { value: v, text: v })));
      input.addEventListener('change', () => {
        if (c.kind === 'units') this.once([{ op: 'units', path, text: input.value }]);
        else if (input.value === '') this.values[path] !== undefined && this.once([{ op: 'remove', path }]);
        else this.once([{ op: 'set', path, text: input.value }]);
      });
    }
    const row = this.frame(path, c, id, [input]);
    this.bound.set(path, {
      row,
      update: (v) => {
        if (c.kind === 'text' && this.inHand(input)) return;
        if (c.kind !== 'text' && v && ![...input.options].some((o) => o.value === v)) input.append(el('option', { value: v, text: v }));
        input.value = v ?? '';
      },
    });
    return row;
  }

  // frame is what every control has around it.
  frame(path, c, id, inputs, limits) {
    const numeric = ['length', 'number', 'whole', 'angle'].includes(c.kind);
    const help = el('p', { class: 'help', id: `${id ?? idOf(path)}-help`, hidden: true }, c.help + ' ', el('span', { class: 'limits', text: limits ?? (numeric ? this.limits(c) : '') }));
    return el('div', { class: `control ${c.kind}`, 'data-path': path },
      id ? el('label', { for: id, text: c.label }) : el('span', { class: 'label', text: c.label }),
      el('div', { class: 'inputs' }, ...inputs),
      this.asking(help, c.label), help,
      el('div', { class: 'sentences', id: `${id ?? idOf(path)}-error` }));
  }

  // about returns what a handle must know of its key: value, limits, step, unit
  // and name.
  about({ path, by }) {
    const c = this.byKey.get(path.replace(/\[\d+\]/, ''));
    if (!c || !this.values) return null;
    const name = this.nameOf(path, c);
    if (by) {
      const v = this.values[path];
      if (v?.by !== by) return null;
      const inch = this.unit === 'in';
      const k = this.scaleOf(c);
      const step = by === 'fret' ? 0.25 : inch ? 1 / 32 : 0.5;
      return by === 'fret'
        ? { value: v.fret, step, fine: step, min: 0, max: 60, unit: '', label: 'fret', name: `${name}, fret` }
        : { value: v.x, step, fine: step, min: c.min * k, max: c.max * k, unit: this.unit, label: 'x', name };
    }
    const k = this.scaleOf(c);
    const inward = (v, round) => round(v * k * 1e4 - 1e-6 * (round === Math.ceil ? 1 : -1)) / 1e4;
    const inch = k !== 1;
    const [step, fine] = c.kind === 'length' ? (inch ? [1 / 64, 1 / 64] : [0.1, 0.1]) : c.kind === 'angle' ? [0.1, 0.1] : [0.05, 0.01];
    return { value: this.values[path], step, fine, min: inward(c.min, Math.ceil), max: inward(c.max, Math.floor), unit: this.unitOf(c), label: c.label, name };
  }

  // home returns the row or the table's slot that a problem's key belongs to.
  home(key) {
    for (let k = key; k; k = k.replace(/(^|\.)[^.[\]]+$|\[\d+\]$/, '')) {
      const bound = this.bound.get(k);
      if (bound) return bound.row;
      const slot = this.root.querySelector(`.sentences[data-for="${CSS.escape(k)}"]`);
      if (slot) return slot.parentElement;
    }
    return null;
  }

  showProblems(problems) {
    this.problems = problems;
    const now = JSON.stringify([problems, [...this.typed]]);
    if (now === this.shownProblems) return;
    this.shownProblems = now;
    for (const box of this.root.querySelectorAll('.sentences')) box.replaceChildren();
    for (const field of this.root.querySelectorAll('[aria-invalid]')) field.removeAttribute('aria-invalid');
    for (const mark of this.root.querySelectorAll('.mark')) mark.hidden = true;
    const all = [...problems];
    for (const [path, sentence] of this.typed) if (sentence) all.push({ key: path, message: sentence, warning: false });
    for (const p of all) {
      const row = this.home(p.key);
      if (!row) continue;
      const box = row.querySelector(':scope > .sentences');
      // The list of problems says its own aloud.
      box.append(el('p', { class: p.warning ? 'warning' : 'error', role: this.typed.get(p.key) === p.message ? 'alert' : null, text: (p.warning ? 'Look at this: ' : '') + p.message }));
      if (!p.warning) row.querySelector(':scope > .inputs input[type=text], :scope > .inputs select')?.setAttribute('aria-invalid', 'true');
      const mark = row.closest('details')?.querySelector('.mark');
      if (mark && (mark.hidden || !p.warning)) {
        mark.hidden = false;
        mark.className = 'mark ' + (p.warning ? 'warning' : 'error');
        mark.textContent = p.warning ? 'look' : 'wrong';
      }
    }
  }

  // reveal opens the table that a key belongs to and goes there.
  reveal(key) {
    this.hooks.found?.();
    const row = this.home(key);
    if (!row) return;
    row.closest('details').open = true;
    row.scrollIntoView({ block: 'center' });
    (row.querySelector('input[type=text], select, button') ?? row.closest('details').querySelector('summary')).focus({ preventScroll: true });
  }
}

// fit sets a slider so that it reaches over its span and holds the value, and no
// more than is allowed. Its stops lie on the grid of its step.
function fit(slider, v, from, to, step, least = from, most = to) {
  const grid = (x, round, slip) => parseFloat((round(x / step + slip) * step).toFixed(6));
  const up = (x) => grid(x, Math.ceil, -1e-9);
  const down = (x) => grid(x, Math.floor, 1e-9);
  limit(slider, 'step', step);
  limit(slider, 'min', v < from ? Math.max(down(v), Math.min(up(least), up(v))) : up(from));
  limit(slider, 'max', v > to ? Math.min(up(v), Math.max(down(most), down(v))) : down(to));
  slider.value = v; // shown on the grid; the field beside it has the value itself
  // What its ends mean: the limits themselves, which need not be on the grid.
  const digits = step < 0.05 ? 4 : 3;
  const inward = (x, round, slip) => parseFloat((round(x * 10 ** digits + slip) / 10 ** digits).toFixed(digits));
  slider.ends = {
    low: v < from ? parseFloat(slider.min) : inward(from, Math.ceil, -1e-6),
    high: v > to ? parseFloat(slider.max) : inward(to, Math.floor, 1e-6),
  };
}

// valueOf returns what a slider stands for.
function valueOf(slider) {
  if (slider.value === slider.min) return slider.ends.low;
  if (slider.value === slider.max) return slider.ends.high;
  return parseFloat(slider.value);
}
