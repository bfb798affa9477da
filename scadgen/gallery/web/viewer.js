// The view of a hinge: turns about it, cuts it, and shows it on the bed as it prints.
// Source of viewer.bundle.js; after a change run ./rebuild.
import {
  AmbientLight,
  BackSide,
  BufferAttribute,
  BufferGeometry,
  Color,
  DirectionalLight,
  EqualStencilFunc,
  GridHelper,
  Group,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  PerspectiveCamera,
  Plane,
  ReplaceStencilOp,
  Scene,
  Vector3,
  WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";

const RADIANS = Math.PI / 180;
const SQUARE = 10; // mm, of the grid on the bed
const MARGIN = 1.02; // room around the hinge
const TURN = 12 * RADIANS; // of the view, by one press of an arrow key
const NEARER = 1.15; // by one press of plus
const ROUNDING = 1e-6; // share of a square by which a corner is no farther
const CHANGED = 1.12; // a hinge so many times as large is looked at anew
// Sides that a cut takes away: those towards the eye.
const TAKEN = { x: new Vector3(-1, 0, 0), y: new Vector3(0, 1, 0), z: new Vector3(0, 0, -1) };

class Viewer {
  // Throws where there is no WebGL. `eye`: the direction from which a hinge is first looked at.
  constructor(canvas, eye) {
    this.canvas = canvas;
    this.eye = new Vector3(eye[0], eye[2], -eye[1]).normalize(); // z is up in a hinge, y here
    this.renderer = new WebGLRenderer({ canvas, antialias: true, stencil: true });
    this.renderer.localClippingEnabled = true;
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(28, 1, 1, 20000);
    const sun = new DirectionalLight(0xffffff, 2.2);
    sun.position.set(-0.5, 0.9, 0.6);
    this.camera.add(sun);
    this.root = new Group();
    this.root.rotation.x = -90 * RADIANS;
    this.bodies = [];
    this.plane = null;
    this.scene.add(this.camera, new AmbientLight(0xffffff, 1.5), this.root);
    this.orbit = new OrbitControls(this.camera, canvas);
    this.orbit.enablePan = false;
    this.orbit.addEventListener("change", () => this.render());
    canvas.addEventListener("keydown", (event) => this.key(event));
    new ResizeObserver(() => this.resize()).observe(canvas);
  }

  // Shows bodies; `printed` is whether they lie on the bed, `anew` whether to look from the start.
  show({ bodies, low, high }, { printed, anew }) {
    for (const body of this.bodies) body.drop(this.root);
    this.bodies = bodies.map((body) => new Body(body, this.root));
    this.box = { low, high };
    if (printed || anew) this.frame(anew);
    this.widen(bodies);
    this.bed.visible = printed;
    this.paint();
    this.cut(this.plane);
  }

  // Looks at the whole of it, if it has become another.
  frame(anew) {
    const [low, high] = [new Vector3(...this.box.low), new Vector3(...this.box.high)];
    const middle = low.clone().add(high).divideScalar(2).applyEuler(this.root.rotation);
    const radius = high.distanceTo(low) / 2;
    const ratio = this.radius ? radius / this.radius : Infinity;
    if (!anew && ratio < CHANGED && ratio > 1 / CHANGED) return;
    const eye = anew ? this.eye : this.away().normalize();
    Object.assign(this, { middle, radius });
    this.layBed();
    this.from(eye);
  }

  // Steps back as far as all of it is seen.
  widen(bodies) {
    const place = new Vector3();
    this.root.updateMatrixWorld(true);
    let farthest = 0;
    for (const { positions } of bodies) {
      for (let k = 0; k < positions.length; k += 3) {
        place.fromArray(positions, k).applyMatrix4(this.root.matrixWorld);
        farthest = Math.max(farthest, place.distanceToSquared(this.middle));
      }
    }
    if (farthest <= this.radius ** 2 * (1 + ROUNDING)) return;
    this.radius = Math.sqrt(farthest);
    this.from(this.away().normalize());
  }

  away() {
    return this.camera.position.clone().sub(this.orbit.target);
  }

  // Looks from a direction, as near as the hinge allows at any angle.
  from(eye) {
    const half = (this.camera.fov / 2) * RADIANS;
    const narrow = Math.min(half, Math.atan(Math.tan(half) * this.camera.aspect));
    this.orbit.target.copy(this.middle);
    this.camera.position.copy(this.middle).addScaledVector(eye, (this.radius * MARGIN) / Math.sin(narrow));
    this.orbit.update();
    this.render();
  }

  // Cuts at a place of an axis, {axis, at}, or not at all (null).
  cut(plane) {
    this.plane = plane;
    let seen = null;
    if (plane) {
      const normal = TAKEN[plane.axis];
      seen = new Plane(normal.clone(), -normal[plane.axis] * plane.at); // it is turned in place
      this.root.updateMatrixWorld(true);
      seen.applyMatrix4(this.root.matrixWorld);
    }
    for (const body of this.bodies) body.cut(seen);
    this.render();
  }

  // Colours of the page, which the browser knows by the names of the palette.
  paint() {
    const style = getComputedStyle(this.canvas);
    const colour = (name) => new Color(style.getPropertyValue(`--${name}`).trim());
    this.scene.background = colour("background");
    this.bed.material.color = colour("line");
    for (const body of this.bodies) body.paint(colour);
    this.render();
  }

  layBed() {
    const squares = 2 * (Math.ceil((1.3 * this.radius) / SQUARE) + 1);
    if (this.bed) this.scene.remove(this.bed);
    this.bed = new GridHelper(squares * SQUARE, squares);
    this.bed.material.vertexColors = false;
    this.scene.add(this.bed);
  }

  key(event) {
    const turns = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const offset = this.away();
    if (event.key in turns) {
      const [across, down] = turns[event.key];
      const length = offset.length();
      const steep = Math.acos(offset.y / length) + down * TURN;
      const round = Math.atan2(offset.x, offset.z) + across * TURN;
      offset.setFromSphericalCoords(length, Math.min(Math.max(steep, 0.05), Math.PI - 0.05), round);
    } else if (event.key === "+" || event.key === "=") {
      offset.multiplyScalar(1 / NEARER);
    } else if (event.key === "-") {
      offset.multiplyScalar(NEARER);
    } else {
      return;
    }
    event.preventDefault();
    this.camera.position.copy(this.orbit.target).add(offset);
    this.orbit.update();
    this.render();
  }

  resize() {
    const { clientWidth, clientHeight } = this.canvas;
    if (!clientWidth || !clientHeight) return;
    this.renderer.setSize(clientWidth, clientHeight, false);
    this.camera.aspect = clientWidth / clientHeight;
    this.camera.updateProjectionMatrix();
    if (this.radius) this.from(this.away().normalize());
    this.draw(); // at once: another size has wiped the canvas
  }

  // Draws when the screen is painted next, once for all that asks for it until then.
  render() {
    this.asked ??= requestAnimationFrame(() => this.draw());
  }

  draw() {
    cancelAnimationFrame(this.asked);
    this.asked = null;
    this.renderer.render(this.scene, this.camera);
  }
}

// One solid: its faces, its edges, and its inside. Where a sight line first meets the inside of a
// closed solid, it has come in through the cut: the inside painted flat looks as the cut face does.
class Body {
  constructor({ name, positions, triangles, edges }, root) {
    this.side = name === "moving" ? "moving" : "fixed";
    const shape = new BufferGeometry();
    shape.setAttribute("position", new BufferAttribute(positions, 3));
    shape.setIndex(new BufferAttribute(triangles, 1));
    const lines = new BufferGeometry();
    lines.setAttribute("position", new BufferAttribute(edges, 3));
    const offset = { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };
    const mark = { stencilWrite: true, stencilZPass: ReplaceStencilOp };
    this.faces = new MeshLambertMaterial({ flatShading: true, ...offset, ...mark, stencilRef: 0 });
    this.inside = new MeshBasicMaterial({ side: BackSide, ...offset, ...mark, stencilRef: 1 });
    this.lines = new LineBasicMaterial({ stencilWrite: true, stencilFunc: EqualStencilFunc });
    this.cutFace = new Mesh(shape, this.inside);
    const drawn = new LineSegments(lines, this.lines);
    drawn.renderOrder = 1; // after all faces, and not across what is cut
    this.drawn = [new Mesh(shape, this.faces), this.cutFace, drawn];
    root.add(...this.drawn);
  }

  cut(plane) {
    this.cutFace.visible = plane !== null;
    for (const material of [this.faces, this.lines, this.inside]) {
      material.clippingPlanes = plane ? [plane] : [];
    }
  }

  paint(colour) {
    this.faces.color = colour(this.side);
    this.inside.color = colour(`${this.side}_cut`);
    this.lines.color = colour("edge");
  }

  drop(root) {
    root.remove(...this.drawn);
    for (const { geometry, material } of this.drawn) {
      geometry.dispose();
      material.dispose();
    }
  }
}

window.scadgenViewer = (canvas, eye) => new Viewer(canvas, eye);
