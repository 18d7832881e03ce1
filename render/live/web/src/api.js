// Requests to the program that serves this page, or to the engine in it.

import { Alone, isAlone } from './alone.js';
import { Socket } from './socket.js';

export const alone = isAlone() ? new Alone() : null;

// The key lets the page in. The address has it behind the #, where a link in the
// page or a hand may put something else; so it is kept for this tab, which a
// reload leaves as it is.
const shape = /^[0-9a-f]{48}$/;
const given = () => (shape.test(location.hash.slice(1)) ? location.hash.slice(1) : '');
const kept = () => {
  try { return sessionStorage.getItem('key') ?? ''; } catch { return ''; }
};
let token = given() || kept();

function keep() {
  try { sessionStorage.setItem('key', token); } catch { /* then the address has to do */ }
}

// askStart asks for what the page begins with, with the key of the address or
// else with the one that was kept.
export async function askStart() {
  if (alone) return ask('start');
  for (const key of new Set([token, kept()])) {
    token = key;
    try {
      const start = await ask('start');
      keep();
      return start;
    } catch (error) {
      if (error.status !== 403 || key === kept()) throw error;
    }
  }
  return undefined;
}

// onNewKey calls taken when another key has been put into the address, and the
// program takes it.
export function onNewKey(taken) {
  window.addEventListener('hashchange', async () => {
    const before = token;
    if (!given() || given() === before) return;
    token = given();
    try {
      await ask('files');
      keep();
      taken();
    } catch {
      token = before;
    }
  });
}

// Refused is an answer that says no, with the program's sentence.
export class Refused extends Error {
  constructor(status, body) {
    super(body?.error ?? `the program answered ${status}`);
    this.status = status;
    this.current = body?.current;
  }
}

// fromEngine asks the engine in the page.
async function fromEngine(path, body, signal) {
  const { status, data } = await alone.ask(path, body, signal);
  const json = () => JSON.parse(new TextDecoder().decode(data));
  if (status !== 200) throw new Refused(status, json());
  return { json, arrayBuffer: () => data.buffer };
}

// What is asked while a hand moves goes through a socket where there is one.
const socket = alone ? null : new Socket(() => token);
const quick = new Set(['model', 'section', 'probe']);

// fromSocket asks through the socket.
async function fromSocket(path, body, signal) {
  const { status, data, text } = await socket.ask(path, body, signal);
  const json = () => JSON.parse(text());
  if (status !== 200) throw new Refused(status, json());
  return { json, arrayBuffer: () => data };
}

async function send(path, body, signal) {
  if (alone) return fromEngine(path, body, signal);
  if (quick.has(path) && socket.open()) {
    try {
      return await fromSocket(path, body, signal);
    } catch (error) {
      if (error instanceof Refused || error.name === 'AbortError') throw error;
      // The socket is gone: a request of its own tells what has become of the program.
    }
  }
  let answer;
  try {
    answer = await fetch('/api/' + path, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', 'X-Neckloft-Token': token },
      body: JSON.stringify(body ?? {}),
      signal,
    });
  } catch (error) {
    if (error.name === 'AbortError') throw error;
    throw new Refused(0, { error: 'The program does not answer. Is neckloft live still running?' });
  }
  if (!answer.ok) throw new Refused(answer.status, await answer.json().catch(() => null));
  return answer;
}

export const ask = async (path, body, signal) => (await send(path, body, signal)).json();
export const askBytes = async (path, body, signal) => (await send(path, body, signal)).arrayBuffer();

// askModel returns the answer with its meshes as typed arrays, and with its text,
// of which only what has changed comes.
export async function askModel(body, signal) {
  const data = await askBytes('model', { ...body, brief: true }, signal);
  const view = new DataView(data);
  if (view.getUint32(0) !== 0x4e4c4631) throw new Error('the answer is not a model');
  const length = view.getUint32(4, true);
  const model = JSON.parse(new TextDecoder().decode(new Uint8Array(data, 8, length)));
  const { at: from, cut, put } = model.change;
  model.text = body.text.slice(0, from) + put + body.text.slice(from + cut);
  let at = 8 + length;
  for (const m of model.meshes) {
    m.positions = new Float32Array(data, at, 3 * m.vertices);
    at += 12 * m.vertices;
    m.normals = new Int8Array(data, at, 4 * m.vertices);
    at += 4 * m.vertices;
    const short = m.vertices <= 65536;
    m.index = new (short ? Uint16Array : Uint32Array)(data, at, m.indices);
    at += short ? Math.ceil(m.indices / 2) * 4 : 4 * m.indices;
    if (!m.thickness) continue;
    m[m.lean ? 'leans' : 'thick'] = new Float32Array(data, at, m.vertices);
    at += 4 * m.vertices;
  }
  return model;
}
