// The box with the spec's text. A box knows one end of a line only.

export const plainLines = (text) => text.replace(/\r\n?/g, '\n');

// withEndings returns what was typed with the ends of lines that the text had:
// its own at lines before and behind the change, and the text's first one in it.
export function withEndings(text, typed) {
  const ends = text.match(/\r\n|\n|\r/g) ?? [];
  if (ends.every((e) => e === '\n')) return typed;
  const was = text.split(/\r\n|\n|\r/);
  const now = typed.split('\n');
  let head = 0;
  while (head < was.length && head < now.length && was[head] === now[head]) head++;
  let tail = 0;
  while (tail < was.length - head && tail < now.length - head && was[was.length - 1 - tail] === now[now.length - 1 - tail]) tail++;
  return now.map((line, i) => {
    if (i === now.length - 1) return line;
    const from = i < head ? i : i >= now.length - tail ? i + was.length - now.length : -1;
    return line + (ends[from] ?? ends[0]);
  }).join('');
}

// setKeepingPlace gives a box another text and leaves the cursor where it was in
// what has stayed the same.
export function setKeepingPlace(box, text) {
  const was = box.value;
  if (was === text) return;
  const { selectionStart, selectionEnd, scrollTop, scrollLeft } = box;
  let head = 0;
  while (head < was.length && was[head] === text[head]) head++;
  let tail = 0;
  while (tail < was.length - head && tail < text.length - head && was[was.length - 1 - tail] === text[text.length - 1 - tail]) tail++;
  const moved = (at) => (at <= head ? at : at >= was.length - tail ? at + text.length - was.length : head);
  box.value = text;
  box.setSelectionRange(moved(selectionStart), moved(selectionEnd));
  [box.scrollTop, box.scrollLeft] = [scrollTop, scrollLeft];
}
