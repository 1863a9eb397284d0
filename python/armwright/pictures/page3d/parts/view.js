// Camera, light, names over the picture. Draws only when something has changed.

function buildView(stage, controlsDone) {
  const canvas = element("canvas");
  let renderer;
  try {
    renderer = new THREE.WebGLRenderer({ canvas, antialias: true, alpha: true });
  } catch (error) {
    element("no-picture").hidden = false;
    return null;
  }
  renderer.localClippingEnabled = true;
  const camera = new THREE.PerspectiveCamera(38, 1, 0.02, 500);
  camera.up.set(0, 0, 1);
  const lamp = new THREE.DirectionalLight(0xffffff, 0.5);
  lamp.position.set(-0.4, 0.6, 1);
  camera.add(lamp);
  stage.add(camera, new THREE.HemisphereLight(0xffffff, 0xa8a8a8, 0.74));
  const orbit = new THREE.OrbitControls(camera, canvas);
  orbit.addEventListener("change", controlsDone);
  return { renderer, camera, orbit, canvas };
}

const LOOKS = { corner: [0.62, -1, 0.55], front: [0, -1, 0.0001], side: [1, 0, 0.0001], top: [0, -0.0001, 1] };

/** Stands back so that a ball of that radius about the middle fills the picture. */
function lookFrom(view, name, middle, radius) {
  const narrow = Math.min(1, view.camera.aspect);
  const back = radius / Math.sin((view.camera.fov * Math.PI) / 360) / narrow;
  view.orbit.target.copy(middle);
  view.camera.position.set(...LOOKS[name]).normalize().multiplyScalar(back).add(middle);
  view.orbit.update();
}

function fitCanvas(view) {
  const { clientWidth: width, clientHeight: height } = element("view");
  view.renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
  view.renderer.setSize(width, height, false);
  view.camera.aspect = width / height;
  view.camera.updateProjectionMatrix();
}

/** Arrow keys turn, with Shift they shift, + and - come nearer and go back. */
function keyboard(view) {
  view.canvas.addEventListener("keydown", (event) => {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    const nearer = { "+": 0.88, "=": 0.88, "-": 1 / 0.88, "−": 1 / 0.88 }[event.key];
    if ((!way && !nearer) || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    const { camera, orbit } = view;
    const arm = camera.position.clone().sub(orbit.target);
    if (nearer) arm.multiplyScalar(nearer);
    else if (event.shiftKey) {
      const right = new THREE.Vector3().setFromMatrixColumn(camera.matrix, 0);
      const up = new THREE.Vector3().setFromMatrixColumn(camera.matrix, 1);
      orbit.target.addScaledVector(right, 0.04 * way[0] * arm.length()).addScaledVector(up, 0.04 * way[1] * arm.length());
    } else {
      const turn = new THREE.Spherical().setFromVector3(new THREE.Vector3(arm.x, arm.z, -arm.y));
      turn.theta += 0.1 * way[0];
      turn.phi = Math.min(Math.PI - 0.01, Math.max(0.01, turn.phi - 0.1 * way[1]));
      const turned = new THREE.Vector3().setFromSpherical(turn);
      arm.set(turned.x, -turned.z, turned.y);
    }
    camera.position.copy(orbit.target).add(arm);
    orbit.update();
  });
}

/** Sets each name beside its point; a name that would cover another moves down, and stays away if there is no room. */
function placeNames(view, names) {
  const width = view.canvas.clientWidth, height = view.canvas.clientHeight;
  const taken = [];
  for (const { node, at } of names) {
    const p = at.clone().project(view.camera);
    const behind = p.z > 1 || Math.abs(p.x) > 1.05 || Math.abs(p.y) > 1.05;
    const size = [node.offsetWidth, node.offsetHeight];
    const left = Math.min(((p.x + 1) / 2) * width + 10, width - size[0] - 4);
    let top = ((1 - p.y) / 2) * height - size[1] / 2, tries = 0;
    const clash = () => taken.find((t) => left < t[0] + t[2] && t[0] < left + size[0] && top < t[1] + t[3] && t[1] < top + size[1]);
    for (let other = clash(); other && tries < 6; other = clash(), ++tries) top = other[1] + other[3] + 1;
    node.style.visibility = behind || clash() ? "hidden" : "visible";
    if (behind) continue;
    node.style.transform = `translate(${left.toFixed(1)}px, ${top.toFixed(1)}px)`;
    taken.push([left, top, ...size]);
  }
}
