// The page with no program behind it: the engine, the program's own code as
// WebAssembly, lies in the page and answers in two workers, one for what moves
// and one for what takes longer. Specs are kept in the browser.

const data = (id) => document.getElementById(id)?.textContent ?? '';

// isAlone reports whether this page holds its engine.
export const isAlone = () => document.getElementById('engine') !== null;

// trusted lets the worker's own source be a script.
function trusted(url) {
  const policy = globalThis.trustedTypes?.createPolicy('engine', { createScriptURL: (u) => u });
  return policy ? policy.createScriptURL(url) : url;
}

// bytes reads what the page holds as text: five characters are four bytes, counted
// from "!" in base 85, with "v" for "<". A "z" is four zeros, and of fewer bytes there
// is one character more.
function bytes(text) {
  const end = text.length;
  const digit = (i) => {
    const c = i < end ? text.charCodeAt(i) : 117; // "u", the last one
    return (c === 118 ? 60 : c) - 33;
  };
  let zeros = 0;
  for (let i = text.indexOf('z'); i >= 0; i = text.indexOf('z', i + 1)) zeros++;
  const out = new Uint8Array(4 * zeros + Math.floor((end - zeros) * 4 / 5));
  let at = 0;
  for (let i = 0; i < end; at += 4) {
    if (text.charCodeAt(i) === 122) {
      i++;
      continue;
    }
    const v = (((digit(i) * 85 + digit(i + 1)) * 85 + digit(i + 2)) * 85 + digit(i + 3)) * 85 + digit(i + 4);
    out[at] = v >>> 24; // what is past the end is dropped
    out[at + 1] = v >>> 16;
    out[at + 2] = v >>> 8;
    out[at + 3] = v;
    i += 5;
  }
  return out;
}

// compiled returns the engine, unpacked and compiled once for both workers.
async function compiled() {
  const packed = new Blob([bytes(data('engine').trim())]).stream();
  const answer = new Response(packed.pipeThrough(new DecompressionStream('gzip')), { headers: { 'Content-Type': 'application/wasm' } });
  return WebAssembly.compileStreaming(answer);
}

// Hand asks one worker, one question at a time.
class Hand {
  constructor(module, url) {
    this.queue = [];
    this.asked = null;
    this.worker = module.then((m) => {
      const w = new Worker(url, { name: 'engine' });
      w.onmessage = (e) => this.answered(e.data);
      w.onerror = (e) => this.failed(e.message || 'the engine has stopped');
      w.postMessage({ module: m });
      return w;
    });
    this.worker.catch((e) => this.failed(e.message));
  }

  ask(name, body, signal) {
    return new Promise((resolve, reject) => {
      const q = { name, body, resolve, reject, signal };
      signal?.addEventListener('abort', () => reject(new DOMException('called off', 'AbortError')));
      this.queue.push(q);
      this.next();
    });
  }

  async next() {
    if (this.asked) return;
    this.queue = this.queue.filter((q) => !q.signal?.aborted);
    this.asked = this.queue.shift() ?? null;
    if (!this.asked) return;
    const { name, body } = this.asked;
    try {
      (await this.worker).postMessage({ name, body: new TextEncoder().encode(JSON.stringify(body ?? {})) });
    } catch (e) {
      this.failed(e.message);
    }
  }

  answered(reply) {
    const q = this.asked;
    this.asked = null;
    q?.resolve(reply);
    this.next();
  }

  failed(words) {
    const all = [this.asked, ...this.queue];
    this.asked = null;
    this.queue = [];
    for (const q of all) q?.reject(new Error(`the engine of this page has failed (${words}); load the page again`));
  }
}

// Shelf keeps specs in the browser, under the names of files. Where the browser
// keeps nothing they last as long as the page is open.
export class Shelf {
  constructor() {
    this.memory = new Map();
    try {
      this.store = globalThis.localStorage;
      this.store.setItem('neckloft-shelf', '1');
    } catch {
      this.store = null;
    }
  }

  get lasting() { return this.store !== null; }

  names() {
    const at = 'neckloft-spec:';
    const all = this.store
      ? Array.from({ length: this.store.length }, (_, i) => this.store.key(i)).filter((k) => k.startsWith(at)).map((k) => k.slice(at.length))
      : [...this.memory.keys()];
    return all.sort();
  }

  read(name) {
    const text = (this.store ? this.store.getItem('neckloft-spec:' + name) : this.memory.get(name)) ?? null;
    return text === null ? { name, text: '', hash: '' } : { name, text, hash: mark(text) };
  }

  write(name, text) {
    if (this.store) this.store.setItem('neckloft-spec:' + name, text);
    else this.memory.set(name, text);
    return this.read(name);
  }
}

// mark tells two texts apart.
function mark(text) {
  let a = 0x811c9dc5;
  let b = 0x1b873593;
  for (let i = 0; i < text.length; i++) {
    a = Math.imul(a ^ text.charCodeAt(i), 0x01000193);
    b = Math.imul(b + text.charCodeAt(i), 0x85ebca6b) ^ (b >>> 13);
  }
  return `${text.length}-${(a >>> 0).toString(16)}-${(b >>> 0).toString(16)}`;
}

const refused = (status, error, more) => ({ status, type: 'application/json', data: new TextEncoder().encode(JSON.stringify({ error, ...more })) });
const said = (v) => ({ status: 200, type: 'application/json', data: new TextEncoder().encode(JSON.stringify(v)) });

// Alone answers what the program would.
export class Alone {
  constructor() {
    const module = compiled();
    const url = trusted(URL.createObjectURL(new Blob([data('worker')], { type: 'text/javascript' })));
    this.quick = new Hand(module, url);
    this.slow = new Hand(module, url);
    this.shelf = new Shelf();
    this.given = JSON.parse(data('spec') || '{"name":"","text":""}');
  }

  // ask returns { status, type, data }.
  async ask(path, body, signal) {
    switch (path) {
      case 'start': return this.start();
      case 'files': return said(this.shelf.names());
      case 'open': return this.open(body.name);
      case 'save': return this.save(body);
      case 'watch': {
        const f = this.shelf.read(body.name);
        return said(f.hash === body.hash ? {} : f);
      }
    }
    const hand = path === 'make' || path === 'picture' || path === 'extra' || (path === 'model' && body.fine) ? this.slow : this.quick;
    return hand.ask(path, body, signal);
  }

  async start() {
    const reply = await this.quick.ask('begin', {});
    if (reply.status !== 200) return reply;
    const begin = JSON.parse(new TextDecoder().decode(reply.data));
    const { name, text } = this.given;
    // The spec that came with the page, or what was saved here under its name.
    const kept = name ? this.shelf.read(name) : null;
    const file = kept?.hash ? kept : { name: '', text, hash: '' };
    return said({ ...begin, file, names: this.shelf.names() });
  }

  open(name) {
    const f = this.shelf.read(name);
    return f.hash ? said(f) : refused(422, `${name} is not there`);
  }

  save({ name, text, hash }) {
    const now = this.shelf.read(name);
    if (now.hash !== hash && now.text !== text) {
      return refused(409, now.hash ? `${name} was changed by something else since it was read here` : `${name} is no longer there`, { current: now });
    }
    try {
      return said(this.shelf.write(name, text));
    } catch {
      return refused(422, 'the browser has no room left for specs; take the spec out as a file instead');
    }
  }
}
