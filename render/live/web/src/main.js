// The live page. It keeps the spec's text and sends it with every request; the
// answers say what to draw.

import { ask, askBytes, askModel, Refused } from './api.js';
import { Controls } from './controls.js';
import { difference } from './difference.js';
import { byId, el, setWords } from './dom.js';
import { drawElevation, movePlane, range } from './elevation.js';
import { History } from './history.js';
import { drawSection } from './section.js';
import { View3D } from './view3d.js';

const state = {
  text: '', // the spec as it is being edited
  name: '', // of its file, '' without one
  hash: '', // of the file as it was last read or written here
  seen: '', // of the file as it was last seen
  saved: '', // the text of that file
  theirs: null, // the file as something else has written it
  x: 40, // of the section plane, mm
  model: null, // the last answer
  drawn: null, // the last answer with a neck
  ghost: null, // { label, text, model, section }
};

let view = null;
let controls = null;
const history = new History(() => showHistory());

// --- asking for models

const work = { edits: [], gesture: 0, since: 0, dirty: false, busy: false, epoch: 0, last: -1, idle: 0, fine: null };

// edit takes changes that controls ask for. Changes of one key that wait for
// the program replace each other.
function edit(edits, gesture, at) {
  for (const e of edits) {
    const key = (x) => x.op + ' ' + x.path;
    const replaces = e.op === 'set' || e.op === 'side' || e.op === 'place';
    const i = replaces ? work.edits.findIndex((x) => key(x) === key(e)) : -1;
    if (i >= 0 && i === work.edits.length - 1) work.edits[i] = e;
    else work.edits.push(e);
  }
  view?.stir();
  work.gesture = gesture;
  work.since ||= at;
  refresh();
}

function gestureEnd() {
  rest();
}

// refresh asks for the neck, one question at a time; the newest state wins.
function refresh() {
  work.dirty = true;
  clearTimeout(work.idle);
  work.fine?.abort();
  if (!work.busy) pump();
}

async function pump() {
  work.busy = true;
  while (work.dirty) {
    work.dirty = false;
    const edits = work.edits;
    const since = work.since;
    work.edits = [];
    work.since = 0;
    if (edits.length && work.gesture !== work.last) {
      work.last = work.gesture;
      history.remember(state.text);
    }
    const epoch = work.epoch;
    const took = { since, asked: performance.now() };
    try {
      const model = await askModel({ text: state.text, edits, x: state.x, fine: false });
      if (epoch !== work.epoch) continue; // another text took its place
      took.answered = performance.now();
      if (edits.length) setText(model.text);
      show(model, took);
    } catch (error) {
      if (epoch !== work.epoch) continue;
      say(error.message, 'error');
      if (state.model) {
        controls.anew();
        controls.show(state.model.values, state.model.problems);
      }
    }
  }
  work.busy = false;
  rest();
}

// rest asks for the fine neck when nothing has moved for a moment.
function rest() {
  clearTimeout(work.idle);
  if (work.busy || work.dirty) return;
  work.idle = setTimeout(async () => {
    const epoch = work.epoch;
    const text = state.text;
    work.fine?.abort();
    const abort = new AbortController();
    work.fine = abort;
    try {
      const model = await askModel({ text, edits: [], x: state.x, fine: true }, abort.signal);
      if (epoch !== work.epoch || text !== state.text || work.busy || work.dirty) return; // stale
      show(model);
    } catch (error) {
      if (error.name !== 'AbortError') say(error.message, 'error');
    }
  }, 120);
}

// replaceText puts another text in place of what is edited.
function replaceText(text, keep = true) {
  if (keep && text !== state.text) history.remember(state.text);
  work.epoch++;
  work.edits = [];
  work.last = -1;
  controls.anew();
  setText(text);
  refresh();
}

function setText(text) {
  state.text = text;
  showText();
  showFile();
}

// showText fills the box with the spec's text, if it can be seen.
function showText() {
  const box = byId('text');
  if (byId('text-part').open && document.activeElement !== box && box.value !== state.text) box.value = state.text;
}

// --- showing a model

const times = []; // of the last moves of a control, ms

