// Puts the page together. body[data-*] tells what it computed, for checks from outside.

window.addEventListener("error", (event) => { document.body.dataset.error = event.message; });

const data = JSON.parse(element("data").textContent);
const scene = data.scene;
const asked = new URLSearchParams(location.hash.slice(1)); // such as #q=0.1,0.2&cut=y:0.3&from=0.5&variable=clearance
const state = { q: scene.q.slice(), chosen: -1, variable: 0, from: 0, cut: { axis: -1, at: 0, side: 1 }, volumeShown: true };
const stage = new THREE.Scene();
const chain = buildChain(scene);
const painted = []; // [material, name of a colour of the page]
stage.add(chain.world);
moveChain(chain, state.q);
addSolids(scene, chain, painted);
addBones(scene, chain, painted);
addToolMark(chain);

const volume = data.volume && data.volume.index ? unpackVolume(data.volume) : null;
const cloud = volume ? buildCloud(volume, data.volume.spacing) : null;
if (cloud) stage.add(cloud);

chain.world.updateMatrixWorld(true);
const bounds = new THREE.Box3().setFromObject(chain.world);
for (const target of scene.targets) bounds.expandByPoint(new THREE.Vector3(target.pose[0][3], target.pose[1][3], target.pose[2][3]));
if (volume) for (const i of [0, 1]) bounds.expandByPoint(new THREE.Vector3(...volume.ends.map((e) => e[i])));
if (bounds.isEmpty()) bounds.set(new THREE.Vector3(-1, -1, 0), new THREE.Vector3(1, 1, 1));
const middle = bounds.getCenter(new THREE.Vector3());
const radius = Math.max(0.2, bounds.getSize(new THREE.Vector3()).length() / 2);
const marks = addTargets(scene, chain, painted, Math.min(0.05, 0.02 * radius + 0.008));
addHalfSpaces(scene, chain, painted, middle, 1.8 * radius);

const jointLine = new THREE.Line(new THREE.BufferGeometry(), new THREE.LineBasicMaterial({ depthTest: false }));
painted.push([jointLine.material, "accent"]);
jointLine.renderOrder = 9;
jointLine.visible = false;
stage.add(jointLine);

const names = scene.targets.map((target) => {
  const node = document.createElement("span");
  node.textContent = target.name;
  node.dataset.served = String(target.served);
  element("labels").append(node);
  return { node, at: new THREE.Vector3(target.pose[0][3], target.pose[1][3], target.pose[2][3]) };
});

for (const line of addWorldAxes(stage, painted, 0.16 * radius)) {
  const node = document.createElement("span");
  node.className = "axis";
  node.textContent = line.name;
  element("labels").append(node);
  names.push({ node, at: line.end });
}

let waiting = false;
function draw() {
  waiting = false;
  if (!view) return;
  if (cloud) cloud.material.uniforms.scale.value = view.renderer.domElement.height / (2 * Math.tan((view.camera.fov * Math.PI) / 360));
  view.renderer.render(stage, view.camera);
  if (!element("labels").hidden) placeNames(view, names);
}
function soon() {
  if (!waiting) { waiting = true; requestAnimationFrame(draw); }
}
const view = buildView(stage, soon);

function paint() {
  for (const [material, name] of painted) material.color.set(colour(name));
  soon();
}

const showJoints = fillJoints(scene, (i, value) => { state.q[i] = value; choose(-1, false); posture(); }, showAxis);

function posture() {
  moveChain(chain, state.q);
  showJoints(state.q);
  const pose = toolPose(chain);
  document.body.dataset.q = state.q.join(" ");
  document.body.dataset.toolPose = pose.join(" ");
  element("tool-place").textContent = ["x", "y", "z"].map((name, i) => `${name} ${words(pose[4 * i + 3], "m")}`).join(", ");
  soon();
}

/** The axis of the joint whose slider is in use. */
function showAxis(i) {
  jointLine.visible = i >= 0;
  if (i >= 0) {
    const { group, axis } = chain.links[i];
    const ends = [-0.4, 0.4].map((at) => axis.clone().multiplyScalar(at).applyMatrix4(group.matrixWorld));
    jointLine.geometry.setFromPoints(ends);
  }
  soon();
}

function choose(i, move = true) {
  state.chosen = i;
  pressTarget(i);
  marks.forEach((mark, k) => mark.children.forEach((part) => part.scale.setScalar(k === i ? 1.5 : 1)));
  const told = element("told");
  told.textContent = "";
  if (i >= 0) {
    const target = scene.targets[i];
    if (target.q && move) { state.q = target.q.slice(); posture(); }
    const where = target.q ? (target.served ? "The arm is shown serving it." : "The arm is shown at the nearest posture found.") : "No posture to show.";
    told.textContent = `${target.name}: ${WORDS[target.served]}${target.reason ? ", " + target.reason : ""}. ${where}`;
  }
  soon();
}

