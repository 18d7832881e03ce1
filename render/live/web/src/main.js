// The live page. It keeps the spec's text and sends it with every request; the
// answers say what to draw.

import { alone, ask, askBytes, askModel, askStart, onNewKey, Refused } from './api.js';
import { Compare } from './compare.js';
import { Controls } from './controls.js';
import { difference } from './difference.js';
import * as drafts from './drafts.js';
import { byId, el, limit, onSize, setAttribute, setWords, waits } from './dom.js';
import { plainLines, setKeepingPlace, withEndings } from './text.js';
import { range } from './along.js';
import { Bench } from './bench.js';
import { Extra } from './extra.js';
import { drawElevation, movePlane } from './elevation.js';
import { Handles } from './handles.js';
import { wireFold } from './fold.js';
import { wireFoot } from './foot.js';
import { wireHints } from './hints.js';
import { Made } from './made.js';
import { Make } from './make.js';
import { Measure } from './measure.js';
import { History } from './history.js';
import { JigOptions } from './jigoptions.js';
import { drawSection } from './section.js';
import { drawTop, moveTopPlane } from './topview.js';
import { withThumb } from './thumb.js';
import { View3D } from './view3d.js';

const state = {
  text: '', // the spec as it is being edited
  name: '', // of its file, '' without one
  hash: '', // of the file as it was last read or written here
  seen: '', // of the file as it was last seen
  saved: '', // the text of that file
  gone: false, // the file is no longer there
  theirs: null, // the file as something else has written it
  x: 40, // of the section plane, mm
  model: null, // the last answer
  drawn: null, // the last answer with a neck
  products: null, // that can be made, as the last answer at rest has them
};

let view = null;
let controls = null;
let bench = null;
let handles = null;
let made = null;
let extra = null;
let jigOptions = null;
let compare = null;
let measuring = null;
const frames = {}; // of the pictures, for a pointer on them
const history = new History(() => showHistory());

// --- asking for models

const work = {
  edits: [], // that wait to be asked for
  flying: [], // that were asked for and are not answered
  gesture: 0, since: 0, dirty: false, busy: false, epoch: 0, last: -1, idle: 0, fine: null,
  again: 0, // timer of another try when the program does not answer
  waiting: [], // what goes on when nothing is under way
};

// settled waits until nothing is under way. Where the program does not answer,
// edits may still wait.
async function settled() {
  while (work.busy) await new Promise((done) => work.waiting.push(done));
}

// No control may act on a text that was not read. Between another text's taking
// the place of this one and its being read, controls still show the values of
// the old one: what they ask for is held until then, and dropped if the new text
// has another value there.
const reading = { done: true, held: [], shown: null };

// waiting counts the edits that the program has not judged.
const waiting = () => work.edits.length + work.flying.length + reading.held.length;

// release lets go what was held for a text that has now been read.
function release(model) {
  if (reading.done) return;
  reading.done = true;
  showHistory(); // what was not read bars a step back
  const { held, shown } = reading;
  reading.held = [];
  if (!held.length) return;
  const same = (key) => JSON.stringify(shown?.[key]) === JSON.stringify(model.values?.[key]);
  const good = model.values && shown && controls.signature(shown) === controls.signature(model.values)
    ? held.filter((e) => (e.op === 'shape' ? ['shape', 'bass', 'treble'].every((k) => same(`${e.path}.${k}`)) : same(e.path)))
    : [];
  if (good.length < held.length) say('A control was moved before the text was read again, and is left as the text has it.', 'error');
  if (!good.length) return;
  work.edits = joined(good, work.edits);
  work.dirty = true;
}

// edit takes changes that controls ask for. Changes of one key that wait for
// the program replace each other.
function edit(edits, gesture, at) {
  takeText();
  if (reading.done && !state.model?.values) return controls.again();
  if (!reading.done) {
    reading.held = joined(reading.held, edits);
    work.gesture = gesture;
    work.since ||= at;
    return showFile();
  }
  if (edits.some((e) => e.op === 'units')) say('Every length is converted. Comments in the text keep the unit they were written in.');
  work.edits = joined(work.edits, edits);
  view?.stir();
  work.gesture = gesture;
  work.since ||= at;
  refresh();
  showFile();
}

// joined puts edits behind others. Of two in a row that set the same key only
// the second counts.
function joined(first, second) {
  const out = [...first];
  for (const e of second) {
    const last = out.at(-1);
    if (['set', 'side', 'place'].includes(e.op) && last?.op === e.op && last.path === e.path) out.pop();
    out.push(e);
  }
  return out;
}

// mostEdits is how many edits the program takes at once.
const mostEdits = 50;

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
  clearTimeout(work.again);
  work.busy = true;
  let next = null; // that is asked already
  while (next || work.dirty) {
    const { answer, edits, gesture, before, epoch, took } = next ?? begun();
    next = null;
    try {
      const model = await answer;
      if (epoch !== work.epoch) continue; // another text took its place
      took.answered = performance.now();
      work.flying = [];
      if (edits.length) {
        if (gesture !== work.last) {
          work.last = gesture;
          history.remember(before);
        }
        setText(model.text, true);
      }
      // What has come meanwhile is reckoned while this is drawn.
      if (work.dirty && reading.done) next = begun();
      show(model, took);
      release(model);
      heard();
    } catch (error) {
      if (epoch !== work.epoch) continue;
      work.flying = next?.edits ?? [];
      if (unanswered(error)) {
        // Nobody has judged the edits: they wait.
        work.edits = joined(edits, work.edits);
        work.dirty = true;
        unheard(error);
        break;
      }
      say(error.message, 'error');
      if (state.model) {
        for (const e of edits) controls.refused(e.path, error.message);
        controls.again();
        controls.show(state.model.values, state.model.problems);
      }
    }
  }
  work.busy = false;
  for (const go of work.waiting.splice(0)) go();
  rest();
}

// begun asks for the neck with the edits that wait, and returns what is to be known
// when the answer comes.
function begun() {
  const { gesture, since, epoch } = work;
  const edits = work.edits.slice(0, mostEdits);
  const before = state.text;
  work.edits = work.edits.slice(mostEdits);
  work.dirty = work.edits.length > 0;
  work.flying = edits;
  work.since = 0;
  const took = { since, asked: performance.now() };
  const answer = askModel({ text: before, edits, x: state.x, fine: false, thickness: mapped(), lean: striped(), ...compare.request() });
  answer.catch(() => {}); // it is heard where it is waited for
  return { answer, edits, gesture, before, epoch, took };
}