// show shows an answer: first the picture, then all that stands around it.
function show(model, took) {
  state.model = model;
  if (model.ok) {
    state.drawn = model;
    state.section = model.section;
    state.x = model.section.x;
    view?.setMeshes(model.meshes);
    view?.setElevation(model.elevation);
    view?.setSection(model.section);
    if (took?.since) measure(took);
  }
  controls.show(model.values, model.problems);
  showProblems(model);
  document.body.classList.toggle('unsound', !model.ok);
  if (model.values) {
    setWords(byId('title'), model.values.name);
    setWords(document.querySelector('title'), `${model.values.name} · neckloft`);
  }
  if (!model.ok) return;
  const [from, to] = range(model.elevation);
  const slider = byId('plane');
  slider.min = Math.min(from, Math.ceil(model.elevation.start * 10) / 10);
  slider.max = Math.max(to, Math.floor(model.elevation.end * 10) / 10);
  if (document.activeElement !== slider) slider.value = model.section.x;
  drawSide();
  drawCut();
  showNumbers(model);
  if (model.stations) showStations(model.stations);
  if (model.products) showProducts(model.products);
  document.body.classList.toggle('coarse', !model.stations);
  if (state.ghost) ghostSection();
  if (took?.since) {
    took.page = performance.now() - took.drawn;
    setWords(byId('latency'), `Last move drawn in ${took.all.toFixed(0)} ms`);
  }
}

// measure draws a move's picture and keeps how long it took from the move
// until the drawing was done: waiting for the browser's own turn and for the
// answer before, the answer, and the drawing.
function measure(took) {
  const ready = performance.now();
  view?.draw();
  if (document.documentElement.dataset.measure) view?.finish();
  took.drawn = performance.now();
  took.wait = took.asked - took.since;
  took.answer = took.answered - took.asked;
  took.draw = took.drawn - ready;
  took.all = took.drawn - took.since;
  requestAnimationFrame(() => { took.frame = performance.now() - took.since; }); // it is shown with this frame
  times.push(took);
  if (times.length > 1000) times.shift();
}

let shownProblems = '';

function showProblems(model) {
  byId('kept').hidden = model.ok || !state.drawn;
  const now = JSON.stringify([model.problems, Boolean(model.values)]);
  if (now === shownProblems) return;
  shownProblems = now;
  byId('problems').replaceChildren(...model.problems.map((p) => {
    const where = [p.line ? `line ${p.line}` : '', p.key].filter(Boolean).join(', ');
    return el('li', { class: p.warning ? 'warning' : 'error' },
      el('span', { class: 'what', text: p.warning ? 'Look at this' : 'Wrong' }),
      el('span', { text: (where ? where + ': ' : '') + p.message }),
      p.key && model.values ? el('button', { type: 'button', text: 'Go there', 'aria-label': `Go to ${p.key}`, onclick: () => controls.reveal(p.key) }) : null);
  }));
}

// showNumbers shows the headline numbers. A coarse answer has only some of
// them; the others stay, and are faint until they are reckoned again.
function showNumbers(model) {
  const list = byId('numbers');
  const below = model.problems.some((p) => p.warning && p.key === 'rod');
  const keys = model.numbers.map((n) => n.key);
  const there = [...list.children].map((d) => d.dataset.key);
  const same = keys.every((k, i) => k === there[i]) && (!model.stations || keys.length === there.length);
  if (!same) list.replaceChildren(...keys.map((k) => el('div', { 'data-key': k }, el('dt'), el('dd', {}, el('strong'), el('span')))));
  [...list.children].forEach((row, i) => {
    const n = model.numbers[i];
    row.classList.toggle('old', !n);
    if (!n) return;
    // "18.2 mm at fret 3": the number stands out, the rest is small.
    const m = /^([-\d.]+ (?:mm|in|g))(.*)$/.exec(n.text) ?? ['', '', n.text];
    setWords(row.firstChild, n.label);
    setWords(row.querySelector('strong'), m[1]);
    setWords(row.querySelector('span'), m[2]);
    row.classList.toggle('low', below && n.key === 'least-cover');
  });
}

