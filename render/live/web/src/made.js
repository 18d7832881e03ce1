// Pictures of what will be made: plan, gauges on their bed, sheets, board. The one
// that is looked at is drawn anew when the hand rests.

import { byId, el, setWords } from './dom.js';

export class Made {
  // hooks: askBytes(path, body, signal), text(), shown()
  constructor(hooks) {
    this.hooks = hooks;
    this.list = [];
    this.name = 'plan-1';
    this.drawn = ''; // which picture of which text is shown
    byId('made-image').onclick = (e) => e.target.classList.toggle('real');
  }

  // offer takes what pictures there are of a neck at rest.
  offer(list) {
    const now = JSON.stringify(list);
    if (now !== this.offered) {
      this.offered = now;
      this.list = list;
      if (!list.some((p) => p.name === this.name)) this.name = list[0]?.name ?? '';
      byId('made-names').replaceChildren(...list.map((p) => el('button', {
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
    for (const b of byId('made-names').children) b.setAttribute('aria-pressed', String(b.dataset.name === this.name));
    const text = this.hooks.text();
    const p = this.list.find((x) => x.name === this.name);
    const key = JSON.stringify([this.name, text]);
    if (!this.hooks.shown() || !p || key === this.drawn || key === this.asked) return;
    this.abort?.abort();
    const abort = new AbortController();
    this.abort = abort;
    this.asked = key;
    setWords(byId('made-state'), 'Drawing …');
    try {
      const data = await this.hooks.askBytes('picture', { name: p.name, text }, abort.signal);
      if (this.abort !== abort) return;
      const image = byId('made-image');
      const url = URL.createObjectURL(new Blob([data], { type: p.type }));
      await new Promise((done) => {
        image.onload = done;
        image.onerror = done;
        image.src = url;
      });
      URL.revokeObjectURL(this.url);
      this.url = url;
      image.alt = `${p.title}, as it will be made`;
      image.className = image.naturalHeight > image.naturalWidth * 0.6 ? 'tall' : '';
      this.drawn = key;
      setWords(byId('made-state'), '');
    } catch (error) {
      if (error.name === 'AbortError') return;
      setWords(byId('made-state'), error.message);
    } finally {
      if (this.asked === key) this.asked = '';
    }
  }

  // stale says that the neck has changed since the picture.
  stale() {
    if (this.drawn && this.hooks.shown()) setWords(byId('made-state'), 'Drawn anew at rest');
  }
}
