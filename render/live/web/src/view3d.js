// The neck in space. Everything drawn here comes from the program as buffers.

import {
  BufferAttribute, BufferGeometry, Color, DoubleSide, DynamicDrawUsage, Line, LineBasicMaterial, LineLoop,
  LineSegments, Mesh, MeshBasicMaterial, PerspectiveCamera, PlaneGeometry, Raycaster, Scene, ShaderMaterial, Spherical,
  Vector2, Vector3, WebGLRenderer,
} from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';

import { byId } from './dom.js';

// Three lamps that move with the camera, one of them low, so that the
// roundness of the back shows from any side. They are reckoned at the vertices:
// the mesh has enough of them where it bends, and a machine that draws without
// a graphics card has far fewer vertices than points to colour.
const lit = {
  vertexShader: `
    uniform vec3 colour;
    varying vec3 shade;
    void main() {
      vec3 n = normalize(normalMatrix * normal);
      float light = 0.334 + 0.605 * max(0.0, dot(n, normalize(vec3(-0.6, 0.8, 0.7))))
        + 0.223 * max(0.0, dot(n, normalize(vec3(0.9, 0.2, 0.5)))) + 0.111 * max(0.0, dot(n, normalize(vec3(0.0, -1.0, 0.35))));
      shade = pow(colour * light, vec3(1.0 / 2.2));
      gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
    }`,
  fragmentShader: `
    uniform float opacity;
    varying vec3 shade;
    void main() { gl_FragColor = vec4(shade, opacity); }`,
};

// surface is how the neck looks where more is wanted than a plain colour: with
// grain, or in the light of striped lamps, whose stripes break where the curve
// does. It is reckoned at every point of the picture.
const surface = {
  vertexShader: `
    varying vec3 n;
    varying vec3 eye;
    varying vec3 at;
    varying vec3 along;
    attribute float lean; // of the exact surface, 2 where it is not known
    uniform float leaning;
    void main() {
      along = normalize((modelViewMatrix * vec4(1.0, 0.0, 0.0, 0.0)).xyz);
      vec4 p = modelViewMatrix * vec4(position, 1.0);
      vec3 exact = normal;
      if (leaning > 0.5 && abs(lean) < 1.0) exact = vec3(lean, normalize(normal.yz) * sqrt(1.0 - lean * lean));
      n = normalMatrix * exact;
      eye = p.xyz;
      at = position;
      gl_Position = projectionMatrix * p;
    }`,
  fragmentShader: `
    uniform vec3 colour;
    uniform float stripes;
    uniform float wood;
    varying vec3 n;
    varying vec3 eye;
    varying vec3 at;
    varying vec3 along; // the neck's axis
    float rough(vec2 p) { return fract(sin(dot(p, vec2(12.9898, 78.233))) * 43758.5453); }
    float noise(vec2 p) {
      vec2 i = floor(p);
      vec2 f = fract(p);
      f = f * f * (3.0 - 2.0 * f);
      return mix(mix(rough(i), rough(i + vec2(1.0, 0.0)), f.x), mix(rough(i + vec2(0.0, 1.0)), rough(i + vec2(1.0, 1.0)), f.x), f.y);
    }
    void main() {
      vec3 m = normalize(n);
      float light = 0.334 + 0.605 * max(0.0, dot(m, normalize(vec3(-0.6, 0.8, 0.7))))
        + 0.223 * max(0.0, dot(m, normalize(vec3(0.9, 0.2, 0.5)))) + 0.111 * max(0.0, dot(m, normalize(vec3(0.0, -1.0, 0.35))));
      vec3 c = colour;
      if (stripes > 0.5) {
        vec3 r = reflect(normalize(eye), m);
        float a = stripes < 1.5 ? 14.0 * atan(r.y, length(r.xz)) : 60.0 * asin(clamp(dot(r, along), -1.0, 1.0));
        float w = max(fwidth(a), 1e-4);
        float s = smoothstep(-w, w, sin(a));
        c = mix(colour * 0.12, vec3(0.92), s);
        light = 0.75 + 0.25 * light;
      } else {
        // Rings of a tree far off to the side, wavy along the neck, and pores.
        float wave = 3.0 * noise(vec2(at.x * 0.012, at.y * 0.03)) + noise(vec2(at.x * 0.05, at.z * 0.08));
        float ring = fract((length(vec2(at.y + 40.0, at.z * 1.2 + 70.0)) + wave) * mix(0.9, 0.32, wood));
        float late = smoothstep(0.25, 0.95, ring) * (1.0 - smoothstep(0.95, 1.0, ring));
        float pore = smoothstep(0.74, 0.8, noise(vec2(at.x * 0.22, (at.y + at.z) * 4.0)));
        c = colour * (1.06 - 0.2 * late) * (1.0 - mix(0.32, 0.1, wood) * pore);
      }
      gl_FragColor = vec4(pow(c * light, vec3(1.0 / 2.2)), 1.0);
    }`,
};

