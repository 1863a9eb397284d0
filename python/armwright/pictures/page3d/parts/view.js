// Camera, light, names over the picture. Draws only when something has changed.

function buildView(stage, controlsDone) {
  const canvas = element("canvas"), slow = isDrawnByProcessor();
  let renderer;
  try {
    renderer = new THREE.WebGLRenderer({ canvas, antialias: !slow, alpha: true });
  } catch (error) {
    element("no-picture").hidden = false;
    return null;
  }
  const camera = new THREE.PerspectiveCamera(38, 1, 0.02, 500);
  camera.up.set(0, 0, 1);
  const lamp = new THREE.DirectionalLight(0xffffff, 0.42);
  lamp.position.set(-0.5, 0.7, 1);
  camera.add(lamp);
  stage.add(camera, new THREE.HemisphereLight(0xffffff, 0xb4aca0, 0.78));
  const orbit = new THREE.OrbitControls(camera, canvas);
  orbit.addEventListener("change", controlsDone);
  canvas.addEventListener("webglcontextrestored", controlsDone);
  return { renderer, camera, orbit, canvas, slow, rough: false, aside: [0, 0] };
}

/** Whether there is no graphics card: then all is drawn roughly while it moves, and finely once it rests. */
function isDrawnByProcessor() {
  const gl = document.createElement("canvas").getContext("webgl"), told = gl && gl.getExtension("WEBGL_debug_renderer_info");
  const name = told ? gl.getParameter(told.UNMASKED_RENDERER_WEBGL) : "";
  if (gl) gl.getExtension("WEBGL_lose_context").loseContext();
  return /swiftshader|llvmpipe|software|basic render/i.test(name);
}

const LOOKS = { front: [0, -1, 0.0001], side: [1, 0, 0.0001], top: [0, -0.0001, 1] };
const CORNERS = [[0.62, -1], [-0.62, -1], [1, -0.6], [-1, -0.6], [0.62, 1], [-0.62, 1], [1, 0.6], [-1, 0.6]].map(([x, y]) => [x, y, 0.62]);

/** What lies over the picture: left, top, width and height of plate and legend in its pixels. */
function covered(view) {
  const frame = view.canvas.getBoundingClientRect();
  return ["plate", "legend"].map(element).filter((node) => node.offsetParent && getComputedStyle(node).position === "absolute").map((node) => {
    const box = node.getBoundingClientRect();
    return [box.left - frame.left, box.top - frame.top, box.width, box.height];
  });
}

/** Stands back along a direction until all the points just fill the picture; what would lie under the plate or the legend
 * is moved beside or below the plate, whichever leaves it larger. */
function lookFrom(view, direction, points) {
  const { clientWidth: width, clientHeight: height } = view.canvas, boxes = covered(view);
  if (boxes.length < 2 - element("legend").hidden) boxes.length = 0; // on a phone the plate is elsewhere
  const left = Math.max(0, ...boxes.map((box) => box[0] + box[2])) / width, top = boxes.length ? (boxes[0][1] + boxes[0][3]) / height : 0;
  const under = ([x, y]) => boxes.some((box) => x > box[0] && x < box[0] + box[2] && y > box[1] && y < box[1] + box[3]);
  lookInto(view, direction, points, [0, 0, 1, 1]);
  if (!points.some((point) => under(onScreen(view, point)))) return;
  const places = [[left / 2, 0, 1 - left, 1], [0, top / 2, 1, 1 - top]].filter((place) => place[2] > 0.3 && place[3] > 0.3);
  if (!places.length) return;
  const away = places.map((place) => lookInto(view, direction, points, place));
  lookInto(view, direction, points, places[away.indexOf(Math.min(...away))]);
}

/** Into a part of the picture: how far its middle is aside and down, how wide and high it is, as shares. Gives how far the
 * eye is from the middle. */
