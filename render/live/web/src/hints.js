// Hints for the first visit, and the sheet of keys.

import { byId, setWords } from './dom.js';

const key = 'neckloft-hints';
const store = () => {
  try { return globalThis.localStorage; } catch { return null; }
};
const get = () => {
  try { return store()?.getItem(key) ?? ''; } catch { return ''; }
};
const put = (v) => {
  try { store()?.setItem(key, v); } catch { /* they come again */ }
};

const hints = [
  'Drag a dot in a picture to shape the neck there; the number stands beside it. Section, Side and Top show more dots.',
  'Every key of the spec has a line under “Shape it”. Search them all with /, and press ? at a line for what it means.',
  'A double click on the side view adds a thickness target. Undo takes a whole drag back. The keys are under ? in the head of the page.',
];

let at = 0;

function show() {
  const box = byId('hint');
  box.hidden = at >= hints.length;
  if (box.hidden) return;
  setWords(byId('hint-words'), `Hint ${at + 1} of ${hints.length}: ${hints[at]}`);
  byId('hint-next').hidden = at === hints.length - 1;
  setWords(byId('hint-end'), at === hints.length - 1 ? 'Close' : 'No more hints');
}

export function wireHints() {
  at = get() === 'seen' ? hints.length : 0;
  show();
  byId('hint-next').onclick = () => {
    at++;
    show();
    if (at === hints.length - 1) byId('hint-end').focus();
  };
  byId('hint-end').onclick = () => {
    at = hints.length;
    put('seen');
    show();
    byId('view').focus({ preventScroll: true });
  };
  byId('keys-open').onclick = () => byId('keys').showModal();
  byId('hints-again').onclick = () => {
    byId('keys').close();
    at = 0;
    put('');
    show();
  };
}
