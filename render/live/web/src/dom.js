// Small helpers to build the page without markup in strings.

const SVG = 'http://www.w3.org/2000/svg';

// fill sets attributes and listeners of an element and appends children.
function fill(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith('on')) node.addEventListener(name.slice(2), value);
    else if (name === 'text') node.textContent = value;
    else node.setAttribute(name, value === true ? '' : value);
  }
  node.append(...children.flat().filter((c) => c !== undefined && c !== null && c !== false));
  return node;
}

export const el = (tag, attributes, ...children) => fill(document.createElement(tag), attributes, children);
export const svg = (tag, attributes, ...children) => fill(document.createElementNS(SVG, tag), attributes, children);
export const byId = (id) => document.getElementById(id);

// setWords sets the text of an element, if it is another one.
export function setWords(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

// setAttribute gives an element an attribute, or takes it away where it is null,
// if that is a change.
export function setAttribute(node, name, value) {
  if (node.getAttribute(name) === value) return;
  if (value === null) node.removeAttribute(name);
  else node.setAttribute(name, value);
}

// limit gives a slider an end or a step. To say the same again would make the browser
// lay it out anew.
export const limit = (slider, name, value) => setAttribute(slider, name, String(value));

// waits bars a button while something that it has started goes on, and leaves the
// focus where it was: a button that is barred loses it.
export async function waits(button, fn) {
  const held = document.activeElement === button;
  button.disabled = true;
  button.dataset.busy = 'yes';
  try {
    return await fn();
  } finally {
    button.dataset.busy = '';
    button.disabled = false;
    const at = document.activeElement;
    if (held && (!at || at === document.body || at.tagName === 'DIALOG')) button.focus({ preventScroll: true });
  }
}

// sizeOf returns the size of an element as it was last laid out, and another
// one where it is not shown. To ask the element itself would lay the page out
// anew in the middle of a change.
const sizes = new WeakMap();
const resized = new Set();
const watcher = new ResizeObserver((entries) => {
  for (const e of entries) sizes.set(e.target, { width: Math.round(e.contentRect.width), height: Math.round(e.contentRect.height) });
  for (const go of resized) go();
});
export function sizeOf(node, width, height) {
  if (!sizes.has(node)) {
    sizes.set(node, { width: node.clientWidth, height: node.clientHeight });
    watcher.observe(node);
  }
  const size = sizes.get(node);
  return size.width > 20 && size.height > 20 ? size : { width, height };
}

// onSize calls back when an element that was asked for has another size.
export const onSize = (go) => resized.add(go);

// idOf makes an element id of a path such as depth[2].total.
export const idOf = (path) => 'c-' + path.replace(/[^A-Za-z0-9_]/g, '-');

// plain prints a number without noise behind the last digit that matters.
export const plain = (v) => (v === undefined || v === null ? '' : String(parseFloat(v.toPrecision(10))));

// Fractions that have a sign of their own.
const signs = { '½': '1/2', '⅓': '1/3', '⅔': '2/3', '¼': '1/4', '¾': '3/4', '⅕': '1/5', '⅖': '2/5', '⅗': '3/5', '⅘': '4/5', '⅙': '1/6', '⅚': '5/6', '⅐': '1/7', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8', '⅑': '1/9', '⅒': '1/10' };

// parseNumber reads what a person types: a comma or a dot, spaces around it, or
// a fraction as a rule has it, such as 1 3/4 or 1¾.
export function parseNumber(text) {
  const t = text.replace(/[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒]/g, (c) => ' ' + signs[c]).trim().replace(/([+-])\s+/, '$1').replace(',', '.').replace('\u2212', '-').replace('\u2044', '/');
  const fraction = /^([+-]?)(?:(\d+)(?:\s+|-))?(\d+)\s*\/\s*(\d+)$/.exec(t);
  if (fraction) {
    const [, sign, whole, over, under] = fraction;
    const v = Number(whole ?? 0) + Number(over) / Number(under);
    return Number.isFinite(v) ? parseFloat((sign === '-' ? -v : v).toFixed(9)) : NaN;
  }
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(t)) return NaN;
  return parseFloat(t);
}

// units are what may stand behind a length, with its name here and how many of
// them it is.
const units = { mm: ['mm', 1], cm: ['mm', 10], in: ['in', 1], inch: ['in', 1], inches: ['in', 1], '"': ['in', 1], '″': ['in', 1], '”': ['in', 1] };

// parseLength reads a number that may have its unit behind it, and returns it in
// the other unit where that is the one asked for.
export function parseLength(text, unit, mmPerInch) {
  const m = /^(.*?)\s*(mm|cm|in|inch|inches|"|″|”)$/i.exec(text.trim());
  if (!m) return parseNumber(text);
  const [given, times] = units[m[2].toLowerCase()];
  const v = parseNumber(m[1]) * times;
  if (given === unit) return times === 1 ? v : parseFloat(v.toFixed(6));
  return parseFloat((given === 'in' ? v * mmPerInch : v / mmPerInch).toFixed(6));
}

// halfTyped reports whether what is typed ends in what more must follow: 1. on the
// way to 1.7, or 1 and a space on the way to 1 3/4.
export const halfTyped = (text) => /[-+−.,/⁄\s]$/.test(text);

// unfinished reports whether what is typed may be on its way to a number with
// its unit.
export const unfinished = (text) => /^\s*[+−-]?\s*\d*([.,]\d*)?(\s+\d*|\s*\d+\s*[/⁄]\s*\d*|[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒])?\s*(m|mm|c|cm|i|in|inc|inch|inche|inches|"|″|”)?\s*$/i.test(text)
  || /^\s*\d+(\s+|-)\d+\s*[/⁄]?\s*\d*\s*(m|c|i|inc|inche)?\s*$/i.test(text);
