// The options of jigs: those that `neckloft jigs` has, told by the engine. What is not
// filled in is as usual. They are no part of the spec, and last as long as the page.

import { byId, el, setWords } from './dom.js';

export class JigOptions {
  // changed is called when another value is asked for.
  constructor(changed) {
    this.changed = changed;
    this.asked = {}; // by name, as typed
    this.timer = 0;
    byId('jig-usual').onclick = () => {
      this.asked = {};
      this.list = '';
      this.tell();
      this.changed();
      byId('jig-options').querySelector('summary').focus();
    };
  }

  // request is what a question about jigs says of them.
  request() { return Object.keys(this.asked).length ? { jigs: { ...this.asked } } : {}; }

  // words are those of the command line.
  get words() {
    return Object.entries(this.asked).map(([name, value]) => `--${name} ${/^[\w.,=/-]+$/.test(value) ? value : `'${value}'`}`).join(' ');
  }

  // show has a field for each option, and what is wrong with one of them.
  show(options, fault) {
    const now = JSON.stringify(options);
    if (this.list !== now) {
      this.list = now;
      byId('jig-fields').replaceChildren(...options.map((o) => this.field(o)));
    }
    for (const o of options) {
      const wrong = fault?.option === o.name ? fault.error : '';
      const field = byId(`jig-${o.name}`);
      field.toggleAttribute('aria-invalid', Boolean(wrong));
      if (wrong) field.setAttribute('aria-invalid', 'true');
      setWords(byId(`jig-${o.name}-error`), wrong);
    }
    if (fault) byId('jig-options').open = true;
    this.tell();
  }

  field(o) {
    const id = `jig-${o.name}`;
    const about = { id, 'aria-describedby': `${id}-help ${id}-error` };
    const value = this.asked[o.name] ?? '';
    const field = o.kind === 'choice'
      ? el('select', about, ...o.choices.map((c, i) => el('option', { value: i ? c : '', text: c })))
      : el('input', { ...about, type: 'text', placeholder: o.usual, autocomplete: 'off', spellcheck: 'false', inputmode: o.kind === 'pixels' ? 'numeric' : null });
    field.value = value;
    field.onchange = () => this.take(o.name, field.value);
    if (o.kind !== 'choice') {
      field.oninput = () => {
        clearTimeout(this.timer);
        this.timer = setTimeout(() => this.take(o.name, field.value), 900);
      };
      // Enter would send the form of a dialog.
      field.onkeydown = (e) => { if (e.key === 'Enter') this.take(o.name, field.value); };
    }
    return el('div', {}, el('label', { for: id, text: o.label }), field,
      el('span', { class: 'help', id: `${id}-help`, text: o.help }), el('span', { class: 'error', id: `${id}-error`, role: 'alert' }));
  }

  take(name, text) {
    clearTimeout(this.timer);
    const value = text.trim();
    if ((this.asked[name] ?? '') === value) return;
    if (value) this.asked[name] = value;
    else delete this.asked[name];
    this.tell();
    this.changed();
  }

  // tell says how far the options are as usual.
  tell() {
    const { words } = this;
    setWords(byId('jig-asked'), words || 'as usual');
    byId('jig-usual').hidden = !words;
    for (const id of ['extras-options', 'make-options']) setWords(byId(id), words ? `Jigs are made as neckloft jigs ${words} makes them.` : '');
  }
}
