// The neck in space. Everything drawn here comes from the program as buffers.

import {
  AmbientLight, BufferAttribute, BufferGeometry, Color, DirectionalLight, DoubleSide, Group, Line, LineBasicMaterial,
  LineLoop, LineSegments, Mesh, MeshBasicMaterial, MeshLambertMaterial, PerspectiveCamera, PlaneGeometry, Scene,
  Spherical, Vector3, WebGLRenderer,
} from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';

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
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(18, 1, 10, 20000);
    this.camera.up.set(0, 0, 1);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.zoomSpeed = 0.8;
    this.controls.minDistance = 60;
    this.controls.maxDistance = 12000;
    this.controls.addEventListener('change', () => this.request());

    this.scene.add(new AmbientLight(0xffffff, 1.05));
    // Three lamps that move with the camera, one of them low, so that the
    // roundness of the back shows from any side.
    this.lamps = new Group();
    for (const [x, y, z, power] of [[-0.6, 0.8, 0.7, 1.9], [0.9, 0.2, 0.5, 0.7], [0, -1, 0.35, 0.35]]) {
      const lamp = new DirectionalLight(0xffffff, power);
      lamp.position.set(x, y, z);
      this.lamps.add(lamp, lamp.target);
    }
    this.camera.add(this.lamps);
    this.scene.add(this.camera);

    this.materials = {
      wood: new MeshLambertMaterial(),
      board: new MeshLambertMaterial(),
      ghost: new MeshLambertMaterial({ transparent: true, opacity: 0.4, depthWrite: false }),
    };
    this.meshes = {};
    this.fretLines = new LineSegments(new BufferGeometry(), new LineBasicMaterial());
    this.scene.add(this.fretLines);
    this.plane = new Mesh(new PlaneGeometry(1, 1), new MeshBasicMaterial({ transparent: true, opacity: 0.16, side: DoubleSide, depthWrite: false }));
    this.plane.rotation.set(Math.PI / 2, Math.PI / 2, 0);
    this.frame = new LineLoop(new BufferGeometry(), new LineBasicMaterial());
    this.outline = new Line(new BufferGeometry(), new LineBasicMaterial());
    this.outline.renderOrder = 2;
    this.scene.add(this.plane, this.frame, this.outline);
    this.stand = 'three-quarter';
    this.untouched = true;
    this.controls.addEventListener('start', () => { this.untouched = false; });

    canvas.addEventListener('keydown', (e) => this.key(e));
    new ResizeObserver(() => this.resize()).observe(canvas.parentElement);
    this.paint();
  }

  // paint takes the colours from the style sheet.
  paint() {
    const style = getComputedStyle(document.documentElement);
    const colour = (name) => new Color(style.getPropertyValue(name).trim());
    this.materials.wood.color = colour('--wood-3d');
    this.materials.board.color = colour('--board-3d');
    this.materials.ghost.color = colour('--measure');
    this.fretLines.material.color = colour('--fret-3d');
    for (const m of [this.plane, this.frame, this.outline]) m.material.color = colour('--feature');
    this.request();
  }

  // setMeshes shows the meshes of a model.
  setMeshes(meshes, prefix = '') {
    for (const m of meshes) {
      const name = prefix + m.part;
      const geometry = new BufferGeometry();
      geometry.setAttribute('position', new BufferAttribute(m.positions, 3));
      geometry.setAttribute('normal', new BufferAttribute(m.normals, 4, true));
      geometry.setIndex(new BufferAttribute(m.index, 1));
      let mesh = this.meshes[name];
      if (!mesh) {
        mesh = new Mesh(geometry, prefix ? this.materials.ghost : this.materials[m.part]);
        mesh.frustumCulled = false;
        if (prefix) mesh.renderOrder = 1;
        this.meshes[name] = mesh;
        this.scene.add(mesh);
      } else {
        mesh.geometry.dispose();
        mesh.geometry = geometry;
      }
    }
    this.request();
  }

  clearGhost() {
    for (const name of ['ghost-wood', 'ghost-board']) {
      const mesh = this.meshes[name];
      if (!mesh) continue;
      mesh.geometry.dispose();
      this.scene.remove(mesh);
      delete this.meshes[name];
    }
    this.request();
  }

  // setElevation takes the frets and the size of the neck.
  setElevation(e) {
    const points = [];
    for (const fret of e.frets) {
      for (let i = 0; i + 1 < fret.line.length; i++) {
        for (const [x, y, z] of [fret.line[i], fret.line[i + 1]]) points.push(x, y, z + 0.08);
      }
    }
    this.fretLines.geometry.dispose();
    this.fretLines.geometry = new BufferGeometry();
    this.fretLines.geometry.setAttribute('position', new BufferAttribute(new Float32Array(points), 3));
    const start = Math.min(e.start, 0);
    const end = Math.max(e.end, e.boardEnd);
    const low = Math.min(...e.back.map((p) => p[1]));
    this.size = { start, end, low, crown: e.crown, widest: e.widest };
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
    const put = (line, points) => {
      line.geometry.dispose();
      line.geometry = new BufferGeometry();
      const flat = points.flatMap(([y, z]) => [s.x, y, z]);
      line.geometry.setAttribute('position', new BufferAttribute(new Float32Array(flat), 3));
    };
    put(this.frame, corners);
    put(this.outline, [...s.wood, s.wood[0]]);
    this.request();
  }

  // look goes to one of the named views.
  look(stand) {
    this.stand = stand;
    const { start, end, low, crown, widest } = this.size ?? { start: -180, end: 480, low: -40, crown: 6, widest: 60 };
    const [polar, around] = stands[stand];
    this.controls.target.set((start + end) / 2, 0, (low + crown) / 2);
    const aspect = this.camera.aspect || 2;
    const half = Math.tan((this.camera.fov * Math.PI) / 360);
    const long = ((end - start) / 2) * Math.cos(around) * 1.04;
    const high = Math.max(widest, crown - low) * 0.8 + Math.abs(Math.sin(around)) * (end - start) * 0.2;
    const distance = Math.max(long / (half * aspect), high / half) + Math.abs(Math.sin(around)) * (end - start) * 0.5;
    this.camera.position.copy(this.controls.target).add(this.offset(polar, around, distance));
    this.controls.update();
    this.request();
  }

  offset(polar, around, distance) {
    // Around 0 is on the bass side, where the nut lies to the left.
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
    this.renderer.setSize(box.width, box.height, false);
    this.camera.aspect = box.width / box.height;
    this.camera.updateProjectionMatrix();
    if (this.untouched) this.look(this.stand);
    this.draw(); // at once: a new size has wiped the picture
  }

  request() {
    if (this.waiting) return;
    this.waiting = requestAnimationFrame(() => {
      this.waiting = 0;
      this.draw();
    });
  }

  draw() {
    this.renderer.render(this.scene, this.camera);
  }

  // finish waits until the picture is really drawn, for measuring.
  finish() {
    const gl = this.renderer.getContext();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
  }

  // picture returns the view as an image for print.
  picture() {
    this.draw();
    return this.canvas.toDataURL('image/png');
  }
}