function lookInto(view, direction, points, [aside, down, across, upright]) {
  const { camera, orbit } = view, middle = new THREE.Box3().setFromPoints(points).getCenter(new THREE.Vector3());
  view.aside = [aside, down];
  moveAside(view);
  camera.position.set(...direction).normalize().add(middle);
  camera.lookAt(middle);
  camera.updateMatrixWorld();
  const [right, up, back] = [0, 1, 2].map((k) => new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, k));
  const half = 0.94 * Math.tan((camera.fov * Math.PI) / 360), tall = half * upright, wide = half * camera.aspect * across;
  let away = 0.1;
  for (let turn = 0; turn < 4; ++turn) {
    const seen = points.map((point) => point.clone().sub(middle)).map((p) => [p.dot(right), p.dot(up), p.dot(back)]);
    away = Math.max(0.1, ...seen.map(([x, y, z]) => z + Math.max(Math.abs(x) / wide, Math.abs(y) / tall)));
    const centre = [0, 1].map((k) => { const s = seen.map((p) => p[k] / (away - p[2])); return (Math.max(...s) + Math.min(...s)) / 2; });
    middle.addScaledVector(right, centre[0] * away).addScaledVector(up, centre[1] * away);
  }
  orbit.target.copy(middle);
  camera.position.copy(middle).addScaledVector(back, away);
  orbit.update();
  camera.updateMatrixWorld();
  return away;
}

/** Moves the picture so that the camera's middle lies aside of the picture's. */
function moveAside({ camera, canvas, aside }) {
  const { clientWidth: width, clientHeight: height } = canvas;
  camera.setViewOffset(width, height, -aside[0] * width, -aside[1] * height, width, height);
}

/** The corner from which fewest of the points are hidden behind fixtures or walls; of equal ones the first. */
function clearestCorner(scene, solids, points, box) {
  const ray = new THREE.Raycaster(), far = box.getSize(new THREE.Vector3()).length() * 2, middle = box.getCenter(new THREE.Vector3());
  const bodies = solids.filter(({ solid, geometry }) => solid.role === "fixture" && geometry.attributes.position.count < 5000).map(({ group }) => group.children[0]);
  const walls = scene.solids.filter((s) => s.kind === "half_space").map((s) => new THREE.Plane().setFromNormalAndCoplanarPoint(new THREE.Vector3(s.pose[0][2], s.pose[1][2], s.pose[2][2]), pointOf(s.pose)));
  const hidden = CORNERS.map((corner) => {
    const eye = new THREE.Vector3(...corner).normalize().multiplyScalar(far).add(middle);
    const behind = walls.some((wall) => wall.distanceToPoint(eye) < 0);
    return (behind ? 1.5 * points.length : 0) + points.filter((point) => {
      const way = point.clone().sub(eye);
      ray.set(eye, way.clone().normalize());
      ray.far = way.length() - 0.01;
      return ray.intersectObjects(bodies).length > 0;
    }).length;
  });
  return CORNERS[hidden.indexOf(Math.min(...hidden))];
}

/** Makes the picture as large as its place; whether it was of another size. */
function fitCanvas(view) {
  const { clientWidth: width, clientHeight: height } = view.canvas, before = [view.canvas.width, view.canvas.height];
  if (!width || !height) return false;
  view.renderer.setPixelRatio(view.slow ? (view.rough ? 0.75 : 1.5) : Math.min(window.devicePixelRatio || 1, 2));
  view.renderer.setSize(width, height, false);
  moveAside(view);
  return view.canvas.width !== before[0] || view.canvas.height !== before[1];
}

/** Arrow keys turn, with Shift they shift, + and - come nearer and go back; other keys are the caller's. */
function keyboard(view, others) {
  view.canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    const nearer = { "+": 0.88, "=": 0.88, "-": 1 / 0.88, "−": 1 / 0.88 }[event.key];
    const other = others[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (!way && !nearer && !other) return;
    event.preventDefault();
    if (other) other();
    else if (nearer) comeNearer(view, nearer);
    else if (event.shiftKey) shift(view, way);
    else turn(view, way);
    view.orbit.update();
  });
}

