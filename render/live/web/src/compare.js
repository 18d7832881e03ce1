// Another neck laid over this one, the ghost: dashed in the drawings, blue in space,
// flush where the builder wants it, and the numbers by which they differ.

import { byId, el, setWords } from './dom.js';
import { acrossAndUp, hasHeels, movedSection, movedSide, movedTop } from './flush.js';

const alongs = { nut: 'at the nut', fret: 'at this fret', heel: 'at the heel’s start' };
const ats = { glue: 'glue plane', back: 'deepest of the back', crown: 'top of the board', bass: 'bass edge', treble: 'treble edge' };

export class Compare {
  // hooks: model(text, hand), open(name), drawn(), section0(), hand(), text(), saved(), view(), say(words, kind), redraw(), renumber()
  constructor(hooks) {
    this.hooks = hooks;
    this.busy = 0; // questions under way
    this.turn = 0; // of choices: the last one counts, whichever answer comes last
    this.ghost = null; // { label, text, hand, model }
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
        if (key === 'along') this.hooks.renumber(); // which brings another section
        else this.laid();
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

  // set lays the neck of a text over this one, turned to its hand.
  async set(turn, label, text) {
    if (turn !== this.turn) return undefined;
    const hand = this.hooks.hand();
    this.busy++;
    try {
      const model = await this.hooks.model(text, hand);
      if (turn !== this.turn) return undefined;
      if (!model.ok) return this.none(`${label} has errors and cannot be shown: ${model.problems.find((p) => !p.warning)?.message ?? ''}`);
      this.ghost = { label, text, hand, model };
    } catch (error) {
      return turn === this.turn ? this.none(error.message) : undefined;
    } finally {
      this.busy--;
    }
    this.hooks.view()?.setMeshes(this.ghost.model.meshes, 'ghost-');
    setWords(byId('ghost-name'), `In blue: ${label}`);
    setWords(byId('ghost-words'), label);
    const others = hand === 'left' ? 'right' : 'left';
    setWords(byId('ghost-hand'), this.ghost.model.turned ? `, for the ${others} hand, turned to lay bass on bass` : '');
    byId('compare').hidden = false;
    this.offerHeels();
    this.hooks.renumber();
    return undefined;
  }

  // sameHand has the other neck turned anew where this one is for another hand now.
  sameHand() {
    const g = this.ghost;
    if (!g || this.busy || g.hand === this.hooks.hand()) return;
    this.set(++this.turn, g.label, g.text);
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
    setWords(byId('ghost-hand'), '');
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

  // request is what a question for this neck says of the other one.
  request() { return this.ghost ? { with: this.ghost.text, along: this.along } : {}; }

  // shift is how far the ghost is moved, [x, y, z].
  shift() {
    const s = this.hooks.section0();
    const there = s?.with;
    if (!there) return [0, 0, 0];
    return [s.x - there.x, ...(there.section ? acrossAndUp(this.at, s, there.section) : [0, 0])];
  }

  side() { return this.ghost && movedSide(this.ghost.model.elevation, this.shift()); }
  top() { return this.ghost && movedTop(this.ghost.model.top, this.shift()); }

  // section is the ghost's that stands for the one that is shown; null where it has no
  // wood.
  section() {
    const there = this.ghost && this.hooks.section0()?.with?.section;
    return there ? movedSection(there, this.shift()) : null;
  }

  // place lays the ghost flush in space.
  place() { if (this.ghost) this.hooks.view()?.shiftGhost(this.shift()); }

  // laid lays it flush everywhere.
  laid() {
    this.place();
    this.hooks.redraw();
  }
}