function showStations(t) {
  const now = JSON.stringify(t);
  const table = byId('stations');
  if (table.shown === now) return markStation();
  table.shown = now;
  const head = el('tr', {}, ...t.columns.map((c) => el('th', { scope: 'col', text: c })));
  const rows = t.rows.map((row, i) => el('tr', { 'data-x': t.x[i] }, ...row.map((cell, k) =>
    k === 0
      ? el('th', { scope: 'row' }, el('button', { type: 'button', class: 'link', text: cell, title: 'Move the section plane here', onclick: () => moveTo(t.x[i]) }))
      : el('td', { text: cell || '–' }))));
  table.replaceChildren(el('caption', { text: `Lengths in ${t.unit}` }), el('thead', {}, head), el('tbody', {}, ...rows));
  return markStation();
}

function markStation() {
  for (const row of byId('stations').querySelectorAll('tr[data-x]')) {
    row.classList.toggle('here', Math.abs(parseFloat(row.dataset.x) - state.x) < 0.06);
  }
}

function showProducts(products) {
  const now = JSON.stringify(products);
  const list = byId('products');
  if (list.shown === now) return;
  list.shown = now;
  const everything = { name: 'all.zip', what: 'All of these in one file.' };
  list.replaceChildren(...[...products, everything].map((p) =>
    el('li', {}, el('button', { type: 'button', 'data-name': p.name, text: p.name, onclick: (e) => download(p.name, e.currentTarget) }), el('span', { text: p.what }))));
}

// --- drawings

function drawSide() {
  const e = state.drawn.elevation;
  drawElevation(e, state.x, byId('stretch').checked, state.ghost?.model?.elevation, { grab, point });
}

function drawCut() {
  const s = state.section;
  if (!s) return;
  state.x = s.x;
  movePlane(state.drawn.elevation, s.x);
  const g = state.ghost?.section;
  drawSection(s, state.drawn.elevation.widest, g && Math.abs(g.x - s.x) < 0.05 ? g : null, state.model.values?.units);
  byId('plane').setAttribute('aria-valuetext', s.where);
  markStation();
}

// moveTo moves the section plane.
const plane = { busy: false, x: null };
async function moveTo(x) {
  plane.x = x;
  state.x = x;
  if (!state.drawn) return;
  movePlane(state.drawn.elevation, x);
  if (document.activeElement !== byId('plane')) byId('plane').value = x;
  if (plane.busy) return;
  plane.busy = true;
  while (plane.x !== null) {
    const at = plane.x;
    plane.x = null;
    try {
      const section = await ask('section', { text: state.drawn.text, x: at });
      if (plane.x === null) {
        state.section = section;
        view?.setSection(section);
        drawCut();
        ghostSection();
      }
    } catch (error) {
      say(error.message, 'error');
    }
  }
  plane.busy = false;
}

// point follows a pointer on the side view with the section plane.
function point(event, xOf) {
  if (event.button) return;
  const holder = byId('side-drawing');
  const move = (e) => {
    const el = state.drawn.elevation;
    moveTo(Math.min(el.end, Math.max(el.start, xOf(e.clientX))));
  };
  follow(holder, event, move);
  move(event);
}

// grab drags a thickness target up or down.
function grab(event, target) {
  if (event.button) return;
  event.preventDefault();
  const path = target.path + '.total';
  const from = state.model.values?.[path];
  if (from === undefined) return;
  const inch = state.model.values.units === 'in';
  const gesture = ++controls.gesture;
  const y0 = event.clientY;
  follow(byId('side-drawing'), event, (e) => {
    const steps = Math.round((e.clientY - y0) / 2);
    const v = parseFloat((from + steps * (inch ? 0.005 : 0.1)).toFixed(4));
    edit([{ op: 'set', path, value: v }], gesture, e.timeStamp);
  }, gestureEnd);
}

function follow(holder, event, move, end) {
  holder.setPointerCapture(event.pointerId);
  const stop = () => {
    holder.removeEventListener('pointermove', move);
    holder.removeEventListener('pointerup', stop);
    holder.removeEventListener('pointercancel', stop);
    end?.();
  };
  holder.addEventListener('pointermove', move);
  holder.addEventListener('pointerup', stop);
  holder.addEventListener('pointercancel', stop);
}