function comeNearer(view, by) {
  view.camera.position.sub(view.orbit.target).multiplyScalar(by).add(view.orbit.target);
}

function shift({ camera, orbit }, way) {
  const length = camera.position.distanceTo(orbit.target);
  [0, 1].forEach((k) => {
    const step = new THREE.Vector3().setFromMatrixColumn(camera.matrix, k).multiplyScalar(0.04 * way[k] * length);
    orbit.target.add(step);
    camera.position.add(step);
  });
}

function turn({ camera, orbit }, way) {
  const arm = camera.position.clone().sub(orbit.target), angles = new THREE.Spherical().setFromVector3(new THREE.Vector3(arm.x, arm.z, -arm.y));
  angles.theta += 0.1 * way[0];
  angles.phi = Math.min(Math.PI - 0.01, Math.max(0.01, angles.phi - 0.1 * way[1]));
  const turned = new THREE.Vector3().setFromSpherical(angles);
  camera.position.copy(orbit.target).add(arm.set(turned.x, -turned.z, turned.y));
}

/** Calls back with the place in the picture, in its pixels, where it was clicked or touched without dragging. */
function onPick(view, picked) {
  let down = null;
  view.canvas.addEventListener("pointerdown", (event) => { down = event.isPrimary ? [event.clientX, event.clientY] : null; });
  view.canvas.addEventListener("pointerup", (event) => {
    if (!down || Math.hypot(event.clientX - down[0], event.clientY - down[1]) > 5) return;
    const box = view.canvas.getBoundingClientRect();
    picked(event.clientX - box.left, event.clientY - box.top, event.pointerType === "touch" ? 26 : 16);
  });
}

/** A point of the world in the picture's pixels, and how deep behind it; null behind the eye. */
function onScreen(view, at) {
  const p = at.clone().project(view.camera);
  if (p.z > 1) return null;
  return [((p.x + 1) / 2) * view.canvas.clientWidth, ((1 - p.y) / 2) * view.canvas.clientHeight, p.z];
}

/** Sets each name beside its point, the first ones first; a name that would cover another moves down, and stays away if
 * there is no room. */
function placeNames(view, names) {
  const width = view.canvas.clientWidth, height = view.canvas.clientHeight;
  const taken = covered(view);
  const sizes = names.map(({ node }) => [node.offsetWidth, node.offsetHeight]);
  names.forEach((name, i) => {
    const { node, at } = name, size = sizes[i], p = name.off ? null : onScreen(view, at);
    const behind = !p || p[0] < -20 || p[0] > width + 20 || p[1] < -20 || p[1] > height + 20;
    const left = behind ? 0 : Math.min(p[0] + 10, width - size[0] - 4);
    let top = behind ? 0 : p[1] - size[1] / 2, tries = 0;
    const clash = () => taken.find((t) => left < t[0] + t[2] && t[0] < left + size[0] && top < t[1] + t[3] && t[1] < top + size[1]);
    for (let other = behind ? null : clash(); other && tries < (node.className ? 0 : 6); other = clash(), ++tries) top = other[1] + other[3] + 1;
    const away = behind || clash() !== undefined;
    node.style.visibility = away ? "hidden" : "visible";
    name.box = away ? null : [left, top, ...size];
    if (away) return;
    node.style.transform = `translate(${left.toFixed(1)}px, ${top.toFixed(1)}px)`;
    taken.push(name.box);
  });
}

/** Tells the style for paper how large the picture is, so that it is shrunk with its names as a whole. */
function keepSize(stage) {
  const { width, height } = stage.getBoundingClientRect(), paper = 690; // CSS pixels between the margins of a sheet
  const style = stage.style;
  style.setProperty("--width", `${width}px`), style.setProperty("--height", `${height}px`);
  style.setProperty("--shrunk", Math.min(1, paper / width));
}