// thickness colours the wood by how thick the neck is there.
const ramp = {
  vertexShader: `
    attribute float thick;
    varying float t;
    varying float light;
    uniform vec2 span;
    void main() {
      t = (thick - span.x) / max(span.y - span.x, 1e-6);
      vec3 n = normalize(normalMatrix * normal);
      light = 0.62 + 0.38 * max(0.0, dot(n, normalize(vec3(-0.4, 0.6, 0.8))));
      gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
    }`,
  fragmentShader: `
    varying float t;
    varying float light;
    uniform vec2 span;
    uniform float apart; // of the lines of equal thickness, mm
    void main() {
      vec3 c = vec3(0.5);
      if (t == t) { // not where nothing is known
        float k = clamp(t, 0.0, 1.0) * 4.0;
        vec3 a = vec3(0.169, 0.114, 0.361);
        vec3 b = vec3(0.114, 0.373, 0.541);
        vec3 d = vec3(0.165, 0.647, 0.541);
        vec3 e = vec3(0.725, 0.812, 0.290);
        vec3 f = vec3(0.992, 0.922, 0.416);
        c = k < 1.0 ? mix(a, b, k) : k < 2.0 ? mix(b, d, k - 1.0) : k < 3.0 ? mix(d, e, k - 2.0) : mix(e, f, k - 3.0);
        float v = (span.x + t * (span.y - span.x)) / apart;
        float w = fwidth(v);
        float line = abs(fract(v - 0.5) - 0.5) / max(w, 1e-6);
        c *= mix(1.0, 0.45 + 0.55 * smoothstep(0.4, 1.3, line), smoothstep(0.35, 0.2, w)); // not where they would run together
      }
      gl_FragColor = vec4(c * light, 1.0);
    }`,
};

const shown = (wood) => new ShaderMaterial({ ...surface, uniforms: { colour: { value: new Color() }, stripes: { value: 0 }, leaning: { value: 0 }, wood: { value: wood } } });

const material = (opacity) => new ShaderMaterial({
  ...lit, uniforms: { colour: { value: new Color() }, opacity: { value: opacity } }, transparent: opacity < 1, depthWrite: opacity === 1,
  // Where the ghost is the same as the neck, the neck is seen.
  polygonOffset: opacity < 1, polygonOffsetFactor: 4, polygonOffsetUnits: 64,
});

// inSoftware reports whether this browser has no graphics card to draw with.
function inSoftware() {
  const gl = document.createElement('canvas').getContext('webgl2');
  const info = gl?.getExtension('WEBGL_debug_renderer_info');
  const name = String(gl?.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER));
  gl?.getExtension('WEBGL_lose_context')?.loseContext();
  return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}

// Where the camera stands: angle from straight above, and around.
const stands = {
  'three-quarter': [2.18, -0.42],
  back: [Math.PI - 0.02, 0],
  side: [Math.PI / 2, 0],
  front: [0.02, 0],
};