function showVolume() {
  if (!cloud) return;
  const variable = volume.variables[state.variable], uniforms = cloud.material.uniforms;
  const at = state.cut.axis < 0 ? [0, 1] : volume.ends[state.cut.axis];
  cloud.visible = state.volumeShown;
  cloud.geometry.setAttribute("value", new THREE.BufferAttribute(variable.values, 1));
  uniforms.low.value = variable.low;
  uniforms.high.value = variable.high;
  uniforms.from.value = state.from <= variable.low ? -3e38 : state.from;
  uniforms.cutAxis.value.set(0, 0, 0);
  if (state.cut.axis >= 0) uniforms.cutAxis.value.setComponent(state.cut.axis, 1);
  uniforms.cutAt.value = state.cut.axis < 0 ? 0 : state.cut.at;
  uniforms.side.value = state.cut.side;
  uniforms.colours.value = colourTexture(data.colours[variable.colours]);
  element("threshold").value = String((1000 * (state.from - variable.low)) / (variable.high - variable.low));
  element("threshold-value").textContent = state.from <= variable.low ? "all" : words(state.from, variable.unit);
  element("cut-row").hidden = state.cut.axis < 0;
  element("cut").value = String((1000 * (state.cut.at - at[0])) / (at[1] - at[0] || 1));
  element("cut-value").textContent = words(state.cut.at, "m");
  element("cut-axis").value = state.cut.axis < 0 ? "" : "xyz"[state.cut.axis];
  element("cut-turned").checked = state.cut.side < 0;
  element("variable").value = String(state.variable);
  const count = countShown(volume, variable.values, uniforms.from.value, state.cut);
  document.body.dataset.shown = String(count);
  element("volume-count").textContent = `${count} of ${volume.count} positions shown.`;
  const terms = data.volume.terms;
  element("volume-note").textContent = terms ? `Load centre (${terms.load_centre.map((v) => words(v, "m")).join(", ")}) from the tool frame, tool attitude ${terms.attitude}, ${terms.limit} torque.` : "";
  element("legend").hidden = !state.volumeShown;
  drawLegend(variable, unpack(data.colours[variable.colours], Uint8Array), state.from);
  soon();
}

function chooseVariable(i) {
  state.variable = i;
  state.from = volume.variables[i].low;
  showVolume();
}

function chooseCut(axis, at) {
  state.cut.axis = axis;
  if (axis >= 0) state.cut.at = Number.isFinite(at) ? at : (volume.ends[axis][0] + volume.ends[axis][1]) / 2;
  showVolume();
}

function connectVolume() {
  element("volume-part").hidden = false;
  element("volume-head").textContent = data.volume.study === "payload_map" ? "Payload" : "Reach";
  volume.variables.forEach((variable, i) => element("variable").append(new Option(variable.words.split(":")[0], String(i))));
  element("variable").addEventListener("change", (event) => chooseVariable(Number(event.target.value)));
  element("volume-shown").addEventListener("change", (event) => { state.volumeShown = event.target.checked; showVolume(); });
  element("threshold").addEventListener("input", (event) => {
    const { low, high } = volume.variables[state.variable];
    state.from = low + (Number(event.target.value) / 1000) * (high - low);
    showVolume();
  });
  element("cut-axis").addEventListener("change", (event) => chooseCut("xyz".indexOf(event.target.value || "none")));
  element("cut-turned").addEventListener("change", (event) => { state.cut.side = event.target.checked ? -1 : 1; showVolume(); });
  element("cut").addEventListener("input", (event) => {
    const [first, last] = volume.ends[state.cut.axis];
    chooseCut(state.cut.axis, first + (Number(event.target.value) / 1000) * (last - first));
  });
  chooseVariable(Math.max(0, volume.variables.findIndex((v) => v.name === asked.get("variable"))));
  const base = new THREE.Vector3().setFromMatrixPosition(chain.at(scene.has_track ? 0 : -1).matrixWorld);
  const [axis, at] = (asked.has("cut") ? asked.get("cut") : "y:" + base.y).split(":");
  chooseCut("xyz".indexOf(axis || "none"), Number(at));
  if (asked.has("from")) { state.from = Number(asked.get("from")); showVolume(); }
}

function connectView() {
  document.querySelectorAll("[data-show]").forEach((box) => box.addEventListener("change", () => {
    if (box.dataset.show === "names") element("labels").hidden = !box.checked;
    else chain.world.traverse((part) => { if (part.userData.show === box.dataset.show) part.visible = box.checked; });
    soon();
  }));
  element("units").addEventListener("change", (event) => { unitSystem = event.target.value; showJoints(state.q); posture(); showVolume(); });
  element("posture-back").addEventListener("click", () => { state.q = scene.q.slice(); choose(-1); posture(); });
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", paint);
  if (!view) return;
  keyboard(view);
  document.querySelectorAll("[data-look]").forEach((button) => button.addEventListener("click", () => lookFrom(view, button.dataset.look, middle, radius)));
  fitCanvas(view);
  lookFrom(view, asked.get("look") in LOOKS ? asked.get("look") : "corner", middle, (view.camera.aspect > 1.1 ? 0.86 : 1) * radius);
  new ResizeObserver(() => { fitCanvas(view); draw(); }).observe(element("view"));
}

function start() {
  unitSystem = data.units;
  element("units").value = data.units;
  element("title").textContent = scene.name;
  const checked = scene.targets.filter((t) => t.served !== null);
  const served = checked.filter((t) => t.served).length;
  element("subtitle").textContent = scene.arm_name + (checked.length ? `, serves ${served} of ${checked.length} work points` : "");
  fillTargets(scene, choose);
  const q = (asked.get("q") || "").split(",").map(Number);
  if (asked.has("q") && q.length === state.q.length && q.every(Number.isFinite)) state.q = q;
  posture();
  if (volume && volume.count) connectVolume();
  connectView();
  paint();
  if (asked.has("target")) choose(scene.targets.findIndex((t) => t.name === asked.get("target")));
  draw();
  document.body.dataset.drawn = view ? "yes" : "no";
  document.body.dataset.ready = "yes";
}
start();
