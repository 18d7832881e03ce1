// Undo and redo of whole texts. A text that is older than what something else has
// written into its file is known as such, so that it is not written over that
// without a question.

const most = 300;

export class History {
  constructor(changed) {
    this.past = []; // { text, age }
    this.future = [];
    this.changed = changed;
    this.age = 0; // of the text that is edited
    this.newest = 0;
    this.least = 0; // age of what the file holds
  }

  // stale tells that the text, or what it was made from, is older than the file.
  get stale() { return this.age < this.least; }

  // crosses tells that a step back leads to a text older than this one's file.
  get crosses() { return this.past.length > 0 && this.past.at(-1).age < this.age; }

  // remember keeps the text as it was before a change.
  remember(text) {
    if (this.past.at(-1)?.text === text) return;
    this.past.push({ text, age: this.age });
    if (this.past.length > most) this.past.shift();
    this.future = [];
    this.changed();
  }

  // follow tells that the text is now one that something else has written.
  follow() {
    this.age = this.least = ++this.newest;
    this.changed();
  }

  // older tells that the text is now one from before what the file holds.
  older() {
    this.least = Math.max(this.least, this.age);
    this.age = this.least - 1;
    this.changed();
  }

  // saved tells that the file holds the text, or one that it was made from.
  saved() { this.least = Math.min(this.least, this.age); }

  // clear forgets everything: what comes is another file.
  clear() {
    this.past = [];
    this.future = [];
    this.least = this.age;
    this.changed();
  }

  // drop takes back the last change, which is then not to be had again.
  drop() {
    const last = this.past.pop();
    if (last) this.age = last.age;
    return last?.text;
  }

  step(from, to, text) {
    let next;
    do next = from.pop(); while (next?.text === text && from.length);
    if (next === undefined || next.text === text) return undefined;
    to.push({ text, age: this.age });
    this.age = next.age;
    this.changed();
    return next.text;
  }

  undo(text) { return this.step(this.past, this.future, text); }
  redo(text) { return this.step(this.future, this.past, text); }
}
