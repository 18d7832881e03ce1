// A socket to the program: a browser takes several milliseconds for a request, and
// one for a message of a socket. Where there is none requests do as well.

// pause is how long, in ms, the page waits before it tries to have a socket again.
const pause = 2000;

export class Socket {
  // key() returns what lets the page in.
  constructor(key) {
    this.key = key;
    this.asked = new Map(); // number -> { resolve, reject }
    this.last = 0;
    this.tried = -Infinity;
  }

  // open reports whether there is a socket, and begins to make one where there is
  // none.
  open() {
    if (this.way?.readyState === 1) return true;
    if (!this.way && performance.now() - this.tried > pause) this.connect();
    return false;
  }

  connect() {
    this.tried = performance.now();
    if (!globalThis.WebSocket || !this.key()) return;
    const way = this.way = new WebSocket(location.origin.replace(/^http/, 'ws') + '/api/socket', ['neckloft', this.key()]);
    way.binaryType = 'arraybuffer';
    way.onmessage = (e) => this.answered(e.data);
    way.onclose = () => {
      this.way = null;
      const all = [...this.asked.values()];
      this.asked.clear();
      for (const q of all) q.reject(new Error('the socket has closed'));
    };
  }

  // ask returns { status, data, text() }, the data with something of the socket's own
  // behind it. It fails where the socket closes, and with an
  // AbortError where the signal calls it off.
  ask(name, body, signal) {
    return new Promise((resolve, reject) => {
      const off = () => reject(new DOMException('called off', 'AbortError'));
      if (signal?.aborted) return off();
      const number = this.last = this.last % 1e9 + 1;
      this.asked.set(number, { resolve, reject });
      this.way.send(`${number} ${name}\n${JSON.stringify(body ?? {})}`);
      signal?.addEventListener('abort', () => {
        if (!this.asked.delete(number)) return;
        this.way?.send(`${number} end\n`);
        off();
      });
    });
  }

  answered(data) {
    const size = data.byteLength - 8;
    const foot = new DataView(data, size);
    const number = foot.getUint32(0, true);
    const q = this.asked.get(number);
    this.asked.delete(number);
    q?.resolve({ status: foot.getUint32(4, true), data, text: () => new TextDecoder().decode(new Uint8Array(data, 0, size)) });
  }
}
