// The choice of files to make for the bench, and what is printed.

import { byId, el, setWords } from './dom.js';

export class Make {
  // hooks: bytes(body), ready(), stem(), handOut(blob, name), words()
  constructor(hooks) {
    this.hooks = hooks;
    this.left = new Set(); // names of files that are not wanted
    byId('make-all').onclick = () => this.tick(true);
    byId('make-none').onclick = () => this.tick(false);
    byId('make-go').onclick = () => this.go();
  }

  open(products) {
    setWords(byId('make-words'), this.hooks.words() || 'From the spec as it is on this page, the same as neckloft make writes.');
    setWords(byId('make-state'), '');
    byId('make-list').replaceChildren(...products.map((p) => {
      const id = 'make-' + p.name;
      const pdf = /\.pdf$/.test(p.name) && !p.missing;
      return el('li', {},
        el('input', { type: 'checkbox', id, 'data-name': p.name, disabled: Boolean(p.missing), onchange: (e) => (e.target.checked ? this.left.delete(p.name) : this.left.add(p.name)) }),
        el('label', { for: id, text: p.name }),
        el('span', {}, p.missing ? el('strong', { text: 'Not made: ' }) : p.refused ? el('strong', { text: 'Refused, do not cut by it: ' }) : null, p.missing || p.what),
        pdf ? el('button', { type: 'button', text: 'Print …', 'aria-label': `Print ${p.name}`, onclick: (e) => this.print(p.name, e.currentTarget) }) : null);
    }));
    for (const box of this.boxes()) box.checked = !box.disabled && !this.left.has(box.dataset.name);
    byId('make').showModal();
  }

  boxes() { return [...byId('make-list').querySelectorAll('input')]; }

  tick(on) {
    for (const box of this.boxes()) {
      if (box.disabled) continue;
      box.checked = on;
      if (on) this.left.delete(box.dataset.name);
      else this.left.add(box.dataset.name);
    }
  }

  async work(button, fn) {
    button.disabled = true;
    setWords(byId('make-state'), 'Working …');
    try {
      setWords(byId('make-state'), await fn());
    } catch (error) {
      setWords(byId('make-state'), error.message);
    }
    button.disabled = false;
  }

  go() {
    const chosen = this.boxes().filter((b) => b.checked).map((b) => b.dataset.name);
    return this.work(byId('make-go'), async () => {
      if (!chosen.length) return 'Nothing is chosen.';
      const text = await this.hooks.ready();
      const one = chosen.length === 1;
      const data = await this.hooks.bytes({ name: one ? chosen[0] : 'all.zip', text, only: one ? [] : chosen });
      const name = one ? chosen[0] : `${this.hooks.stem()}.zip`;
      this.hooks.handOut(new Blob([data]), name);
      return `${name} is made${one ? '' : `, with ${chosen.length} files`}.`;
    });
  }

  // print opens a file in the browser's own viewer, which prints it at full size.
  print(name, button) {
    return this.work(button, async () => {
      const text = await this.hooks.ready();
      const data = await this.hooks.bytes({ name, text });
      const url = URL.createObjectURL(new Blob([data], { type: 'application/pdf' }));
      setTimeout(() => URL.revokeObjectURL(url), 300000);
      el('a', { href: url, target: '_blank', rel: 'noopener' }).click();
      return `${name} is open in another tab. Print it at 100 % and measure the bars.`;
    });
  }
}