// --- the ghost

async function setGhost(label, text) {
  try {
    const model = await askModel({ text, edits: [], x: state.x, fine: false });
    if (!model.ok) {
      say(`${label} has errors and cannot be shown: ${model.problems.find((p) => !p.warning)?.message ?? ''}`, 'error');
      byId('ghost').value = '';
      return;
    }
    state.ghost = { label, text, model, section: model.section };
    view?.setMeshes(model.meshes, 'ghost-');
    byId('ghost-name').textContent = `Dashed: ${label}`;
    drawSide();
    drawCut();
  } catch (error) {
    say(error.message, 'error');
  }
}

function clearGhost() {
  state.ghost = null;
  view?.clearGhost();
  byId('ghost-name').textContent = '';
  if (state.drawn) {
    drawSide();
    drawCut();
  }
}

async function ghostSection() {
  const ghost = state.ghost;
  if (!ghost || (ghost.section && Math.abs(ghost.section.x - state.x) < 1e-6) || ghost.busy) return;
  ghost.busy = true;
  try {
    ghost.section = await ask('section', { text: ghost.text, x: state.x });
    if (state.ghost === ghost) drawCut();
  } catch { /* the neck itself says what is wrong */ } finally {
    ghost.busy = false;
  }
}

async function chooseGhost(value) {
  if (value === '') clearGhost();
  else if (value === 'now') {
    await setGhost('as it was when you chose this', state.text);
  } else if (value === 'saved') await setGhost('the file as saved', state.saved);
  else {
    try {
      const f = await ask('open', { name: value.slice(2) });
      await setGhost(f.name, f.text);
    } catch (error) {
      say(error.message, 'error');
      byId('ghost').value = '';
    }
  }
}

// --- files

const changed = () => state.text !== state.saved;

function showFile() {
  byId('file-name').textContent = state.name || 'no file yet';
  const words = state.theirs ? 'changed on the disk and here' : changed() ? 'not saved' : state.name ? 'saved' : 'as given';
  byId('file-state').textContent = words;
  document.body.classList.toggle('unsaved', changed());
  byId('save').disabled = Boolean(state.name) && !changed() && !state.theirs && state.hash !== '';
}

function showHistory() {
  byId('undo').disabled = history.past.length === 0;
  byId('redo').disabled = history.future.length === 0;
}

function adopt(file) {
  state.name = file.name;
  state.hash = file.hash;
  state.seen = file.hash;
  state.saved = file.text;
  state.theirs = null;
  byId('conflict').hidden = true;
}

async function save(name = state.name, hash = state.hash) {
  if (!name) return saveAs();
  const text = state.text;
  try {
    const file = await ask('save', { name, text, hash });
    const other = file.name !== state.name;
    adopt(file);
    const errors = state.model?.problems.filter((p) => !p.warning).length ?? 0;
    say(`${file.name} is saved${errors ? `, with ${errors === 1 ? 'an error' : errors + ' errors'} in it` : ''}.`);
    if (other) {
      await names();
      watch();
    }
    showFile();
  } catch (error) {
    if (error instanceof Refused && error.status === 409) return conflict(error.current, error.message, name);
    say(error.message, 'error');
  }
}

// conflict shows that a file is not what it was, and lets the builder choose.
function conflict(current, message, name) {
  state.theirs = current;
  state.seen = current.hash;
  const box = byId('conflict');
  const there = current.hash !== '';
  byId('conflict-what').textContent = message + '. Nothing was overwritten.';
  byId('conflict-lines').replaceChildren(...(there
    ? difference(current.text, state.text).map(([sign, line]) => el('div', { class: { '-': 'theirs', '+': 'mine', ' ': 'both' }[sign], text: `${sign} ${line}` }))
    : []));
  byId('conflict-key').hidden = !there;
  byId('take').hidden = !there;
  byId('take').onclick = () => {
    const text = current.text;
    adopt(current);
    replaceText(text);
    say(`This is ${current.name} as it is on the disk; Undo brings back what you had.`);
  };
  byId('keep').onclick = () => save(name, current.hash);
  byId('later').onclick = () => { box.hidden = true; };
  box.hidden = false;
  showFile();
  byId('take').focus();
}