// unanswered reports whether a request failed for a reason that is not its own.
const unanswered = (error) => error instanceof Refused && [0, 403, 421, 503].includes(error.status);

// unheard says that the program does not answer, and what becomes of the work.
function unheard(error) {
  clearTimeout(work.again);
  showText();
  const barred = error.status === 403 || error.status === 421;
  if (!barred) work.again = setTimeout(() => { if (!work.busy) pump(); }, 2000);
  if (error.status === 503) return say(error.message, 'error'); // busy
  setWords(byId('lost-what'), (barred
    ? 'neckloft live was started anew, and this page has the key of the old one. Open the address that it has printed; your work is still here.'
    : 'neckloft live does not answer. Your work is still here, and this page goes on by itself when it answers again. If you start it anew, open the address that it prints.')
    + ' The spec can be copied from “The spec as text”' + (waiting() ? ', but for the last move, which waits for the program.' : '.'));
  if (!byId('lost').hidden) return;
  byId('lost').hidden = false;
  pointUp(byId('lost'), 'neckloft live does not answer');
}

function heard() {
  if (byId('lost').hidden) return;
  byId('lost').hidden = true;
  if (work.dirty && !work.busy) pump();
}

// takeBack undoes a gesture that has ended in something that is no value.
function takeBack(gesture, path) {
  work.edits = work.edits.filter((e) => e.path !== path);
  reading.held = reading.held.filter((e) => e.path !== path);
  replaceText(work.last === gesture ? history.drop() ?? state.text : state.text, false);
  showHistory();
}

// rest asks for the fine neck when nothing has moved for a moment.
function rest() {
  clearTimeout(work.idle);
  if (work.busy || work.dirty) return;
  work.idle = setTimeout(async () => {
    showText();
    const epoch = work.epoch;
    const text = state.text;
    work.fine?.abort();
    const abort = new AbortController();
    work.fine = abort;
    try {
      const model = await askModel({ text, edits: [], x: state.x, fine: true, thickness: mapped(), lean: striped(), ...compare.request() }, abort.signal);
      if (epoch !== work.epoch || text !== state.text || work.busy || work.dirty) return; // stale
      show(model);
    } catch (error) {
      if (error.name === 'AbortError') return;
      if (unanswered(error)) {
        work.dirty = true;
        unheard(error);
      } else say(error.message, 'error');
    }
  }, 120);
}

// replaceText puts another text in place of what is edited. Edits that are under
// way are made to it when it has been read, or dropped.
function replaceText(text, keep = true, edits = []) {
  if (keep && text !== state.text) history.remember(state.text);
  work.epoch++;
  if (reading.done) reading.shown = state.model?.values;
  reading.done = false;
  reading.held = edits;
  work.edits = [];
  work.flying = [];
  work.last = -1;
  controls.anew();
  setText(text);
  refresh();
}

// setText takes another text. In a move the box with it follows at rest: to lay
// it out anew takes as long as a picture.
function setText(text, moving) {
  state.text = text;
  if (!moving || document.activeElement === byId('text')) showText();
  showFile();
}

// What was typed into the box with the spec's text and is not taken yet.
const typed = { pending: false, timer: 0 };

// showText fills the box with the spec's text, if it can be seen.
function showText() {
  if (byId('text-part').open && !typed.pending) setKeepingPlace(byId('text'), plainLines(state.text));
}

// takeText makes what was typed into the box the spec's text. Whatever else
// looks at that text or changes it comes here first, so that the box is never
// older than what it stands for.
function takeText() {
  controls?.flush();
  clearTimeout(typed.timer);
  if (!typed.pending) return;
  typed.pending = false;
  const text = withEndings(state.text, byId('text').value);
  if (text !== state.text) replaceText(text, true, joined(joined(work.flying, work.edits), reading.held));
}

// --- showing a model

const times = []; // of the last moves of a control, ms
let first = 0; // when the first neck was seen, ms since the page was asked for

// show shows an answer: first the picture in space, which is drawn elsewhere while
// all that stands around it is brought up to date here.
function show(model, took) {
  const moved = Boolean(took?.since) && model.ok;
  const ready = performance.now();
  state.model = model;
  if (model.ok) {
    state.drawn = model;
    state.section = model.section;
    state.x = model.section.x;
    if (!first) requestAnimationFrame(() => soon(() => { first ||= performance.now(); }));
    showSpace(model);
    if (moved) view?.draw();
  }
  controls.show(model.values, model.values ? model.problems : []); // why a text cannot be read is told once
  showProblems(model);
  showUnread(model);
  document.body.classList.toggle('unsound', !model.ok);
  for (const id of ['to-make', 'to-make-here']) setAttribute(byId(id), 'aria-disabled', model.ok ? null : 'true');
  const name = model.values?.name ?? (state.name || 'neck');
  setWords(byId('title'), name);
  setWords(document.querySelector('title'), `${name} · neckloft`);
  if (!model.ok) {
    announce(model.problems);
    return barProducts();
  }
  fitPlane();
  for (const draw of Object.values(drawers)) draw();
  showNumbers(model);
  if (model.stations) {
    showStations(model.stations);
    announce(model.problems);
  }
  if (model.products) {
    showProducts(model.products, model.bench ?? []);
    state.products = model.products;
    made.offer(model.pictures);
    extra.list();
  } else {
    barProducts();
    made.stale();
  }
  document.body.classList.toggle('coarse', !model.stations);
  compare.place();
  compare.sameHand();
  if (!moved) return;
  showLatency();
  measure(took, ready);
}

// drawers draw the pictures, each with its handles.
const drawers = { side: () => drawSide(), top: () => drawAbove(), section: () => drawCut(), space: () => spaceHandles() };

// mapped says that the view in space shows how thick the neck is.
const mapped = () => view?.look3d === 'thickness';

// striped says that the neck lies in the light of striped lamps.
const striped = () => view?.look3d === 'stripes' || view?.look3d === 'across';

