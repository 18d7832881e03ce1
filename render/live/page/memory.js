// Files in memory for the engine, which has no disk: a library that it uses
// writes fonts to a temporary folder and reads them back. Only what Go's own
// file calls need of Node's fs is here.
'use strict';
globalThis.fs = (() => {
  const nodes = new Map([['/tmp', null]]); // a file's bytes, or null for a folder
  const opened = new Map();
  let next = 100;
  const constants = { O_RDONLY: 0, O_WRONLY: 1, O_RDWR: 2, O_CREAT: 64, O_EXCL: 128, O_TRUNC: 512, O_APPEND: 1024, O_DIRECTORY: 65536 };
  const clean = (path) => '/' + path.split('/').filter((p) => p !== '' && p !== '.').join('/');
  const wrong = (code) => Object.assign(new Error(code), { code });
  const calls = {
    open(path, flags) {
      const at = clean(path);
      if (nodes.has(at) && flags & constants.O_CREAT && flags & constants.O_EXCL) throw wrong('EEXIST');
      if (!nodes.has(at)) {
        if (!(flags & constants.O_CREAT)) throw wrong('ENOENT');
        nodes.set(at, new Uint8Array(0));
      } else if (flags & constants.O_TRUNC) nodes.set(at, new Uint8Array(0));
      opened.set(++next, { at, place: 0 });
      return next;
    },
    close(fd) { opened.delete(fd); },
    read(fd, buffer, offset, length, position) {
      const f = opened.get(fd);
      const data = nodes.get(f.at);
      if (!data) throw wrong('EISDIR');
      const from = position ?? f.place;
      const part = data.subarray(from, from + length);
      buffer.set(part, offset);
      if (position === null || position === undefined) f.place += part.length;
      return part.length;
    },
    write(fd, buffer, offset, length, position) {
      const part = buffer.subarray(offset, offset + length);
      if (fd === 1 || fd === 2) {
        console.warn(new TextDecoder().decode(part).trimEnd());
        return length;
      }
      const f = opened.get(fd);
      const from = position ?? f.place;
      const before = nodes.get(f.at);
      const data = new Uint8Array(Math.max(before.length, from + length));
      data.set(before);
      data.set(part, from);
      nodes.set(f.at, data);
      if (position === null || position === undefined) f.place += length;
      return length;
    },
    stat(path) {
      const at = clean(path);
      if (!nodes.has(at)) throw wrong('ENOENT');
      const data = nodes.get(at);
      return {
        dev: 1, ino: 1, mode: data ? 0o100600 : 0o40700, nlink: 1, uid: 0, gid: 0, rdev: 0, size: data?.length ?? 0,
        blksize: 4096, blocks: 0, atimeMs: 0, mtimeMs: 0, ctimeMs: 0, isDirectory: () => data === null,
      };
    },
    lstat(path) { return calls.stat(path); },
    fstat(fd) { return calls.stat(opened.get(fd).at); },
    mkdir(path) {
      const at = clean(path);
      if (nodes.has(at)) throw wrong('EEXIST');
      nodes.set(at, null);
    },
    readdir(path) {
      const at = clean(path) + '/';
      return [...nodes.keys()].filter((k) => k.startsWith(at) && !k.slice(at.length).includes('/')).map((k) => k.slice(at.length));
    },
    unlink(path) {
      const at = clean(path);
      if (!nodes.has(at)) throw wrong('ENOENT');
      if (nodes.get(at) === null) throw wrong('EISDIR');
      nodes.delete(at);
    },
    rmdir(path) {
      const at = clean(path);
      if (nodes.get(at) !== null) throw wrong('ENOTDIR');
      if (calls.readdir(at).length) throw wrong('ENOTEMPTY');
      nodes.delete(at);
    },
    fsync() {},
    chmod() {},
    fchmod() {},
  };
  const fs = {
    constants,
    writeSync(fd, buffer) { return calls.write(fd, buffer, 0, buffer.length, null); },
  };
  for (const name of ['chown', 'fchown', 'lchown', 'ftruncate', 'truncate', 'link', 'symlink', 'readlink', 'rename', 'utimes']) {
    fs[name] = (...args) => args.at(-1)(wrong('ENOSYS'));
  }
  for (const [name, call] of Object.entries(calls)) {
    fs[name] = (...args) => {
      const done = args.pop();
      let out;
      try {
        out = call(...args);
      } catch (e) {
        return done(e.code ? e : wrong('EBADF'));
      }
      return done(null, out);
    };
  }
  return fs;
})();