async function saveAs() {
  const dialog = byId('save-as');
  const field = byId('save-name');
  field.value = state.name || (state.model?.values?.name ?? 'my neck').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') + '.toml';
  dialog.returnValue = '';
  dialog.showModal();
  field.select();
  await new Promise((done) => dialog.addEventListener('close', done, { once: true }));
  if (dialog.returnValue !== 'save') return;
  let name = field.value.trim();
  if (!/\.toml$/i.test(name)) name += '.toml';
  await save(name, name === state.name ? state.hash : '');
}

async function open(name) {
  if (changed() && !(await confirm(`What you have changed is not saved. Open ${name} all the same? Undo brings it back.`))) return;
  try {
    const file = await ask('open', { name });
    adopt(file);
    replaceText(file.text);
    watch();
  } catch (error) {
    say(error.message, 'error');
  }
}

async function confirm(question) {
  const dialog = byId('confirm');
  byId('question').textContent = question;
  dialog.returnValue = '';
  dialog.showModal();
  await new Promise((done) => dialog.addEventListener('close', done, { once: true }));
  return dialog.returnValue === 'yes';
}

async function names() {
  let list;
  try {
    list = await ask('files');
  } catch {
    return;
  }
  byId('open').replaceChildren(el('option', { value: '', text: 'Open …' }), ...list.map((n) => el('option', { value: n, text: n })));
  const ghost = byId('ghost');
  const was = ghost.value;
  ghost.replaceChildren(el('option', { value: '', text: 'nothing' }), el('option', { value: 'now', text: 'the neck as it is now' }),
    el('option', { value: 'saved', text: 'the file as saved' }), ...list.map((n) => el('option', { value: 'f:' + n, text: n })));
  ghost.value = was;
}

// watch follows the file while something else writes it.
let watching = null;
async function watch() {
  watching?.abort();
  if (!state.name) return;
  const abort = new AbortController();
  watching = abort;
  while (!abort.signal.aborted) {
    try {
      const file = await ask('watch', { name: state.name, hash: state.seen }, abort.signal);
      if (abort.signal.aborted || file.name !== state.name || file.hash === state.hash || file.hash === state.seen) continue;
      state.seen = file.hash;
      if (file.hash === '') {
        state.hash = '';
        showFile();
        say(`${file.name} is no longer there. Save writes it anew.`, 'error');
      } else if (file.text === state.text) {
        adopt(file);
        showFile();
      } else if (changed()) {
        conflict(file, `${file.name} was changed by something else, and you have changes here that are not saved`, file.name);
      } else {
        adopt(file);
        replaceText(file.text);
        say(`${file.name} was changed by something else; the page follows it.`);
      }
    } catch (error) {
      if (error.name === 'AbortError') return;
      await new Promise((done) => setTimeout(done, 2000));
    }
  }
}

async function download(name, button) {
  button.disabled = true;
  const label = button.textContent;
  button.textContent = label + ' …';
  try {
    const data = await askBytes('make', { name, text: state.text });
    const url = URL.createObjectURL(new Blob([data]));
    const base = state.name.replace(/\.toml$/i, '') || 'neck';
    el('a', { href: url, download: name === 'all.zip' ? `${base}.zip` : name }).click();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
    say(`${name} is made.`);
  } catch (error) {
    say(error.message, 'error');
  }
  button.disabled = false;
  button.textContent = label;
}

// --- the page itself

let quiet = 0;
function say(words, kind = 'note') {
  const box = byId('note');
  box.textContent = words;
  box.className = kind;
  clearTimeout(quiet);
  quiet = setTimeout(() => { box.textContent = ''; }, kind === 'error' ? 15000 : 6000);
}

function stepHistory(back) {
  const text = back ? history.undo(state.text) : history.redo(state.text);
  if (text !== undefined) replaceText(text, false);
}

