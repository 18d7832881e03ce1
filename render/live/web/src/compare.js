// Another neck laid over this one, the ghost: dashed in the drawings, blue in space,
// flush where the builder wants it, and the numbers by which they differ.

import { byId, el, setWords } from './dom.js';
import { acrossAndUp, atSame, hasHeels, movedSection, movedSide, movedTop } from './flush.js';

const alongs = { nut: 'at the nut', fret: 'at this fret', heel: 'at the heel’s start' };
const ats = { glue: 'glue plane', back: 'deepest of the back', crown: 'top of the board', bass: 'bass edge', treble: 'treble edge' };

export class Compare {
  // hooks: model(text), section(text, x), open(name), drawn(), section0(), text(), saved(), view(), say(words, kind), redraw(), renumber()
  constructor(hooks) {
    this.hooks = hooks;
    this.busy = 0; // questions under way
    this.turn = 0; // of choices: the last one counts, whichever answer comes last
    this.ghost = null; // { label, text, model, section, key, sides, tops }
    this.along = 'nut';
    this.at = 'glue';
    byId('ghost').onchange = (e) => this.choose(e.target.value);
    byId('compare-end').onclick = () => {
      byId('ghost').value = '';
      this.turn++;
      this.clear();
      const back = byId('ghost').checkVisibility() ? byId('ghost') : byId('menu').querySelector('summary');
      back.focus();
    };
    for (const [id, key] of [['flush-along', 'along'], ['flush-at', 'at']]) {
      byId(id).onchange = (e) => {
        this[key] = e.target.value;
        this.settle();
      };
    }
    byId('flush-at').replaceChildren(...Object.entries(ats).map(([value, text]) => el('option', { value, text })));
  }

  // offer lists what there is to compare with.
  offer(names) {
    const box = byId('ghost');
    const was = box.value;
    box.replaceChildren(el('option', { value: '', text: 'nothing' }), el('option', { value: 'now', text: 'the neck as it is now' }),
      el('option', { value: 'saved', text: 'the file as saved' }), ...names.map((n) => el('option', { value: 'f:' + n, text: n })));
    box.value = was;
  }

  async choose(value) {
    const turn = ++this.turn;
    if (value === '') return this.clear();
    if (value === 'now') return this.set(turn, 'as it was when you chose this', this.hooks.text());
    if (value === 'saved') return this.set(turn, 'the file as saved', this.hooks.saved());
    this.busy++;
    try {
      const f = await this.hooks.open(value.slice(2));
      return await this.set(turn, f.name, f.text);
    } catch (error) {
      return turn === this.turn ? this.none(error.message) : undefined;
    } finally {
      this.busy--;
    }
  }

  async set(turn, label, text) {
    if (turn !== this.turn) return undefined;
    try {
      const model = await this.hooks.model(text);
      if (turn !== this.turn) return undefined;
      if (!model.ok) return this.none(`${label} has errors and cannot be shown: ${model.problems.find((p) => !p.warning)?.message ?? ''}`);
      this.ghost = { label, text, model, section: null };
    } catch (error) {
      return turn === this.turn ? this.none(error.message) : undefined;
    }
    this.hooks.view()?.setMeshes(this.ghost.model.meshes, 'ghost-');
    setWords(byId('ghost-name'), `In blue: ${label}`);
    setWords(byId('ghost-words'), label);
    byId('compare').hidden = false;
    this.offerHeels();
    await this.settle();
    this.hooks.renumber();
    return undefined;
  }

  // none says why there is nothing to compare with.
  none(words) {
    this.hooks.say(words, 'error');
    byId('ghost').value = '';
    if (this.ghost) this.clear();
  }

  clear() {
    this.ghost = null;
    this.hooks.view()?.clearGhost();
    setWords(byId('ghost-name'), '');
    setWords(byId('ghost-words'), '');
    byId('compare').hidden = true;
    this.hooks.redraw();
    this.hooks.renumber();
  }

  // offerHeels lets heels be flush where both necks have one.
  offerHeels() {
    const heels = hasHeels(this.hooks.drawn(), this.ghost?.model);
    const list = byId('flush-along');
    if (list.options.length === (heels ? 3 : 2)) return;
    if (!heels && this.along === 'heel') this.along = 'nut';
    list.replaceChildren(...Object.entries(alongs).filter(([k]) => k !== 'heel' || heels).map(([value, text]) => el('option', { value, text })));
    list.value = this.along;
  }

  // x is the place of the ghost that stands for one of this neck.
  x(at = this.hooks.section0().x) {
    return atSame(this.along, at, this.hooks.drawn(), this.ghost.model);
  }

  // shift is how far the ghost is moved, [x, y, z].
  shift() {
    const s = this.hooks.section0();
    const there = this.section0();
    return [s.x - this.x(), ...(there ? acrossAndUp(this.at, s, there) : [0, 0])];
  }

  // section0 is the ghost's section that stands for the one that is shown, in its
  // own place; null where it is not there yet, or has no wood.
  section0() {
    const g = this.ghost;
    return g?.section && Math.abs(g.section.x - this.x()) < 0.05 ? g.section : null;
  }

  side() { return this.ghost && movedSide(this.ghost.model.elevation, this.shift()); }
  top() { return this.ghost && movedTop(this.ghost.model.top, this.shift()); }

  section() {
    const s = this.ghost && this.section0();
    return s ? movedSection(s, this.shift()) : null;
  }

  // settle gets the ghost's section, and draws it all anew.
  async settle() {
    if (!this.ghost || !this.hooks.drawn()) return;
    this.offerHeels();
    await this.follow();
    this.hooks.redraw();
  }

  // fetch asks for the ghost's section that stands for the one at a place of this
  // neck: { ghost, section, x, unit }, or null where it is known or not to be had.
  async fetch(at) {
    const { ghost } = this;
    if (!ghost) return null;
    const x = this.x(at);
    const unit = this.hooks.unit();
    if (ghost.asked === x && ghost.unit === unit) return null;
    this.busy++;
    try {
      return { ghost, section: await this.hooks.section(ghost.text, x, unit), x, unit };
    } catch {
      return null; // the neck itself says what is wrong
    } finally {
      this.busy--;
    }
  }

  // take takes up what fetch has brought, lays the ghost flush in space, and says
  // whether anything has changed.
  take(got) {
    const fresh = Boolean(got) && got.ghost === this.ghost;
    if (fresh) [got.ghost.section, got.ghost.asked, got.ghost.unit] = [got.section, got.x, got.unit];
    if (this.ghost && this.hooks.section0()) this.hooks.view()?.shiftGhost(this.shift());
    return fresh;
  }

  // follow brings the ghost to the section that is shown.
  async follow() {
    if (!this.ghost || !this.hooks.section0()) return false;
    this.offerHeels();
    return this.take(await this.fetch(this.hooks.section0().x));
  }
}
