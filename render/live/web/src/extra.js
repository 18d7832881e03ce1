// What make does not write by itself: jigs, and the set-up on a mill. It is asked
// for when it is looked at, since it takes longer than all the rest.

import { byId, el, setWords } from './dom.js';

export class Extra {
  // hooks: ask(path, body), text(), options, download(name, button, only, file)
  constructor(hooks) {
    this.hooks = hooks;
    this.asked = { key: null, answer: null };
    byId('make-part').addEventListener('toggle', () => this.list());
  }

  // of returns what there is of a text, with the options of jigs as they are:
  // { jigs, leftOut, others, products, pictures, options, fault }.
  of(text) {
    const body = { text, ...this.hooks.options.request() };
    const key = JSON.stringify(body);
    if (this.asked.key !== key) {
      const answer = this.hooks.ask('extra', body);
      this.asked = { key, answer };
      answer.catch(() => { if (this.asked.answer === answer) this.asked = { key: null, answer: null }; });
    }
    return this.asked.answer;
  }

  // names are what a choice of files may have beside those of make: { name, label,
  // what, missing }.
  async names(text) {
    const { jigs, products, fault } = await this.of(text);
    return [
      ...(fault ? [{ name: 'jigs/', label: 'Jigs', missing: `${fault.option}: ${fault.error}. It is among the options under Made, Jigs.` }] : []),
      ...jigs.map((j) => ({ name: j.name, label: j.title, what: sentence(j) })),
      ...products.map((p) => ({ ...p, label: p.name })),
    ];
  }

  // list shows them at the foot of the page, if that can be seen.
  async list() {
    const box = byId('extras');
    const text = this.hooks.text();
    const key = JSON.stringify([text, this.hooks.options.asked]);
    if (!byId('make-part').open || box.key === key) return;
    box.key = key;
    setWords(byId('extras-state'), box.children.length ? '' : 'Working out the jigs …');
    try {
      const all = await this.names(text);
      if (box.key !== key) return;
      box.replaceChildren(...all.map((p) => el('li', {},
        el('button', {
          type: 'button', 'data-name': p.name, disabled: Boolean(p.missing), text: p.label,
          onclick: (e) => (jig(p.name) ? this.hooks.download('all.zip', e.currentTarget, [p.name], `${p.label}.zip`) : this.hooks.download(p.name, e.currentTarget)),
        }),
        el('span', {}, p.missing ? el('strong', { text: 'Not made: ' }) : null, p.missing || p.what))));
      setWords(byId('extras-state'), '');
    } catch (error) {
      if (box.key !== key) return;
      box.key = '';
      box.replaceChildren();
      setWords(byId('extras-state'), error.message);
    }
  }
}

// jig reports whether a name is that of a jig, which has several files.
export const jig = (name) => name.startsWith('jigs/');

// sentence says what a jig is, and what in the spec asks for it.
const sentence = (j) => `${j.what[0].toUpperCase()}${j.what.slice(1)}${j.cause ? `; for ${j.cause}` : ''}.`;

// words are those that stand on a jig's picture on paper.
export function words(j, download) {
  return [
    el('h3', { text: j.title }),
    el('p', { text: sentence(j) + (j.cause ? '' : ' Nothing in the spec asks for it.') }),
    el('ol', {}, ...j.use.map((u) => el('li', { text: u }))),
    el('p', { text: j.gaps }),
    el('p', { class: 'never', text: j.never }),
    j.seen ? el('p', { class: 'help', text: j.seen }) : null,
    el('p', {}, el('button', { type: 'button', text: 'Make its files', 'aria-label': `Make its files: ${j.title}`, onclick: (e) => download('all.zip', e.currentTarget, [j.name], `${j.title}.zip`) })),
  ].filter(Boolean);
}