function theme(choice) {
  if (choice) document.documentElement.dataset.theme = choice;
  else delete document.documentElement.dataset.theme;
  byId('theme').value = choice;
  view?.paint();
}

function wire() {
  byId('undo').onclick = () => stepHistory(true);
  byId('redo').onclick = () => stepHistory(false);
  byId('save').onclick = () => save();
  byId('save-other').onclick = () => saveAs();
  byId('open').onchange = (e) => {
    const name = e.target.value;
    e.target.value = '';
    if (name) open(name);
  };
  byId('open').onfocus = names;
  byId('ghost').onchange = (e) => chooseGhost(e.target.value);
  byId('theme').onchange = (e) => {
    theme(e.target.value);
    try { localStorage.setItem('theme', e.target.value); } catch { /* only a wish */ }
  };
  byId('stretch').onchange = () => state.drawn && drawSide();
  byId('plane').oninput = (e) => moveTo(parseFloat(e.target.value));
  byId('plane').onkeydown = (e) => {
    // A fret at a time.
    if (e.key !== 'PageUp' && e.key !== 'PageDown') return;
    const frets = state.drawn?.elevation.frets.map((f) => f.x).filter((x) => x <= state.drawn.elevation.end) ?? [];
    const next = e.key === 'PageUp' ? frets.find((x) => x > state.x + 0.05) : frets.findLast((x) => x < state.x - 0.05);
    e.preventDefault();
    if (next === undefined) return;
    e.target.value = next;
    moveTo(next);
  };
  for (const b of document.querySelectorAll('[data-look]')) {
    b.onclick = () => {
      view.untouched = true;
      view.look(b.dataset.look);
    };
  }
  byId('text-part').ontoggle = showText;
  const text = byId('text');
  let typing = 0;
  let began = '';
  text.onfocus = () => { began = state.text; };
  text.oninput = () => {
    clearTimeout(typing);
    typing = setTimeout(() => {
      if (began !== state.text || text.value === state.text) began = state.text;
      replaceText(text.value);
    }, 250);
  };
  document.addEventListener('keydown', (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
    const key = e.key.toLowerCase();
    if (key === 's') {
      e.preventDefault();
      save();
    } else if ((key === 'z' || key === 'y') && e.target !== text) {
      e.preventDefault();
      stepHistory(key === 'z' && !e.shiftKey);
    }
  });
  window.addEventListener('beforeunload', (e) => { if (changed()) e.preventDefault(); });
  window.addEventListener('beforeprint', () => { if (view) byId('print-view').src = view.picture(); });
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => view?.paint());
  let settle = 0;
  new ResizeObserver(() => {
    cancelAnimationFrame(settle);
    settle = requestAnimationFrame(() => {
      if (!state.drawn) return;
      drawSide();
      drawCut();
    });
  }).observe(byId('side-drawing'));
}

async function begin() {
  let given = '';
  try { given = localStorage.getItem('theme') ?? ''; } catch { /* only a wish */ }
  theme(given);
  try {
    view = new View3D(byId('view'));
  } catch {
    byId('no-view').hidden = false;
    byId('view').hidden = true;
    document.querySelector('.looks').hidden = true;
  }
  byId('stretch').checked = window.innerWidth < 700;
  wire();
  let start;
  try {
    start = await ask('start');
  } catch (error) {
    document.body.classList.add('barred');
    byId('barred').textContent = error.message;
    byId('barred').hidden = false;
    return;
  }
  controls = new Controls(start, { edit, gestureEnd, more: () => work.dirty });
  byId('cautions').replaceChildren(...start.cautions.map((c) => el('li', { text: c })));
  adopt(start.file);
  setText(start.file.text);
  await names();
  showHistory();
  watch();
  refresh();
}

// What a test may look at.
window.neckloft = {
  times,
  get view() { return view && { camera: view.camera.position.toArray(), target: view.controls.target.toArray(), ghost: Boolean(view.meshes['ghost-wood']) }; },
  get text() { return state.text; }, 
  get x() { return state.x; },
  get resting() { return !work.busy && !work.dirty && !plane.busy && Boolean(state.model?.stations || (state.model && !state.model.ok)); },
};

begin();