export class View3D {
  constructor(canvas) {
    this.canvas = canvas;
    // Without a graphics card every point costs. Then the picture is coarse while it
    // moves, with half as many points and rough edges, and at rest a still of it that
    // is drawn finer lies over it.
    this.still = inSoftware() ? byId('still') : null; // hidden while rough
    this.renderer = new WebGLRenderer({ canvas, antialias: !this.still, alpha: false });
    this.fine = Math.min(window.devicePixelRatio || 1, 2); // points to a pixel of the page
    this.renderer.setPixelRatio(this.still ? this.fine * Math.SQRT1_2 : this.fine);
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(18, 1, 10, 20000);
    this.camera.up.set(0, 0, 1);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.zoomSpeed = 0.8;
    this.controls.minDistance = 60;
    this.controls.maxDistance = 12000;
    this.controls.addEventListener('change', () => this.request());
    this.controls.addEventListener('start', () => { this.untouched = false; });

    this.materials = { wood: material(1), board: material(1), ghost: material(0.4) };
    this.surfaces = { wood: shown(1), board: shown(0) };
    this.map = new ShaderMaterial({ ...ramp, uniforms: { span: { value: new Vector2(0, 1) }, apart: { value: 1 } } });
    this.look3d = 'plain';
    this.meshes = {};
    this.ghostAt = [0, 0, 0];
    this.fretLines = new LineSegments(new BufferGeometry(), new LineBasicMaterial());
    this.fretLines.frustumCulled = false;
    this.scene.add(this.fretLines);
    this.plane = new Mesh(new PlaneGeometry(1, 1), new MeshBasicMaterial({ transparent: true, opacity: 0.16, side: DoubleSide, depthWrite: false }));
    this.plane.rotation.set(Math.PI / 2, Math.PI / 2, 0);
    this.frame = new LineLoop(new BufferGeometry(), new LineBasicMaterial());
    this.outline = new Line(new BufferGeometry(), new LineBasicMaterial());
    this.outline.renderOrder = 2;
    for (const m of [this.plane, this.frame, this.outline]) m.frustumCulled = false;
    this.scene.add(this.plane, this.frame, this.outline);
    this.stand = 'three-quarter';
    this.untouched = true;
    this.spare = new Vector3();

    canvas.addEventListener('keydown', (e) => this.key(e));
    new ResizeObserver(() => this.resize()).observe(canvas.parentElement);
    this.paint();
  }

  // paint takes the colours from the style sheet.
  paint() {
    const style = getComputedStyle(document.documentElement);
    const colour = (name) => new Color(style.getPropertyValue(name).trim());
    this.materials.wood.uniforms.colour.value = colour('--wood-3d');
    this.materials.board.uniforms.colour.value = colour('--board-3d');
    for (const part of ['wood', 'board']) this.surfaces[part].uniforms.colour.value = this.materials[part].uniforms.colour.value;
    this.materials.ghost.uniforms.colour.value = colour('--measure');
    this.renderer.setClearColor(colour('--stage'));
    this.fretLines.material.color = colour('--fret-3d');
    for (const m of [this.plane, this.frame, this.outline]) m.material.color = colour('--feature');
    this.request();
  }

  // setMeshes shows the meshes of a model.
  setMeshes(meshes, prefix = '') {
    for (const m of meshes) {
      const name = prefix + m.part;
      let mesh = this.meshes[name];
      if (!mesh) {
        mesh = new Mesh(new BufferGeometry(), prefix ? this.materials.ghost : this.materialOf(m.part));
        mesh.frustumCulled = false;
        if (prefix) {
          mesh.renderOrder = 1;
          mesh.position.set(...this.ghostAt);
        }
        this.meshes[name] = mesh;
        this.scene.add(mesh);
      }
      fill(mesh, m);
      if (m.part === 'wood' && !prefix) this.surfaces.wood.uniforms.leaning.value = m.leans ? 1 : 0;
      if (!prefix) mesh.material = this.materialOf(m.part);
      if (m.thick && !prefix) this.span = this.spread(m.thick);
    }
    this.request();
  }

  // dress shows the neck plain, with grain, or in striped light.
  dress(look) {
    this.look3d = look;
    for (const part of ['wood', 'board']) {
      this.surfaces[part].uniforms.stripes.value = { stripes: 1, across: 2 }[look] ?? 0;
      if (this.meshes[part]) this.meshes[part].material = this.materialOf(part);
    }
    this.request();
  }

  materialOf(part) {
    if (this.look3d === 'plain') return this.materials[part];
    if (this.look3d !== 'thickness') return this.surfaces[part];
    // Until the thicknesses are there.
    return part === 'wood' && this.meshes.wood?.geometry.attributes.thick ? this.map : this.materials[part];
  }

  // spread fits the colours to the thicknesses of the wood, and returns the
  // least and the greatest.
  spread(thick) {
    let [low, high] = [Infinity, -Infinity];
    for (const v of thick) {
      if (v < low) low = v;
      if (v > high) high = v;
    }
    this.map.uniforms.span.value.set(low, high);
    return [low, high];
  }

  // lines sets how far lines of equal thickness are apart, in mm.
  lines(apart) { this.map.uniforms.apart.value = apart; }

  // clear takes the neck away; a ghost stays.
  clear() {
    this.remove(['wood', 'board']);
    for (const l of [this.fretLines, this.frame, this.outline]) put(l, []);
    this.plane.scale.set(0, 0, 0);
    this.request();
  }

