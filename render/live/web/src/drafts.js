// Drafts: what was changed here and is not saved, kept in the browser for each
// file, so that a reload or a browser that has ended loses nothing. A draft is
// offered when its file comes up again, and never put over it by itself.

const before = 'neckloft-draft:';
const most = 20; // drafts of as many files

const store = () => {
  try { return globalThis.localStorage; } catch { return null; }
};

// keep keeps a draft of a file, or of a spec without one, whose name is then ''.
// base is the text of the file that the draft was made from.
export function keep(place, draft) {
  try {
    store()?.setItem(before + place, JSON.stringify({ ...draft, when: Date.now() }));
    thin();
  } catch { /* no room: then there is no draft, as before */ }
}

export function drop(place) {
  store()?.removeItem(before + place);
}

// kept returns the draft of a file, { text, base, when }, or null.
export function kept(place) {
  try {
    const d = JSON.parse(store()?.getItem(before + place) ?? 'null');
    return typeof d?.text === 'string' ? d : null;
  } catch {
    return null;
  }
}

// thin drops the oldest drafts where there are many.
function thin() {
  const s = store();
  const all = Array.from({ length: s.length }, (_, i) => s.key(i)).filter((k) => k.startsWith(before));
  const age = (k) => kept(k.slice(before.length))?.when ?? 0;
  all.sort((a, b) => age(b) - age(a)).slice(most).forEach((k) => s.removeItem(k));
}