function showRamp() {
  byId('ramp').hidden = !mapped() || !view.span;
  if (byId('ramp').hidden) return;
  const inch = state.model?.values?.units === 'in';
  const words = (mm) => (inch ? `${(mm / controls.mmPerInch).toFixed(2)} in` : `${mm.toFixed(1)} mm`);
  setWords(byId('ramp-low'), words(view.span[0]));
  setWords(byId('ramp-high'), words(view.span[1]));
  // The lines of equal thickness.
  view.lines(inch ? 0.05 * controls.mmPerInch : 1);
  setWords(byId('ramp-lines'), inch ? 'lines 0.05 in apart' : 'lines 1 mm apart');
}

function showSpace(model) {
  view?.setMeshes(model.meshes);
  showRamp();
  view?.setElevation(model.elevation, compare.side());
  view?.setSection(model.section);
}

// soon calls back in a turn of its own, without the pause that a timer makes.
const turn = new MessageChannel();
const turns = [];
turn.port1.onmessage = () => turns.shift()?.();
function soon(go) {
  turns.push(go);
  turn.port2.postMessage(0);
}

// measure keeps how long a move's picture took from the move until it was drawn:
// waiting for the browser's own turn and for the answer before, the answer, and
// the drawing; until the frame with which it is seen begins; and until that frame
// is put together, which is what the foot of the page tells.
function measure(took, ready) {
  if (document.documentElement.dataset.measure) view?.finish();
  took.drawn = performance.now();
  took.wait = took.asked - took.since;
  took.answer = took.answered - took.asked;
  took.draw = took.drawn - ready;
  took.all = took.drawn - took.since;
  requestAnimationFrame(() => {
    took.frame = performance.now() - took.since;
    soon(() => {
      took.seen = performance.now() - took.since;
      latency.last = took.seen;
      clearTimeout(latency.timer);
      latency.timer = setTimeout(showLatency, 100);
    });
  });
  times.push(took);
  if (times.length > 1000) times.shift();
}

// The figure at the foot of the page comes with the picture of the next move, or
// when none follows: by itself it would make the browser lay out and paint again.
const latency = { last: 0, timer: 0 };
function showLatency() {
  if (latency.last) setWords(byId('latency'), `Last move seen after ${latency.last.toFixed(0)} ms`);
}

// unread tells that the text was read and is no spec.
const unread = () => reading.done && Boolean(state.model) && !state.model.values;

// undoBarred tells that a step back would leave a text which something else has
// written and which cannot be read: a hand that goes back by habit does not see
// what it leaves.
const undoBarred = () => unread() && history.crosses && !waiting();

// showUnread locks the controls while there is a text that cannot be read, hides
// the handles, and says so at the foot of the window, in sight wherever the page
// is. The list of problems says why.
function showUnread(model) {
  const off = !model.values;
  if (off) {
    const p = model.problems.find((q) => !q.warning);
    setWords(document.querySelector('#unread .what'), `${state.name || 'The text'} cannot be read${p?.line ? `: see line ${p.line}` : ''}.`);
    setWords(byId('unread-then'), `No control acts until it is put right${state.text === state.saved ? '' : '; the file is as it was'}.`);
  }
  byId('unread').hidden = !off;
  document.body.classList.toggle('unread', off);
  controls.lock(off);
  showHistory();
}

// toText shows the spec's text, at a line.
function toText(line) {
  const box = byId('text');
  byId('text-part').open = true;
  showText();
  box.focus();
  if (!line) return box.select();
  const at = box.value.split('\n').slice(0, line - 1).join('\n').length + (line > 1 ? 1 : 0);
  box.setSelectionRange(at, at);
  box.scrollTop = Math.max(0, (line - 6) * parseFloat(getComputedStyle(box).lineHeight || '20'));
}

// forget takes away all that is drawn of a neck: what comes is another one.
function forget() {
  state.model = null;
  state.drawn = null;
  state.section = null;
  shownProblems = '';
  view?.clear();
  handles.clear();
  controls.clear();
  for (const id of ['side-drawing', 'top-drawing', 'section-drawing', 'section-where', 'section-numbers', 'numbers', 'stations', 'problems', 'products', 'bench']) {
    byId(id).replaceChildren();
    byId(id).shown = '';
    delete byId(id).dataset.keys;
  }
}

let shownProblems = '';

// announce tells how many things there are to look at, when a hand rests and
// that has changed. The list itself follows every move and tells nothing.
let told = '';
function announce(problems) {
  const errors = problems.filter((p) => !p.warning).length;
  const count = (n, one) => (n === 1 ? `1 ${one}` : `${n} ${one}s`);
  const keys = problems.map((p) => p.key).join();
  if (keys === told) return;
  const first = told === '' && keys === '';
  told = keys;
  if (!first) setWords(byId('told'), problems.length ? `${[errors && count(errors, 'error'), problems.length > errors && count(problems.length - errors, 'warning')].filter(Boolean).join(' and ')}: ${[...new Set(problems.map((p) => p.key))].join(', ')}` : 'Nothing to look at any more');
}