  // shiftGhost moves the ghost, in mm.
  shiftGhost(by) {
    this.ghostAt = by;
    for (const part of ['wood', 'board']) this.meshes['ghost-' + part]?.position.set(...by);
    this.request();
  }

  clearGhost() {
    this.remove(['ghost-wood', 'ghost-board']);
    this.request();
  }

  remove(names) {
    for (const name of names) {
      const mesh = this.meshes[name];
      if (!mesh) continue;
      mesh.geometry.dispose();
      this.scene.remove(mesh);
      delete this.meshes[name];
    }
  }

  // setElevation takes the frets and the size of the neck, and of the ghost.
  setElevation(e, ghost) {
    const points = [];
    for (const { line } of e.frets) {
      for (let i = 0; i + 1 < line.length; i++) {
        for (const [x, y, z] of [line[i], line[i + 1]]) points.push(x, y, z + 0.08);
      }
    }
    for (const line of e.marks) {
      for (let i = 0; i + 1 < line.length; i++) {
        for (const [x, y, z] of [line[i], line[i + 1]]) points.push(x, y, z + 0.08);
      }
    }
    put(this.fretLines, points);
    const start = Math.min(e.start, 0, ghost?.start ?? 0);
    const end = Math.max(e.end, e.board[1], ghost?.end ?? 0);
    const { crown, widest } = e;
    const own = [...e.back, ...e.top, [e.board[0], crown], [e.board[1], crown]];
    this.own = { start: Math.min(e.start, 0), end: Math.max(e.end, e.board[1]), low: e.low, crown, widest, hull: own };
    const size = { start, end, low: Math.min(e.low, ghost?.low ?? 0), crown, widest };
    const same = this.size && Object.keys(size).every((k) => Math.abs(size[k] - this.size[k]) < 0.05);
    size.hull = ghost ? [...own, ...ghost.back, [ghost.board[0], ghost.crown], [ghost.board[1], ghost.crown]] : own;
    if (same) return;
    this.size = size;
    if (this.untouched) this.look(this.stand);
  }

  // setSection shows the plane and the section in it.
  setSection(s) {
    const half = Math.max(s.halfWidth, 0) + 12;
    const top = Math.max(s.crown, 0) + 12;
    const bottom = -s.depth - 12;
    this.plane.position.set(s.x, 0, (top + bottom) / 2);
    this.plane.scale.set(2 * half, top - bottom, 1);
    const corners = [[-half, top], [half, top], [half, bottom], [-half, bottom]];
    const flat = (points) => points.flatMap(([y, z]) => [s.x, y, z]);
    put(this.frame, flat(corners));
    put(this.outline, flat([...s.wood, s.wood[0]]));
    this.request();
  }

  // look goes to one of the named views, as near as lets all of the neck be seen
  // clear of what lies over the picture.
  look(stand) {
    this.stand = stand;
    const { start, end, low, crown, widest } = this.size ?? { start: -180, end: 480, low: -40, crown: 6, widest: 60 };
    const [polar, around] = stands[stand];
    const target = new Vector3((start + end) / 2, 0, (low + crown) / 2);
    const { width, height } = this.paper ?? this.box ?? { width: 600, height: 300 };
    const [top, bottom] = this.room();
    const half = Math.tan((this.camera.fov * Math.PI) / 360);
    // What one mm of depth is seen as in mm of the picture, less a dot's width at
    // the edges.
    const edge = Math.min(16, width / 20, height / 20);
    const up = half * (height - top - bottom - 2 * edge) / height;
    const along = half * (width - 2 * edge) / height;
    const back = this.offset(polar, around, 1);
    const right = new Vector3(Math.cos(around), Math.sin(around), 0);
    const over = new Vector3().crossVectors(back, right);
    // A point e before the target and b off the middle is within the picture at the
    // distance d where |b| <= k (d - e); both sides are as tight if the middle moves.
    const corners = this.corners().map((p) => p.sub(target));
    const tight = (axis, k) => {
      let [a, b] = [-Infinity, -Infinity];
      for (const v of corners) {
        a = Math.max(a, v.dot(back) + v.dot(axis) / k);
        b = Math.max(b, v.dot(back) - v.dot(axis) / k);
      }
      return [(a + b) / 2, k * (a - b) / 2];
    };
    const [wide, sideways] = tight(right, along);
    const [high, upwards] = tight(over, up);
    target.addScaledVector(right, sideways).addScaledVector(over, upwards);
    this.controls.target.copy(target);
    this.camera.position.copy(target).addScaledVector(back, Math.max(wide, high));
    this.controls.update();
    this.request();
  }

