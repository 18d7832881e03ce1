// The lines in which two texts differ.

// difference returns [sign, line] pairs: '-' only in a, '+' only in b, and ' '
// for a line around them; gaps are [' ', '…'].
export function difference(a, b) {
  const x = a.split(/\r?\n/);
  const y = b.split(/\r?\n/);
  let head = 0;
  while (head < x.length && head < y.length && x[head] === y[head]) head++;
  let tail = 0;
  while (tail < x.length - head && tail < y.length - head && x[x.length - 1 - tail] === y[y.length - 1 - tail]) tail++;
  const p = x.slice(head, x.length - tail);
  const q = y.slice(head, y.length - tail);
  if (p.length * q.length > 4e6) return [...p.map((l) => ['-', l]), ...q.map((l) => ['+', l])];
  // Longest common subsequence.
  const table = Array.from({ length: p.length + 1 }, () => new Uint32Array(q.length + 1));
  for (let i = p.length - 1; i >= 0; i--) {
    for (let j = q.length - 1; j >= 0; j--) {
      table[i][j] = p[i] === q[j] ? table[i + 1][j + 1] + 1 : Math.max(table[i + 1][j], table[i][j + 1]);
    }
  }
  const all = x.slice(Math.max(0, head - 2), head).map((l) => [' ', l]);
  let i = 0;
  let j = 0;
  while (i < p.length || j < q.length) {
    if (i < p.length && j < q.length && p[i] === q[j]) {
      all.push([' ', p[i]]);
      i++;
      j++;
    } else if (i < p.length && (j === q.length || table[i + 1][j] >= table[i][j + 1])) all.push(['-', p[i++]]);
    else all.push(['+', q[j++]]);
  }
  all.push(...x.slice(x.length - tail, x.length - tail + 2).map((l) => [' ', l]));
  const near = (k) => all.slice(Math.max(0, k - 2), k + 3).some(([sign]) => sign !== ' ');
  const out = [];
  all.forEach((line, k) => {
    if (near(k)) out.push(line);
    else if (out.at(-1)?.[1] !== '…') out.push([' ', '…']);
  });
  return out;
}
