// Pictures of what will be made: plan, gauges on their bed, sheets, board, jigs,
// the set-up on a mill. The one that is looked at is drawn anew when the hand rests.

import { byId, el, setWords } from './dom.js';
import { words } from './extra.js';

// extras are the tabs of what make does not write by itself.
const extras = [{ name: 'jigs', title: 'Jigs' }, { name: 'mill', title: 'Mill' }];

// press presses the button of a name, and brings it into a row that scrolls.
function press(row, name) {
  for (const b of row.children) {
    const on = b.dataset.name === name;
    if (b.getAttribute('aria-pressed') === String(on)) continue;
    b.setAttribute('aria-pressed', String(on));
    if (on) b.scrollIntoView({ block: 'nearest', inline: 'center' });
  }
}

export class Made {
  // hooks: askBytes(path, body, signal), text(), shown(), extra, options, download(name, button, only, file)
  constructor(hooks) {
    this.hooks = hooks;
    this.list = [];
    this.name = 'plan-1';
    this.jig = '';
    this.drawn = ''; // which picture of which text is shown
    byId('made-image').onclick = (e) => e.target.classList.toggle('real');
  }

  // offer takes what pictures there are of a neck at rest.
  offer(list) {
    const now = JSON.stringify(list);
    if (now !== this.offered) {
      this.offered = now;
      this.list = list;
      const all = [...list, ...extras];
      if (!all.some((p) => p.name === this.name)) this.name = list[0]?.name ?? '';
      byId('made-names').replaceChildren(...all.map((p) => el('button', {
        type: 'button', 'data-name': p.name, text: p.title,
        onclick: () => {
          this.name = p.name;
          this.renew();
        },
      })));
    }
    this.renew();
  }

  // renew draws the picture, if it is looked at and another one.
  async renew() {
    press(byId('made-names'), this.name);
    if (!this.hooks.shown()) return;
    const text = this.hooks.text();
    const { options } = this.hooks;
    const keyOf = () => JSON.stringify([this.name, this.jig, text, this.name === 'jigs' ? options.asked : {}]);
    const key = keyOf();
    if (!this.list.length || key === this.asked) return;
    this.abort?.abort();
    if (key === this.drawn) { // back to what is shown
      this.abort = null;
      setWords(byId('made-state'), '');
      byId('made-image').classList.remove('old');
      if (this.there) this.hooks.options.show(this.there.options, this.there.fault);
      return;
    }
    const abort = new AbortController();
    this.abort = abort;
    this.asked = key;
    setWords(byId('made-state'), 'Drawing …');
    try {
      const p = await this.picture(text);
      if (this.abort !== abort) return;
      const data = await this.hooks.askBytes('picture', { name: p.name, text, ...(p.jig ? options.request() : {}) }, abort.signal);
      if (this.abort !== abort) return;
      await this.put(p, data);
      this.drawn = keyOf();
      setWords(byId('made-state'), '');
    } catch (error) {
      if (error.name === 'AbortError' || this.abort !== abort) return;
      setWords(byId('made-state'), error.message);
    } finally {
      if (this.asked === key) this.asked = '';
    }
  }

  // picture returns what is to be drawn: { name, title, type }, and of a jig the jig.
  async picture(text) {
    const of = this.list.find((x) => x.name === this.name);
    if (of) return of;
    const there = await this.hooks.extra.of(text);
    if (this.name === 'mill') {
      const mill = there.pictures.find((x) => x.name === 'mill');
      if (!mill) throw new Error(there.products.find((x) => x.missing)?.missing ?? 'There is no set-up of this neck.');
      return mill;
    }
    this.hooks.options.show(there.options, there.fault);
    if (!there.fault) this.there = there;
    if (there.fault) {
      // It is said at the option, and the picture is of another one.
      this.dress(true);
      byId('made-image').classList.add('old');
      throw new Error('');
    }
    if (!there.jigs.length) throw new Error('This neck has no jigs.');
    const chosen = there.jigs.find((j) => j.name === this.jig) ?? there.jigs.find((j) => j.cause) ?? there.jigs[0];
    this.jig = chosen.name;
    return { ...there.pictures.find((x) => x.name === chosen.name), jig: chosen, all: there.jigs, leftOut: there.leftOut, others: there.others };
  }

  // put shows a picture, and of a jig its words.
  async put(p, data) {
    const image = byId('made-image');
    const url = URL.createObjectURL(new Blob([data], { type: p.type }));
    await new Promise((done) => {
      image.onload = done;
      image.onerror = done;
      image.src = url;
    });
    URL.revokeObjectURL(this.url);
    this.url = url;
    image.alt = p.jig ? `${p.title}: ${p.jig.what}` : `${p.title}, as it will be made`;
    image.className = !p.jig && image.naturalHeight > image.naturalWidth * 0.6 ? 'tall' : '';
    this.dress(Boolean(p.jig));
    this.jigs(p);
    const now = JSON.stringify([p.jig, p.leftOut, p.others]);
    if (!p.jig || byId('made-words').shown === now) return;
    byId('made-words').shown = now;
    byId('made-words').replaceChildren(...words(p.jig, this.hooks.download), ...p.leftOut.map((why) => el('p', { class: 'help', text: `Left out: ${why}.` })),
      ...(p.others.length ? [el('details', {}, el('summary', { text: 'Not for this neck' }), ...p.others.map((why) => el('p', { class: 'help', text: `${why}.` })))] : []));
  }

  // dress lays a jig's words and options beside its picture.
  dress(jig) {
    byId('made-picture').classList.toggle('jig', jig);
    byId('made-side').hidden = !jig;
  }

  // jigs offers the jigs that there are, where one is shown.
  jigs(p) {
    const row = byId('made-jigs');
    row.hidden = !p.jig;
    if (!p.jig) return;
    const now = JSON.stringify(p.all.map((j) => [j.name, j.cause]));
    if (row.shown !== now) {
      row.shown = now;
      row.replaceChildren(...p.all.map((j) => el('button', {
        type: 'button', 'data-name': j.name, text: j.title, class: j.cause ? '' : 'unasked',
        onclick: () => {
          this.jig = j.name;
          this.renew();
        },
      })));
    }
    press(row, p.jig.name);
  }

  // stale says that the neck has changed since the picture.
  stale() {
    if (this.drawn && this.hooks.shown()) setWords(byId('made-state'), 'Drawn anew at rest');
  }
}
