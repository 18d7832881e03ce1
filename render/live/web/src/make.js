// The choice of files to make for the bench, and what is printed.

import { byId, el, setWords, waits } from './dom.js';
import { jig } from './extra.js';

export class Make {
  // hooks: bytes(body), ready(), stem(), handOut(blob, name), words(), extra
  constructor(hooks) {
    this.hooks = hooks;
    this.left = new Set(); // names of make's files that are not wanted
    this.more = new Set(); // names of others that are
    byId('make-all').onclick = () => this.tick(true);
    byId('make-none').onclick = () => this.tick(false);
    byId('make-go').onclick = () => this.go();
  }

  open(products, text) {
    setWords(byId('make-words'), this.hooks.words() || 'From the spec as it is on this page, the same as neckloft make writes.');
    setWords(byId('make-state'), '');
    byId('make-list').replaceChildren(...products.map((p) => this.row(p, !this.left.has(p.name), (on) => (on ? this.left.delete(p.name) : this.left.add(p.name)))));
    byId('make').showModal();
    this.others(text);
  }

  // row is a file to choose.
  row(p, on, take) {
    const id = 'make-' + p.name;
    const pdf = /\.pdf$/.test(p.name) && !p.missing;
    const box = el('input', { type: 'checkbox', id, 'data-name': p.name, disabled: Boolean(p.missing), onchange: (e) => take(e.target.checked) });
    box.checked = on && !p.missing;
    box.take = take;
    return el('li', {}, box,
      el('label', { for: id, text: p.label ?? p.name }),
      el('span', {}, p.missing ? el('strong', { text: 'Not made: ' }) : p.refused ? el('strong', { text: 'Refused, do not cut by it: ' }) : null, p.missing || p.what),
      pdf ? el('button', { type: 'button', text: 'Print …', 'aria-label': `Print ${p.name}`, onclick: (e) => this.print(p.name, e.currentTarget) }) : null);
  }

  // others adds what make does not write, which is not chosen at first.
  async others(text) {
    const list = byId('make-list');
    const heading = el('li', { class: 'heading-line' }, el('strong', { text: 'Jigs and the mill' }), el('span', { text: 'Working them out …' }));
    list.append(heading);
    let all = [];
    try {
      all = await this.hooks.extra.names(text);
      setWords(heading.lastChild, 'Not among the files of make; a jig comes as a folder of its solids, sheet and picture.');
    } catch (error) {
      setWords(heading.lastChild, error.message);
    }
    if (heading.parentElement !== list) return; // opened anew
    heading.after(...all.map((p) => this.row(p, this.more.has(p.name), (on) => (on ? this.more.add(p.name) : this.more.delete(p.name)))));
  }

  boxes() { return [...byId('make-list').querySelectorAll('input')]; }

  // tick chooses all that make writes, or nothing at all.
  tick(on) {
    for (const box of this.boxes()) {
      if (box.disabled || (on && box.closest('.heading-line ~ li'))) continue;
      box.checked = on;
      box.take(on);
    }
  }

  async work(button, fn) {
    setWords(byId('make-state'), 'Working …');
    await waits(button, async () => {
      try {
        setWords(byId('make-state'), await fn());
      } catch (error) {
        setWords(byId('make-state'), error.message);
      }
    });
  }

  go() {
    const chosen = this.boxes().filter((b) => b.checked).map((b) => b.dataset.name);
    return this.work(byId('make-go'), async () => {
      if (!chosen.length) return 'Nothing is chosen.';
      const text = await this.hooks.ready();
      const one = chosen.length === 1 && !jig(chosen[0]);
      const data = await this.hooks.bytes({ name: one ? chosen[0] : 'all.zip', text, only: one ? [] : chosen });
      const name = one ? chosen[0] : `${this.hooks.stem()}.zip`;
      this.hooks.handOut(new Blob([data]), name);
      const jigs = chosen.filter(jig).length;
      const parts = [chosen.length - jigs && counted(chosen.length - jigs, 'file'), jigs && counted(jigs, 'jig')].filter(Boolean).join(' and ');
      return `${name} is made${one ? '' : `, with ${parts}`}.`;
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

const counted = (n, one) => `${n} ${one}${n === 1 ? '' : 's'}`;