  // centre brings the middle of the picture to that of what is clear.
  centre({ width, height }) {
    const [top, bottom] = this.room();
    this.camera.setViewOffset(width, height, 0, (bottom - top) / 2, width, height);
  }

  // room says how much of the picture lies under its title, or under the buttons.
  room() {
    if (this.paper) return [0, 0];
    const large = byId('bench-area').dataset.main === 'space';
    return large ? [4, 44] : [18, 4];
  }

  // corners are places of the neck that reach furthest.
  corners() {
    const { start, end, low, crown, widest } = this.size ?? { start: -180, end: 480, low: -40, crown: 6, widest: 60 };
    const hull = this.size?.hull ?? [[start, low], [start, crown], [end, low], [end, crown]];
    return hull.flatMap(([x, z]) => [new Vector3(x, -widest / 2, z), new Vector3(x, widest / 2, z)]);
  }

  offset(polar, around, distance) {
    // Around 0 is on the side of lower y, where the nut lies to the left.
    return new Vector3(
      distance * Math.sin(polar) * Math.sin(around),
      -distance * Math.sin(polar) * Math.cos(around),
      distance * Math.cos(polar),
    );
  }

  // key turns, moves and zooms from the keyboard.
  key(e) {
    const step = 0.09;
    const from = this.camera.position.clone().sub(this.controls.target);
    // Spherical has y up.
    const s = new Spherical().setFromVector3(new Vector3(from.x, from.z, -from.y));
    const pan = new Vector3();
    const far = s.radius * 0.02;
    switch (e.key) {
      case 'ArrowLeft': e.shiftKey ? pan.set(-far, 0, 0) : (s.theta -= step); break;
      case 'ArrowRight': e.shiftKey ? pan.set(far, 0, 0) : (s.theta += step); break;
      case 'ArrowUp': e.shiftKey ? pan.set(0, far, 0) : (s.phi -= step); break;
      case 'ArrowDown': e.shiftKey ? pan.set(0, -far, 0) : (s.phi += step); break;
      case '+': case '=': s.radius /= 1.1; break;
      case '-': s.radius *= 1.1; break;
      case 'Home': this.untouched = true; this.look('three-quarter'); e.preventDefault(); return;
      default: return;
    }
    e.preventDefault();
    this.untouched = false;
    s.makeSafe();
    const p = new Vector3().setFromSpherical(s);
    pan.applyQuaternion(this.camera.quaternion);
    this.controls.target.add(pan);
    this.camera.position.copy(this.controls.target).add(new Vector3(p.x, -p.z, p.y));
    this.controls.update();
    this.request();
  }

  resize() {
    const box = this.canvas.parentElement.getBoundingClientRect();
    if (box.width < 2 || box.height < 2) return;
    this.box = box;
    this.renderer.setSize(box.width, box.height, false);
    this.centre(box);
    if (this.untouched) this.look(this.stand);
    this.draw(); // at once: a new size has wiped the picture
  }

  request() {
    this.waiting ||= requestAnimationFrame(() => this.draw());
  }

  draw() {
    cancelAnimationFrame(this.waiting);
    this.waiting = 0;
    this.renderer.render(this.scene, this.camera);
    if (this.still) this.still.hidden = true;
    this.stir();
    if (this.moved()) this.drawn?.();
  }

  // moved reports whether the camera stands elsewhere than at the last asking.
  moved() {
    const now = [...this.camera.position.toArray(), ...this.controls.target.toArray(), this.camera.aspect, this.box?.width].join();
    if (now === this.stood) return false;
    this.stood = now;
    return true;
  }

  // project returns where on the picture a place in mm is seen, in px, or null
  // where it is out of the picture.
  project(at, anyway) {
    const p = this.spare.set(...at).project(this.camera);
    const { width, height } = this.box ?? { width: 0, height: 0 };
    if (!width || p.z > 1 || (!anyway && (Math.abs(p.x) > 1 || Math.abs(p.y) > 1))) return null;
    return [(p.x + 1) * width / 2, (1 - p.y) * height / 2];
  }

