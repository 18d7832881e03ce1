// Undo and redo of whole texts.

const most = 300;

export class History {
  constructor(changed) {
    this.past = [];
    this.future = [];
    this.changed = changed;
  }

  // remember keeps the text as it was before a change.
  remember(text) {
    if (this.past.at(-1) === text) return;
    this.past.push(text);
    if (this.past.length > most) this.past.shift();
    this.future = [];
    this.changed();
  }

  // clear forgets everything: what comes is another file.
  clear() {
    this.past = [];
    this.future = [];
    this.changed();
  }

  step(from, to, text) {
    let next;
    do next = from.pop(); while (next === text && from.length);
    if (next === undefined || next === text) return undefined;
    to.push(text);
    this.changed();
    return next;
  }

  undo(text) { return this.step(this.past, this.future, text); }
  redo(text) { return this.step(this.future, this.past, text); }
}