function showProblems(model) {
  byId('kept').hidden = model.ok || !state.drawn;
  const now = JSON.stringify([model.problems, Boolean(model.values)]);
  if (now === shownProblems) return;
  shownProblems = now;
  // What is wrong comes first.
  const list = [...model.problems].sort((a, b) => a.warning - b.warning);
  const rest = byId('problems-all');
  rest.hidden = list.length < 2;
  setWords(rest, byId('problems').classList.contains('all') ? 'Only the first' : `and ${list.length - 1} more`);
  byId('problems').replaceChildren(...list.map((p) => {
    const where = [p.line ? `line ${p.line}` : '', p.key].filter(Boolean).join(', ');
    return el('li', { class: p.warning ? 'warning' : 'error' },
      el('span', { class: 'what', text: p.warning ? 'Look at this' : 'Wrong' }),
      el('span', { text: (where ? where + ': ' : '') + p.message }),
      model.values ? p.key && el('button', { type: 'button', text: 'Go there', 'aria-label': `Go there: ${p.key}`, onclick: () => controls.reveal(p.key) })
        : el('button', { type: 'button', text: 'Go there', 'aria-label': `Go there: ${where || 'the text'}`, onclick: () => toText(p.line || 1) }));
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
  if (!same) list.replaceChildren(...keys.map((k) => el('div', { 'data-key': k }, el('dt'), el('dd', {}, el('strong'), el('em', { class: 'apart' }), el('span')))));
  [...list.children].forEach((row, i) => {
    const n = model.numbers[i];
    row.classList.toggle('old', !n);
    if (!n) return;
    // "18.2 mm at fret 3": the number stands out, the rest is small.
    const m = /^((?:EI )?[-\d.]+ (?:mm|in|g|N m²))(.*)$/.exec(n.text) ?? ['', '', n.text];
    setWords(row.firstChild, n.label);
    setWords(row.querySelector('strong'), m[1]);
    setWords(row.querySelector('em'), n.apart ?? '');
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
  const apart = (i, k) => t.apart && el('span', { class: 'apart', text: t.apart[i][k] });
  const rows = t.rows.map((row, i) => el('tr', { 'data-x': t.x[i] }, ...row.map((cell, k) =>
    k === 0
      ? el('th', { scope: 'row' }, el('button', { type: 'button', class: 'link', text: cell, title: 'Move the section plane here', onclick: () => moveTo(t.x[i]) }))
      : el('td', {}, cell || '–', cell && apart(i, k)))));
  table.replaceChildren(el('caption', { text: `Lengths in ${t.unit}${t.apart ? '; under them the difference from the other neck, each at its own frets' : ''}` }), el('thead', {}, head), el('tbody', {}, ...rows));
  return markStation();
}

function markStation() {
  for (const row of byId('stations').querySelectorAll('tr[data-x]')) {
    row.classList.toggle('here', Math.abs(parseFloat(row.dataset.x) - state.x) < 0.06);
  }
}

function showProducts(products, words) {
  const now = JSON.stringify([products, words]);
  const list = byId('products');
  if (list.shown !== now) {
    list.shown = now;
    byId('bench').replaceChildren(...words.map((w) => el('p', { class: 'error', text: (/^\w+\.\w/.test(w) ? w : w[0].toUpperCase() + w.slice(1)) + '.' })));
    const everything = { name: 'all.zip', what: 'All of these in one file.' };
    list.replaceChildren(...[...products, everything].map((p) => el('li', {},
      el('button', { type: 'button', 'data-name': p.name, 'data-missing': p.missing ? 'yes' : null, text: p.name, onclick: (e) => download(p.name, e.currentTarget) }),
      el('span', {}, p.missing || p.refused ? el('strong', { text: p.missing ? 'Not made: ' : 'Refused, do not cut by it: ' }) : null, p.missing || p.what))));
  }
  barProducts();
}

// barProducts lets be made only what can be.
function barProducts() {
  for (const b of byId('products').querySelectorAll('button')) {
    const off = !state.model?.ok || b.dataset.missing === 'yes' || b.dataset.busy === 'yes';
    if (b.disabled !== off) b.disabled = off;
  }
}

// --- drawings

// redraw draws all of the pictures anew.
function redraw() {
  if (!state.drawn) return;
  fitPlane();
  drawSide();
  drawAbove();
  drawCut();
  spaceHandles();
}

// along projects a place in mm into a picture along the neck, or anyway where it
// is out of sight.
const along = (f, part) => ([x, y, z], anyway) => (anyway || f.has(x) ? [f.x(x), f.y(part === 'y' ? y : z)] : null);

function drawSide() {
  const e = state.drawn.elevation;
  const f = drawElevation(e, state.x, compare.side(), bench.how('side'));
  frames.side = f;
  handles.show('side', state.drawn.handles, along(f, 'z'), bench.main === 'side');
}

function drawAbove() {
  const f = drawTop(state.drawn.top, state.drawn.elevation, state.x, compare.top(), bench.how('top'));
  frames.top = f;
  handles.show('top', state.drawn.handles, along(f, 'y'), bench.main === 'top');
}

// spaceHandles lays the handles over the view in space.
function spaceHandles() {
  if (!view || !state.drawn) return;
  handles.show('space', [...state.drawn.handles, ...(state.section?.handles ?? [])], (at, anyway) => view.project(at, anyway), bench.main === 'space');
  measuring?.draw();
}

function drawCut() {
  const s = state.section;
  if (!s) return;
  state.x = s.x;
  movePlane(s.x);
  moveTopPlane(s.x);
  const f = drawSection(s, state.drawn.elevation, compare.section(), state.model.values?.units, {
    small: bench.main !== 'section' && !bench.printing, held: Boolean(handles.held), box: bench.printing ? { width: 420, height: 225 } : undefined,
  });
  frames.section = f;
  handles.show('section', s.handles, ([, y, z]) => [f.x(y), f.y(z)], bench.main === 'section');
  byId('plane').setAttribute('aria-valuetext', s.where);
  markStation();
}

// moveTo moves the section plane.
const plane = { busy: false, x: null };
async function moveTo(x) {
  plane.x = x;
  state.x = x;
  if (!state.drawn) return;
  movePlane(x);
  moveTopPlane(x);
  if (document.activeElement !== byId('plane')) byId('plane').value = x;
  if (plane.busy) return;
  plane.busy = true;
  while (plane.x !== null) {
    const at = plane.x;
    plane.x = null;
    try {
      const section = await ask('section', { text: state.drawn.text, x: at, ...compare.request() });
      if (plane.x === null) {
        state.section = section;
        compare.place();
        view?.setSection(section);
        if (compare.ghost) compareDrawn();
        else drawCut();
        if (bench.main === 'space') spaceHandles();
      }
    } catch (error) {
      say(error.message, 'error');
    }
  }
  plane.busy = false;
}

// point follows a pointer on a picture along the neck with the section plane.
function point(event, pane) {
  if (event.button || !state.drawn) return;
  const holder = byId(`${pane}-drawing`);
  const xOf = (clientX) => frames[pane].back(clientX - holder.getBoundingClientRect().left);
  const move = (e) => {
    const el = state.drawn.elevation;
    moveTo(Math.min(el.end, Math.max(el.start, xOf(e.clientX))));
  };
  follow(holder, event, move);
  move(event);
}

// corners are the points of a picture's outlines.
function corners(pane) {
  const { elevation: e, top } = state.drawn;
  if (pane === 'section') return [...state.section.wood, ...state.section.board];
  if (pane === 'top') return [...top.wood, ...top.board];
  return [...e.back, ...e.top, [0, e.crown], [e.boardEnd, e.crown]];
}

// probe asks what is at a point of the neck, one question at a time.
const probing = { busy: false };
async function probe(x, y) {
  if (probing.busy || !state.drawn) return null;
  probing.busy = true;
  try {
    return await ask('probe', { text: state.drawn.text, x, y });
  } catch {
    return null; // whatever is wrong is said elsewhere
  } finally {
    probing.busy = false;
  }
}

// station adds a thickness target where the side view, or the neck in space, is
// pointed at twice.
function station(x) {
  if (x === null || !state.model?.ok || !reading.done) return;
  edit([{ op: 'station', path: 'depth', value: x }], ++controls.gesture, performance.now());
  gestureEnd();
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

// redrawGhost draws anew, with room for the ghost.
function redrawGhost() {
  if (!state.drawn) return;
  view?.setElevation(state.drawn.elevation, compare.side());
  redraw();
}

// compareDrawn draws what shows the ghost.
function compareDrawn() {
  if (!state.drawn) return;
  drawSide();
  drawAbove();
  drawCut();
}

// fitPlane lets the slider of the section plane reach over what is drawn.
function fitPlane() {
  const { elevation } = state.drawn;
  const ghost = compare.side();
  bench.fit(elevation, ghost, state.model.values?.['heel.start']?.mm);
  const along = bench.main === 'side' || bench.main === 'top';
  const [from, to] = along ? bench.how(bench.main).window : range(elevation, ghost);
  const slider = byId('plane');
  limit(slider, 'min', from);
  limit(slider, 'max', to);
  if (document.activeElement !== slider) slider.value = state.x;
}

// --- files

const changed = () => Boolean(controls?.delayed) || state.text !== state.saved || state.gone || typed.pending || waiting() > 0;

// draft keeps what is not saved, a moment after the last change of it.
const drafting = { timer: 0, place: '', base: '' }; // base is what the file held before its text that history knows as newer
const placeOf = (name) => `${drafting.place}/${name}`;
function draft() {
  clearTimeout(drafting.timer);
  drafting.timer = setTimeout(keepDraft, 400);
}
function keepDraft() {
  clearTimeout(drafting.timer);
  if (!controls || !byId('draft').hidden) return; // one that is offered stays until it is decided on
  if (state.text !== state.saved) drafts.keep(placeOf(state.name), { text: state.text, base: history.stale ? drafting.base : state.saved });
  else drafts.drop(placeOf(state.name));
}

// offerDraft shows what was not saved of the file that has just come up.
function offerDraft() {
  const box = byId('draft');
  const d = drafts.kept(placeOf(state.name));
  box.hidden = !d || d.text === state.text;
  if (box.hidden) {
    if (d) drafts.drop(placeOf(state.name));
    return;
  }
  const when = new Date(d.when).toLocaleString([], { dateStyle: 'medium', timeStyle: 'short' });
  setWords(byId('draft-what'), `What you changed in ${state.name || 'this spec'} on ${when} was not saved, and this browser has kept it.`
    + (d.base === state.saved ? '' : ' The file has been changed since.'));
  byId('draft-lines').replaceChildren(...differing(d.text, state.text));
  byId('draft-take').onclick = () => {
    box.hidden = true;
    takeText();
    replaceText(d.text);
    if (d.base !== state.saved) {
      drafting.base = d.base;
      history.older();
    }
    say('The draft is taken up; Undo goes back to the file.');
    byId('save').focus();
  };
  byId('draft-drop').onclick = () => {
    box.hidden = true;
    drafts.drop(placeOf(state.name));
    keepDraft();
    byId('controls-heading').focus();
  };
}

function showFile() {
  draft();
  setWords(byId('file-name'), state.name || 'no file yet');
  const words = state.gone ? 'not saved: the file is gone' : state.theirs ? 'two versions' : changed() ? 'not saved' : state.name ? 'saved' : 'as given';
  setWords(byId('file-state'), words);
  document.body.classList.toggle('unsaved', changed());
  bar(byId('save'), Boolean(state.name) && !changed() && !state.theirs && state.hash !== '');
}

function showHistory() {
  const barred = undoBarred();
  bar(byId('undo'), barred || history.past.length === 0);
  if (byId('unread-back').hidden === barred) byId('unread-back').hidden = !barred;
  bar(byId('redo'), history.future.length === 0);
}

// bar bars a button that has nothing to do. One that has the focus keeps it, and
// does nothing, until it is left.
function bar(button, off) {
  const held = off && document.activeElement === button;
  if (button.disabled !== (off && !held)) button.disabled = off && !held;
  if (held) {
    button.setAttribute('aria-disabled', 'true');
    button.addEventListener('blur', () => { showFile(); showHistory(); }, { once: true });
  } else if (button.hasAttribute('aria-disabled')) button.removeAttribute('aria-disabled');
}

function adopt(file) {
  state.name = file.name;
  state.hash = file.hash;
  state.seen = file.hash;
  state.saved = file.text;
  state.gone = false;
  state.theirs = null;
  byId('conflict').hidden = true;
}

// save writes the file, one writing at a time.
let saving = Promise.resolve();
let savings = 0;
async function save(name = state.name, hash = undefined) {
  if (!name) return saveAs();
  savings++;
  saving = saving.then(() => write(name, hash)).finally(() => { savings--; });
  return saving;
}

async function write(name, known) {
  takeText();
  await settled();
  if (waiting()) return say('Not saved: the program does not answer.', 'error');
  const text = state.text;
  const hash = known ?? (name === state.name ? state.hash : '');
  if (known === undefined && name === state.name && history.stale && text !== state.saved && hash !== '') {
    return conflict({ name, text: state.saved, hash }, `${name} was changed by something else, and what you have here is from before that`, name);
  }
  try {
    const file = await ask('save', { name, text, hash });
    const other = file.name !== state.name;
    adopt(file);
    history.saved();
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

// differing returns the lines in which mine differs from theirs.
const differing = (mine, theirs) => difference(theirs, mine).map(([sign, line]) => el('div', { class: { '-': 'theirs', '+': 'mine', ' ': 'both' }[sign], text: `${sign} ${line}` }));

// conflict shows that a file is not what it was, or that another one has the
// name, and lets the builder choose. It takes the focus from nothing that is
// typed into or moved.
function conflict(current, message, name) {
  const other = name !== state.name;
  const there = current.hash !== '';
  if (!other && current.hash !== state.hash) {
    state.theirs = current;
    state.seen = current.hash;
  }
  const box = byId('conflict');
  box.hidden = false;
  byId('conflict-heading').textContent = other ? 'That name is taken' : 'Two versions of this spec';
  byId('conflict-what').textContent = (other && there ? `${name} is there already, and it is not what you have here` : message) + '. Nothing was overwritten.';
  byId('conflict-lines').replaceChildren(...(there ? differing(state.text, current.text) : []));
  byId('conflict-key').hidden = !there;
  byId('take').hidden = !there || other;
  byId('later').textContent = other ? 'Leave that file alone' : 'Decide later';
  byId('take').onclick = () => {
    takeText();
    const text = current.text;
    drafting.base = state.saved;
    adopt(current);
    replaceText(text);
    history.follow();
    say(`This is ${current.name} as it is on the disk; Undo brings back what you had.`);
  };
  byId('keep').onclick = () => save(name, current.hash);
  byId('later').onclick = () => { box.hidden = true; };
  showFile();
  const at = document.activeElement;
  if (!at || at === document.body || at.tagName === 'BUTTON') byId('conflict-heading').focus();
  else pointUp(box, byId('conflict-heading').textContent);
}

// pointUp tells of something at the top of the page, if that is out of sight.
function pointUp(box, words) {
  const { top, bottom } = box.getBoundingClientRect();
  if (bottom < 40 || top > window.innerHeight - 40) say(`${words}: see the top of this page.`, 'error');
}

async function saveAs() {
  const dialog = byId('save-as');
  const field = byId('save-name');
  field.value = state.name || field.dataset.proposed || `${stem()}.toml`;
  dialog.returnValue = '';
  dialog.showModal();
  field.select();
  await new Promise((done) => dialog.addEventListener('close', done, { once: true }));
  if (dialog.returnValue !== 'save') return;
  let name = field.value.trim();
  if (!/\.toml$/i.test(name)) name += '.toml';
  await save(name);
}

// chooseSpec shows the specs of the folder. Only a choice opens one.
async function chooseSpec() {
  const list = await names();
  if (!list) return say('The folder cannot be read: the program does not answer.', 'error');
  const dialog = byId('open-spec');
  byId('open-list').replaceChildren(...list.map((n) => el('li', {}, el('button', {
    type: 'button', 'data-name': n, text: n, 'aria-current': n === state.name ? 'true' : null,
    onclick: () => {
      dialog.close();
      open(n);
    },
  }))));
  byId('open-none').hidden = list.length > 0;
  dialog.showModal();
  (dialog.querySelector('[aria-current]') ?? dialog.querySelector('#open-list button'))?.focus();
}

async function open(name) {
  takeText();
  await settled();
  if (changed() && !(await mayLeave(name))) return;
  try {
    const file = await ask('open', { name });
    delete byId('save-name').dataset.proposed;
    adopt(file);
    forget();
    replaceText(file.text, false);
    history.clear(); // of another file
    say(`${file.name} is open.`);
    offerDraft();
    watch();
  } catch (error) {
    say(error.message, 'error');
  }
}

// mayLeave says whether another spec may take the place of what is not saved.
async function mayLeave(name) {
  const answer = await leave(name);
  if (answer === 'save') {
    await save();
    return !changed(); // not saved, and said so
  }
  return answer === 'drop';
}

// leave asks what becomes of work that is not saved. Its answer at hand is to
// stay.
async function leave(name) {
  const dialog = byId('leave');
  byId('leave-what').textContent = `What you have changed in ${state.name || 'this spec'} is not saved. Before ${name} is opened:`;
  dialog.returnValue = '';
  dialog.showModal();
  byId('leave-stay').focus();
  await new Promise((done) => dialog.addEventListener('close', done, { once: true }));
  return dialog.returnValue;
}

async function names() {
  let list;
  try {
    list = await ask('files');
  } catch {
    return undefined;
  }
  compare.offer(list);
  return list;
}

// watch follows the file while something else writes it. It asks again and
// again: a question left open would keep one of the few connections that the
// browser has for all tabs.
let watching = 0;
async function watch() {
  const turn = ++watching;
  while (turn === watching && state.name) {
    await new Promise((done) => setTimeout(done, document.hidden ? 3000 : 1000));
    if (turn !== watching || savings) continue;
    const { name, seen } = state;
    try {
      const file = await ask('watch', { name, hash: seen });
      heard();
      if (!file.name) continue;
      takeText();
      await settled();
      if (turn !== watching || savings || name !== state.name || seen !== state.seen) continue; // it is known by now
      changedOnDisk(file);
    } catch (error) {
      if (!unanswered(error)) say(error.message, 'error');
      else if (error.status !== 503) unheard(error);
      await new Promise((done) => setTimeout(done, 2000));
    }
  }
}

// changedOnDisk takes up what the file holds now.
function changedOnDisk(file) {
  state.seen = file.hash;
  if (file.hash === '') {
    if (state.theirs) byId('conflict').hidden = true;
    state.theirs = null;
    state.hash = '';
    state.gone = true;
    showFile();
    say(`${file.name} is no longer there. Save writes it anew.`, 'error');
  } else if (file.text === state.saved) {
    // Back to what it was: whatever is changed here stays changed.
    if (state.theirs) byId('conflict').hidden = true;
    state.theirs = null;
    state.hash = file.hash;
    state.gone = false;
    showFile();
  } else if (file.text === state.text) {
    adopt(file);
    showFile();
  } else if (state.text !== state.saved || waiting()) {
    conflict(file, `${file.name} was changed by something else, and you have changes here that are not saved`, file.name);
  } else {
    drafting.base = state.saved;
    adopt(file);
    replaceText(file.text);
    history.follow();
    say(`${file.name} was changed by something else; the page follows it.`);
  }
}

// download makes a file, or of all of them only some, and hands it out.
async function download(name, button, only = [], as = '') {
  const label = button.textContent;
  button.textContent = label + ' …';
  await waits(button, async () => {
    try {
      takeText();
      await settled();
      const data = await askBytes('make', { name, text: state.text, only, ...jigOptions.request() });
      const base = state.name.replace(/\.toml$/i, '') || 'neck';
      const file = as || (name === 'all.zip' ? `${base}.zip` : name);
      handOut(new Blob([data]), file);
      const warned = /^(plan\.|all\.)/.test(name) && !as ? byId('bench').textContent : '';
      say(`${file} is made. ${warned}`, warned ? 'error' : 'note');
    } catch (error) {
      say(error.message, 'error');
    }
  });
  button.textContent = label;
  barProducts();
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

// stepHistory goes a step back or forth. What something else has written and
// cannot be read is left only where that is asked for.
async function stepHistory(back, asked) {
  takeText();
  await settled();
  if (back && !asked && undoBarred()) return say(`${state.name || 'The text'} was written by something else and cannot be read. “Back to the neck before” goes back; the file stays as it is.`, 'error');
  if (back && waiting()) return replaceText(state.text, false); // what waits is what is taken back
  const text = back ? history.undo(state.text) : history.redo(state.text);
  if (text !== undefined) replaceText(text, false);
  if (!history.stale && !state.theirs) byId('conflict').hidden = true;
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
  byId('save').onclick = (e) => e.currentTarget.ariaDisabled !== 'true' && save();
  byId('save-other').onclick = () => saveAs();
  byId('open').onclick = chooseSpec;
  // The address keeps the key.
  document.querySelector('.skip').onclick = (e) => {
    e.preventDefault();
    byId('controls-heading').scrollIntoView();
    byId('controls-heading').focus();
  };
  if (alone) wireAlone();
  byId('ghost').onfocus = names;
  byId('theme').onchange = (e) => {
    theme(e.target.value);
    // For every run of the program, whatever its port.
    document.cookie = `neckloft-colours=${e.target.value}; path=/; max-age=31536000; samesite=strict`;
  };
  for (const pane of ['side', 'top']) {
    byId(`${pane}-drawing`).addEventListener('pointerdown', (e) => point(e, pane));
    byId(`${pane}-drawing`).addEventListener('dblclick', (e) => station(frames[pane].back(e.clientX - byId(`${pane}-drawing`).getBoundingClientRect().left)));
  }
  byId('view').addEventListener('dblclick', (e) => station(view.hit(e)?.[0] ?? null));
  byId('problems-all').onclick = (e) => {
    const all = byId('problems').classList.toggle('all');
    e.currentTarget.setAttribute('aria-expanded', String(all));
    setWords(e.currentTarget, all ? 'Only the first' : `and ${byId('problems').children.length - 1} more`);
  };
  byId('controls').addEventListener('focusin', (e) => {
    const path = e.target.closest('.control')?.dataset.path ?? '';
    handles.mark(path);
    if (path) bench.follow(path, state.model?.values);
  });
  byId('find').oninput = (e) => {
    const n = controls.seek(e.target.value.trim());
    setWords(byId('found'), e.target.value.trim() ? (n === 1 ? '1 key' : `${n} keys`) : '');
  };
  byId('find').onkeydown = (e) => {
    if (e.key === 'Escape') clearSearch();
    if (e.key !== 'Enter') return;
    e.preventDefault();
    [...byId('controls').querySelectorAll('.control input, .control select, .control button')].find((i) => i.checkVisibility())?.focus();
  };
  const make = new Make({
    bytes: (body) => askBytes('make', { ...body, ...jigOptions.request() }),
    ready: async () => {
      takeText();
      await settled();
      return state.text;
    },
    stem: () => state.name.replace(/\.toml$/i, '') || 'neck', handOut, words: () => byId('bench').textContent, extra,
  });
  byId('to-make').onclick = byId('to-make-here').onclick = () => {
    if (!state.model?.ok || !state.products) return say('Nothing can be made before the spec is put right.', 'error');
    make.open(state.products, state.text);
  };
  const wide = matchMedia('(min-width: 1300px)');
  const menu = () => {
    byId('menu').classList.toggle('wide', wide.matches);
    byId('menu').open = wide.matches;
  };
  wide.addEventListener('change', menu);
  menu();
  document.addEventListener('pointerdown', (e) => {
    if (!wide.matches && !e.target.closest('#menu')) byId('menu').open = false;
  });
  byId('menu').addEventListener('keydown', (e) => {
    if (e.key !== 'Escape' || wide.matches) return;
    byId('menu').open = false;
    byId('menu').querySelector('summary').focus();
  });
  wireHints();
  wireFold();
  withThumb(byId('plane'));
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
  byId('dress').onchange = (e) => {
    view?.dress(e.target.value);
    showRamp();
    if (mapped() || striped()) refresh();
  };
  byId('text-part').ontoggle = showText;
  const text = byId('text');
  text.onfocus = showText;
  text.oninput = () => {
    typed.pending = true;
    clearTimeout(typed.timer);
    if (waiting()) takeText(); // which are made to this text then
    else typed.timer = setTimeout(takeText, 250);
    showFile();
  };
  byId('lost-text').onclick = () => toText();
  byId('unread-text').onclick = () => toText(state.model?.problems.find((p) => !p.warning && p.line)?.line ?? 1);
  byId('unread-back').onclick = () => stepHistory(true, true);
  document.addEventListener('keydown', (e) => {
    if (!(e.ctrlKey || e.metaKey || e.altKey)) return plainKey(e);
    if (e.altKey) return;
    const key = e.key.toLowerCase();
    if (key === 's') {
      e.preventDefault();
      save();
    } else if ((key === 'z' || key === 'y') && e.target !== text) {
      e.preventDefault();
      stepHistory(key === 'z' && !e.shiftKey);
    }
  });
  window.addEventListener('beforeunload', (e) => {
    takeText();
    keepDraft();
    if (changed()) e.preventDefault();
  });
  window.addEventListener('pagehide', keepDraft);
  const print = (on) => {
    bench.printing = on;
    redraw();
  };
  window.addEventListener('beforeprint', () => {
    if (view) byId('print-view').src = view.picture();
    print(true);
  });
  window.addEventListener('afterprint', () => print(false));
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => view?.paint());
  wireFoot();
  let settle = 0;
  onSize(() => {
    cancelAnimationFrame(settle);
    settle = requestAnimationFrame(redraw);
  });
}

function clearSearch() {
  if (!byId('find').value) return;
  byId('find').value = '';
  byId('find').oninput({ target: byId('find') });
}

// plainKey takes the keys that work wherever nothing is typed.
function plainKey(e) {
  if (document.querySelector('dialog[open]') || e.target.closest('input:not([type=range], [type=checkbox]), select, textarea')) return;
  const panes = { 1: 'space', 2: 'section', 3: 'side', 4: 'top', 5: 'made' };
  if (e.key === '?') byId('keys').showModal();
  else if (e.key === '/') byId('find').focus();
  else if (panes[e.key]) bench.show(panes[e.key]);
  else if (e.key === 'm') measuring.turn(!measuring.on, true);
  else return;
  e.preventDefault();
}

// wireAlone makes the page one that keeps its specs in the browser, and hands
// them out and in as files.
function wireAlone() {
  setWords(byId('save-where'), 'Name in this browser');
  setWords(byId('open-heading'), 'Open a spec kept in this browser');
  setWords(byId('open-none'), 'No spec is kept in this browser yet.');
  setWords(byId('where'), alone.shelf.lasting
    ? 'neckloft in one page: everything stays in this browser. A browser may clear what it keeps; take out the spec as a file to be sure of it.'
    : 'neckloft in one page: this browser keeps nothing after the page is closed. Take out the spec as a file.');
  byId('take-out').hidden = false;
  byId('take-out').onclick = () => {
    takeText();
    handOut(new Blob([state.text], { type: 'application/toml' }), state.name || `${stem()}.toml`);
  };
  byId('bring-in').hidden = false;
  byId('bring-file').onchange = async (e) => {
    const [given] = e.target.files;
    if (!given) return;
    const text = await given.text();
    e.target.value = '';
    byId('open-spec').close();
    let name = given.name;
    if (!/\.toml$/i.test(name)) name += '.toml';
    if (changed() && !(await mayLeave(name))) return;
    // It is not kept here before it is saved.
    adopt({ name: '', text: '', hash: '' });
    forget();
    replaceText(text, false);
    history.clear();
    byId('save-name').dataset.proposed = name;
    say(`${given.name} is open; Save keeps it in this browser.`);
  };
}

// handOut gives the builder a file.
function handOut(blob, name) {
  const url = URL.createObjectURL(blob);
  el('a', { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

// stem is the beginning of a file name for the neck.
const stem = () => (state.model?.values?.name ?? 'my neck').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '');

async function begin() {
  const colours = /(?:^|; )neckloft-colours=(light|dark)/.exec(document.cookie);
  theme(colours ? colours[1] : '');
  try {
    view = new View3D(byId('view'));
  } catch {
    byId('no-view').hidden = false;
    byId('view').hidden = true;
    document.querySelector('.looks').hidden = true;
  }
  bench = new Bench({ redraw: () => { redraw(); made?.renew(); }, moveTo, held: () => Boolean(handles?.held) });
  measuring = new Measure({
    frame: (pane) => frames[pane], hit: (e) => view?.hit(e) ?? null, project: (at) => view.project(at),
    corners, probe, x: () => state.x, main: () => bench.main, unit: () => state.model?.values?.units ?? 'mm', mmPerInch: () => controls.mmPerInch,
  });
  compare = new Compare({
    model: (text, hand) => askModel({ text, hand, edits: [], x: state.x, fine: false }), open: (name) => ask('open', { name }),
    drawn: () => state.drawn, section0: () => state.section, hand: () => state.model?.values?.hand ?? 'right', text: () => state.text, saved: () => state.saved,
    view: () => view, say, redraw: redrawGhost, renumber: () => { if (state.model?.ok) refresh(); },
  });
  jigOptions = new JigOptions(() => {
    made.renew();
    extra.list();
  });
  extra = new Extra({ ask, text: () => state.text, options: jigOptions, download });
  made = new Made({ askBytes, text: () => state.text, shown: () => bench.main === 'made', extra, options: jigOptions, download });
  handles = new Handles({
    edit, gestureEnd, released: redraw, gesture: () => ++controls.gesture, about: (a) => controls.about(a),
    ready: () => reading.done && Boolean(state.model?.values),
  });
  if (view) view.drawn = spaceHandles;
  wire();
  let start;
  onNewKey(() => {
    if (!start || !changed()) return location.reload();
    names();
    heard();
    if (!work.busy) refresh();
    say('The program of this address has taken over; your work is still here.');
  });
  try {
    start = await askStart();
  } catch (error) {
    document.body.classList.add('barred');
    byId('barred').textContent = error.message;
    byId('barred').hidden = false;
    return;
  }
  controls = new Controls(start, { edit, gestureEnd, takeBack, say, typing: () => showFile(), more: () => work.dirty || !reading.done, found: clearSearch });
  byId('cautions').replaceChildren(...start.cautions.map((c) => el('li', { text: c })));
  drafting.place = start.folder ?? '';
  adopt(start.file);
  setText(start.file.text);
  offerDraft();
  await names();
  showHistory();
  watch();
  refresh();
}

// What a test may look at.
window.neckloft = {
  times,
  get first() { return first; },
  // made returns a file for the bench in base 64.
  async made(name, only = []) {
    const data = new Uint8Array(await askBytes('make', { name, text: state.text, only, ...jigOptions.request() }));
    let text = '';
    for (let i = 0; i < data.length; i += 8192) text += String.fromCharCode(...data.subarray(i, i + 8192));
    return btoa(text);
  },
  get view() { return view && { camera: view.camera.position.toArray(), target: view.controls.target.toArray(), ghost: Boolean(view.meshes['ghost-wood']) }; },
  get text() { return state.text; },
  get x() { return state.x; },
  get main() { return bench.main; },
  get values() { return state.model?.values ?? {}; },
  get resting() { return reading.done && !controls?.delayed && !work.busy && !work.dirty && !plane.busy && !compare.busy && Boolean(state.model?.stations || (state.model && !state.model.ok)); },
};

begin();
