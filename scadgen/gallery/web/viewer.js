// The viewer of a hinge: turns its moving side, cuts it, and shows it on the bed as it prints.
// Source of viewer.bundle.js; after a change run ./rebuild.
import {
  AmbientLight,
  BackSide,
  Box3,
  BufferGeometry,
  Color,
  DirectionalLight,
  EdgesGeometry,
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
import { GLTFLoader } from "three/examples/jsm/loaders/GLTFLoader.js";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";

const RADIANS = Math.PI / 180;
const CREASE = 30; // degrees between two faces from which on their edge is drawn
const SQUARE = 10; // mm, of the grid on the bed
const MARGIN = 1.12; // room around the hinge
const TURN = 12 * RADIANS; // of the view, by one press of an arrow key

class Viewer {
  // Throws where there is no WebGL.
  constructor(canvas) {
    this.canvas = canvas;
    this.renderer = new WebGLRenderer({ canvas, antialias: true, stencil: true });
    this.renderer.localClippingEnabled = true;
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(28, 1, 1, 5000);
    const sun = new DirectionalLight(0xffffff, 2.2);
    sun.position.set(-0.5, 0.9, 0.6);
    this.camera.add(sun);
    this.scene.add(this.camera, new AmbientLight(0xffffff, 1.5));
    this.orbit = new OrbitControls(this.camera, canvas);
    this.orbit.enablePan = false;
    this.orbit.addEventListener("change", () => this.render());
    canvas.addEventListener("keydown", (event) => this.key(event));
    new ResizeObserver(() => this.resize()).observe(canvas);
  }

  // Shows the bytes of a model as it prints.
  async show(bytes) {
    const model = await new GLTFLoader().parseAsync(bytes, "");
    if (this.hinge) this.scene.remove(this.hinge);
    this.hinge = new Group();
    this.hinge.scale.setScalar(1000); // glTF is in metres
    this.root = model.scene.children[0];
    this.hinge.add(this.root);
    this.scene.add(this.hinge);
    this.hinge.updateMatrixWorld(true);
    this.facts = this.root.userData;
    this.bodies = this.root.children.map((node) => new Body(node));
    const [x, y, z, offset] = this.facts.cut;
    const plane = new Plane(new Vector3(-x, -y, -z), offset).applyMatrix4(this.root.matrixWorld);
    this.plane = plane;
    this.frame();
    this.bed();
    this.paint();
    this.angle = 0;
    this.cut = false;
    this.look("printed");
  }

  // Ends of the opening, and how far one step of it goes (degrees).
  get range() {
    const [low, high] = this.facts.range;
    return { low, high, step: this.facts.angles ? (high - low) / (this.facts.angles.length - 1) : 1 };
  }

  get angle() {
    return this.opened;
  }

  // Opens the hinge; one that bends takes the nearest bend that the model holds.
  set angle(degrees) {
    const { angles, axis } = this.facts;
    this.opened = degrees;
    if (angles) {
      const off = angles.map((bend) => Math.abs(bend - degrees));
      const nearest = off.indexOf(Math.min(...off));
      this.opened = angles[nearest];
      this.bodies.forEach((body, k) => (body.node.visible = k === nearest));
    } else {
      const moving = this.bodies.find((body) => body.name === "moving");
      moving.node.quaternion.setFromAxisAngle(new Vector3(...axis), degrees * RADIANS);
    }
    this.grid.visible = this.opened === 0;
    this.render();
  }

  get cut() {
    return this.halved;
  }

  set cut(on) {
    this.halved = on;
    for (const body of this.bodies) body.cut(on ? this.plane : null);
    this.render();
  }

  // Looks from where the pictures do: at the hinge as printed, or at its cut.
  look(view) {
    const eye = new Vector3(...this.facts.eyes[view]);
    this.from(eye.applyQuaternion(this.root.quaternion).normalize());
  }

  // Looks from a direction, as near as the whole swing of the hinge allows.
  from(eye) {
    const right = new Vector3(0, 1, 0).cross(eye).normalize();
    const up = eye.clone().cross(right);
    const high = Math.tan((this.camera.fov / 2) * RADIANS) / MARGIN;
    const wide = high * this.camera.aspect;
    const away = this.places.map((place) => {
      const p = place.clone().sub(this.middle);
      return p.dot(eye) + Math.max(Math.abs(p.dot(right)) / wide, Math.abs(p.dot(up)) / high);
    });
    this.orbit.target.copy(this.middle);
    this.camera.position.copy(this.middle).addScaledVector(eye, Math.max(...away));
    this.orbit.update();
    this.render();
  }

  // Colours of the page, which the browser knows by the names of the palette.
  paint() {
    const style = getComputedStyle(this.canvas);
    const colour = (name) => new Color(style.getPropertyValue(`--${name}`).trim());
    this.scene.background = colour("background");
    this.grid.material.color = colour("line");
    for (const body of this.bodies) body.paint(colour);
    this.render();
  }

  // What the eye must have room for: corners of all bodies on their way.
  frame() {
    const angles = this.facts.angles ?? [0, 0.25, 0.5, 0.75, 1].map((share) => {
      const [low, high] = this.facts.range;
      return low + share * (high - low);
    });
    this.grid = new Group();
    this.places = angles.flatMap((angle) => {
      this.angle = angle;
      this.hinge.updateMatrixWorld(true);
      return this.bodies.filter((body) => body.node.visible).flatMap((body) => body.corners());
    });
    this.middle = new Box3().setFromPoints(this.places).getCenter(new Vector3());
  }

  bed() {
    const far = Math.max(...this.places.map((p) => Math.max(Math.abs(p.x), Math.abs(p.z))));
    const squares = 2 * (Math.ceil(far / SQUARE) + 1);
    if (this.bedGrid) this.scene.remove(this.bedGrid);
    this.grid = this.bedGrid = new GridHelper(squares * SQUARE, squares);
    this.grid.material.vertexColors = false;
    this.scene.add(this.grid);
  }

  key(event) {
    const turns = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const offset = this.camera.position.clone().sub(this.orbit.target);
    if (event.key in turns) {
      const [across, down] = turns[event.key];
      const length = offset.length();
      const steep = Math.acos(offset.y / length) + down * TURN;
      const round = Math.atan2(offset.x, offset.z) + across * TURN;
      offset.setFromSphericalCoords(length, Math.min(Math.max(steep, 0.05), Math.PI - 0.05), round);
    } else if (event.key === "+" || event.key === "=") {
      offset.multiplyScalar(1 / 1.15);
    } else if (event.key === "-") {
      offset.multiplyScalar(1.15);
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
    if (this.places) this.from(this.camera.position.clone().sub(this.orbit.target).normalize());
  }

  render() {
    this.renderer.render(this.scene, this.camera);
  }
}

// One solid: its faces, its edges, and its inside. Where a sight line first meets the inside of a
// closed solid, it has come in through the cut: the inside painted flat looks as the cut face does.
class Body {
  constructor(node) {
    this.node = node;
    this.name = node.name === "moving" ? "moving" : "fixed";
    const shape = new BufferGeometry();
    shape.setAttribute("position", node.geometry.getAttribute("position"));
    shape.setIndex(node.geometry.getIndex());
    shape.computeBoundingBox();
    node.geometry = shape;
    const offset = { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };
    const mark = { stencilWrite: true, stencilZPass: ReplaceStencilOp };
    this.faces = new MeshLambertMaterial({ flatShading: true, ...offset, ...mark, stencilRef: 0 });
    this.inside = new MeshBasicMaterial({ side: BackSide, ...offset, ...mark, stencilRef: 1 });
    this.lines = new LineBasicMaterial({ stencilWrite: true, stencilFunc: EqualStencilFunc });
    node.material = this.faces;
    this.cutFace = new Mesh(shape, this.inside);
    const edges = new LineSegments(new EdgesGeometry(shape, CREASE), this.lines);
    edges.renderOrder = 1; // after all faces, and not across what is cut
    node.add(edges, this.cutFace);
  }

  cut(plane) {
    this.cutFace.visible = plane !== null;
    for (const material of [this.faces, this.lines, this.inside]) {
      material.clippingPlanes = plane ? [plane] : [];
    }
  }

  paint(colour) {
    this.faces.color = colour(this.name);
    this.inside.color = colour(`${this.name}_cut`);
    this.lines.color = colour("edge");
  }

  corners() {
    const { min, max } = this.node.geometry.boundingBox;
    const ends = [min, max];
    return [0, 1, 2, 3, 4, 5, 6, 7].map((k) =>
      new Vector3(ends[k & 1].x, ends[(k >> 1) & 1].y, ends[k >> 2].z).applyMatrix4(
        this.node.matrixWorld,
      ),
    );
  }
}

window.scadgenViewer = (canvas) => new Viewer(canvas);