  // hit returns the place in mm where the wood or the board is seen at a pointer,
  // or null.
  hit(event) {
    const { left, top, width, height } = this.canvas.getBoundingClientRect();
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2((event.clientX - left) / width * 2 - 1, 1 - (event.clientY - top) / height * 2), this.camera);
    const meshes = ['wood', 'board'].map((n) => this.meshes[n]).filter(Boolean);
    for (const m of meshes) m.geometry.computeBoundingSphere(); // the buffers are filled anew at every move
    const seen = ray.intersectObjects(meshes);
    return seen.length ? seen[0].point.toArray() : null;
  }

  // stir puts off the still, which would hold up what is to come.
  stir() {
    if (!this.still?.hidden) return;
    clearTimeout(this.calm);
    this.calm = setTimeout(() => this.rest(), 250);
  }

  // rest lays a fine still over the picture.
  rest() {
    const { canvas, still, fine, box } = this;
    if (!box) return; // it has not been seen yet
    const ratio = this.renderer.getPixelRatio();
    [still.width, still.height] = [Math.floor(box.width * fine), Math.floor(box.height * fine)];
    this.renderer.setPixelRatio(2 * fine);
    this.renderer.render(this.scene, this.camera);
    const flat = still.getContext('2d');
    flat.imageSmoothingQuality = 'high';
    flat.drawImage(canvas, 0, 0, still.width, still.height);
    still.hidden = false;
    this.renderer.setPixelRatio(ratio);
    this.renderer.render(this.scene, this.camera);
  }

  // finish waits until the picture is really drawn, for measuring.
  finish() {
    const gl = this.renderer.getContext();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
  }

  // picture returns the whole neck as an image for print, on white. What shines
  // through on a screen makes blotches on paper: the ghost is left to the
  // drawings.
  picture() {
    const ghosts = ['ghost-wood', 'ghost-board'].map((name) => this.meshes[name]).filter(Boolean);
    for (const g of ghosts) g.visible = false;
    const { size } = this;
    this.size = this.own;
    const [wide, high] = [1600, 380];
    this.paper = { width: wide, height: high };
    const ratio = this.renderer.getPixelRatio();
    const camera = this.camera.position.clone();
    const target = this.controls.target.clone();
    this.renderer.setPixelRatio(2);
    this.renderer.setSize(wide, high, false);
    this.renderer.setClearColor(0xffffff);
    this.centre(this.paper);
    this.look(this.stand);
    this.renderer.render(this.scene, this.camera);
    const url = this.canvas.toDataURL('image/png');
    for (const g of ghosts) g.visible = true;
    this.size = size;
    this.paper = null;
    this.camera.position.copy(camera);
    this.controls.target.copy(target);
    this.controls.update();
    this.renderer.setPixelRatio(ratio);
    this.paint();
    this.resize();
    return url;
  }
}

// fill puts a model's mesh into one of the scene, in the buffers it has if they
// are large enough.
function fill(mesh, m) {
  const was = mesh.geometry;
  const fits = (name, data) => {
    const there = name === 'index' ? was.index : was.attributes[name];
    return there && there.array.constructor === data.constructor && there.array.length >= data.length && there.array.length <= 4 * data.length;
  };
  const parts = [['position', m.positions, 3, false], ['normal', m.normals, 4, true], ['index', m.index, 1, false]];
  if (m.thick) parts.push(['thick', m.thick, 1, false]);
  if (m.leans) parts.push(['lean', m.leans, 1, false]);
  if (!parts.every(([name, data]) => fits(name, data))) {
    was.dispose();
    const room = mesh.geometry = new BufferGeometry();
    for (const [name, data, size, unit] of parts) {
      // Some room to grow in, in whole vertices and triangles.
      const array = new data.constructor(Math.ceil(data.length / 12 * 1.15) * 12);
      const attribute = new BufferAttribute(array, size, unit).setUsage(DynamicDrawUsage);
      if (name === 'index') room.setIndex(attribute);
      else room.setAttribute(name, attribute);
    }
  }
  const g = mesh.geometry;
  for (const [name, data] of parts) {
    const attribute = name === 'index' ? g.index : g.attributes[name];
    attribute.array.set(data);
    attribute.clearUpdateRanges();
    attribute.addUpdateRange(0, data.length);
    attribute.needsUpdate = true;
  }
  g.setDrawRange(0, m.index.length);
}

// put gives a line its points, [x, y, z, x, ...].
function put(line, points) {
  const there = line.geometry.attributes.position;
  if (there?.array.length === points.length) {
    there.array.set(points);
    there.needsUpdate = true;
    return;
  }
  line.geometry.dispose();
  line.geometry = new BufferGeometry();
  line.geometry.setAttribute('position', new BufferAttribute(new Float32Array(points), 3).setUsage(DynamicDrawUsage));
}
