// The engine's worker: it follows the loader of Go's WebAssembly in the page.
'use strict';
let ready = null;
async function begin(module) {
  const go = new Go();
  const set = new Promise((done) => { globalThis.neckloftReady = done; });
  const instance = await WebAssembly.instantiate(module, go.importObject);
  go.run(instance);
  await set;
}
onmessage = async ({ data }) => {
  if (data.module) {
    ready = begin(data.module);
    return;
  }
  await ready;
  const reply = await globalThis.neckloftEngine(data.name, data.body);
  postMessage(reply, [reply.data.buffer]);
};
