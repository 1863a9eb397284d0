// Puts the page together. body[data-*] tells what it computed, for checks from outside.

window.addEventListener("error", (event) => { document.body.dataset.error = event.message; });

const data = JSON.parse(element("data").textContent);
const scene = data.scene;
const asked = new URLSearchParams(location.hash.slice(1)); // such as #q=0.1,0.2&map=payload_map&variable=mass_least&cut=y:0.3&from=0.5
const state = { q: scene.q.slice(), chosen: -1, load: scene.load, labels: true };
const stage = new THREE.Scene();
const chain = buildChain(scene);
const painted = []; // [material, name of a colour of the page]
stage.add(chain.world);
moveChain(chain, state.q);
const solids = addSolids(scene, chain, painted);
addBones(scene, chain, painted);
addToolMark(chain);
const maps = buildMaps(data, stage, soon);
const nearest = buildNearest(scene);

chain.world.updateMatrixWorld(true);
const outline = outlinePoints();
const bounds = new THREE.Box3().setFromPoints(outline);
const middle = bounds.getCenter(new THREE.Vector3());
const radius = Math.max(0.2, bounds.getSize(new THREE.Vector3()).length() / 2);
const marks = addTargets(scene, chain, painted, Math.min(0.05, 0.02 * radius + 0.008));
addHalfSpaces(scene, chain, painted, middle, 1.8 * radius);
const dropShadows = addShadows(solids, stage, floorOf(scene), painted);
const scale = addTrackScale(scene, stage, chain, painted);
const gapLine = buildGapLine(stage, painted);
const jointMark = buildJointMark(stage, painted, 0.3 * Math.min(1, radius));
const names = nameAll();

function pointOf(pose) {
  return new THREE.Vector3(pose[0][3], pose[1][3], pose[2][3]);
}

/** Points about all that is to be seen: corners of boxes around solids and maps, work points, the joints. */
function outlinePoints() {
  const cornersOf = (low, high) => [0, 1, 2, 3, 4, 5, 6, 7].map((k) => new THREE.Vector3(...[0, 1, 2].map((i) => ((k >> i) & 1 ? high : low)[i])));
  const boxes = solids.flatMap(({ group, geometry }) => {
    geometry.computeBoundingBox();
    return cornersOf(geometry.boundingBox.min.toArray(), geometry.boundingBox.max.toArray()).map((p) => p.applyMatrix4(group.matrixWorld));
  });
  const joints = chain.links.map(({ group }) => new THREE.Vector3().setFromMatrixPosition(group.matrixWorld));
  const all = [...boxes, ...scene.targets.map((target) => pointOf(target.pose)), ...joints, ...maps.maps.flatMap((map) => cornersOf(...map.reach))];
  return all.length ? all : cornersOf([-1, -1, 0], [1, 1, 1]);
}

/** Words over the picture, those that matter most first. */
function nameAll() {
  const add = (kind, text, at) => {
    const node = made("span", kind, text);
    element("labels").append(node);
    return { node, at };
  };
  const gap = Object.assign(add("gap", "", gapLine.middle), { off: true });
  const targets = scene.targets.map((target, i) => Object.assign(add("", target.name, pointOf(target.pose)), { target: i }));
  targets.forEach(({ node }, i) => { node.dataset.served = String(scene.targets[i].served); });
  const marked = scale.names.map(({ value, at }) => Object.assign(add("scale", "", at), { value }));
  const axes = addWorldAxes(stage, painted, 0.16 * radius).map((line) => add("axis", line.name, line.end));
  return { all: [gap, ...targets, ...marked, ...axes], gap, targets, marked };
}

let waiting = false, rest = 0, drawnAt = 0, apart = 0; // apart: ms between two pictures while it moves
function draw(rough) {
  waiting = false;
  if (!view) return;
  if (view.slow && view.rough !== (rough === true)) { view.rough = rough === true; fitCanvas(view); }
  const map = maps.now(), now = performance.now();
  apart = Math.min(2000, now - drawnAt);
  drawnAt = now;
  if (map) map.cloud.material.uniforms.scale.value = view.renderer.domElement.height / (2 * Math.tan((view.camera.fov * Math.PI) / 360));
  dropShadows();
  view.renderer.render(stage, view.camera);
  if (state.labels) placeNames(view, names.all);
}
function soon() {
  if (!waiting) { waiting = true; requestAnimationFrame(() => draw(true)); }
  if (!view || !view.slow) return;
  clearTimeout(rest);
  rest = setTimeout(draw, 250 + 2 * apart);
}
const view = buildView(stage, soon);

function paint() {
  for (const [material, name] of painted) material.color.set(colour(name));
  soon();
}

const showJoints = fillJoints(scene, (i, value) => {
  state.q[i] = value;
  byHand();
  posture();
  say(spoken(), 900);
}, (i) => { jointMark.show(i); soon(); });
const player = data.cycle ? buildPlayer(unpackCycle(data.cycle), scene.joints.length, showCycle) : null;
const resting = data.cycle ? restingPlaces() : [];

/** Axes and load are the reader's again: no work point, no cycle. */
function byHand() {
  if (player) player.leave();
  press(-1);
}

function press(i) {
  state.chosen = i;
  pressTarget(i);
  tellTarget(scene.targets[i]);
  marks.forEach((mark, k) => mark.children.forEach((part) => part.scale.setScalar(k === i ? 1.5 : 1)));
  names.targets.forEach(({ node }, k) => node.toggleAttribute("data-chosen", k === i));
}

/** Moves the arm to state.q with state.load and tells all that follows. */
function posture(row = -1) {
  moveChain(chain, state.q);
  showJoints(state.q);
  scale.move(state.q[0]);
  jointMark.refresh();
  showLoads(row);
  const pose = toolPose(chain), found = leastDistance(nearest, chain, state.load);
  const at = [3, 7, 11].map((k) => pose[k]), carried = state.load || "nothing";
  document.body.dataset.q = state.q.join(" ");
  document.body.dataset.toolPose = pose.join(" ");
  document.body.dataset.gap = found ? [found.distance, ...found.a, ...found.b].join(" ") : "";
  document.body.dataset.gapNames = found ? JSON.stringify([found.name_a, found.name_b]) : "";
  element("tool-place").textContent = ["x", "y", "z"].map((name, i) => `${name} ${words(at[i], "m")}`).join("  ");
  element("gap").textContent = gapWords(found);
  element("gap-names").textContent = found ? `${found.name_a} – ${found.name_b}` : "";
  element("carries").textContent = carried;
  element("load").value = state.load;
  gapLine.show(found);
  names.gap.node.textContent = gapWords(found);
  names.gap.off = !found || !gapLine.group.visible;
  tellHere(at);
  soon();
}

function gapWords(found) {
  if (!found) return "nothing to come near";
  if (found.depth === false) return "overlap";
  return found.distance < 0 ? `overlap ${words(-found.distance, "small m")}` : words(found.distance, "small m");
}

function spoken() {
  return `Tool point ${element("tool-place").textContent}. Nearest: ${element("gap").textContent}, ${element("gap-names").textContent.replace("–", "and")}.`;
}

/** What the map says where the tool is. */
function tellHere(at) {
  const map = maps.now();
  element("here-row").hidden = !map;
  if (!map) return;
  element("here-head").textContent = "Map here";
  element("here").textContent = maps.tell(maps.valueAt(at), true);
}

function choose(i) {
  if (player) player.leave();
  press(i);
  const target = scene.targets[i];
  if (!target) return;
  state.load = target.load || state.load;
  if (target.q) state.q = target.q.slice();
  posture();
  say(sentence(target) + (target.q ? " " + spoken() : ""));
}

function showCycle(now, quiet) {
  press(-1);
  state.q = now.q;
  state.load = now.load >= 0 ? bodyOf(data.cycle.loads[now.load]) : "";
  posture(now.row);
  if (!quiet) say(element("cycle-now").textContent.replaceAll(" · ", ", ") + ". " + spoken(), 900);
}

/** A click in the picture: a work point's name or mark, else a ball of the map. */
function pick(x, y, near) {
  const inside = (box) => box && x >= box[0] && x <= box[0] + box[2] && y >= box[1] && y <= box[1] + box[3];
  const away = (name) => { const p = onScreen(view, name.at); return p ? Math.hypot(p[0] - x, p[1] - y) : Infinity; };
  const named = state.labels && names.targets.find((name) => inside(name.box));
  const close = names.targets.filter((name) => away(name) < near).sort((a, b) => away(a) - away(b))[0];
  if (named || close) return choose((named || close).target);
  const map = maps.now();
  const ball = map ? pickBall(view, map, x, y, map.from, maps.shown.cut, map.packed.spacing) : -1;
  if (ball < 0) return undefined;
  const at = Array.from(map.positions.subarray(3 * ball, 3 * ball + 3)), text = maps.tell(ball);
  element("here-head").textContent = "Map there";
  element("here").textContent = `${text}, at ${at.map((value) => words(value, "m")).join(", ")}`;
  return say(element("here").textContent);
}

function stepTarget(way) {
  const count = scene.targets.length;
  if (count) choose((state.chosen + way + count + (state.chosen < 0 && way < 0 ? 1 : 0)) % count);
}

function showParts(box) {
  const what = box.dataset.show;
  if (what === "names") state.labels = !(element("labels").hidden = !box.checked);
  else if (what === "gap") { gapLine.group.visible = box.checked; posture(player && player.row); }
  else {
    if (what === "arm") state.hidden = box.checked ? "" : "arm";
    stage.traverse((part) => { if (part.userData.show === what) part.visible = box.checked; });
    posture();
  }
  soon();
}

function setUnits(system) {
  unitSystem = system;
  element("units").value = system;
  names.marked.forEach((name) => { name.node.textContent = words(name.value, "m", system === "si" ? 1 : 0); });
  sayTargets(scene);
  tellTarget(scene.targets[state.chosen]);
  maps.refresh();
  if (player) player.refresh();
  posture();
}

let lookFirst = () => {};
function connectView() {
  document.querySelectorAll("[data-show]").forEach((box) => box.addEventListener("change", () => showParts(box)));
  element("units").addEventListener("change", (event) => setUnits(event.target.value));
  element("posture-back").addEventListener("click", () => { state.q = scene.q.slice(); state.load = scene.load; byHand(); posture(); say(spoken()); });
  const loads = [...new Set(scene.solids.filter((s) => s.role === "load").map((s) => s.body))];
  element("load-row").hidden = loads.length === 0;
  fillSelect("load", [["nothing", ""], ...loads.map((name) => [name, name])], (name) => { state.load = name; byHand(); posture(); say(spoken()); });
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", paint);
  window.addEventListener("beforeprint", () => { keepSize(element("stage")); draw(); });
  if (!view) return;
  const points = [...scene.targets.map((t) => pointOf(t.pose)), ...chain.links.map((link) => new THREE.Vector3().setFromMatrixPosition(link.group.matrixWorld))];
  const looks = { ...LOOKS, corner: clearestCorner(scene, solids, points, bounds) }, lookAtAll = (name) => lookFrom(view, looks[name], outline);
  keyboard(view, { n: () => stepTarget(1), p: () => stepTarget(-1), Home: () => lookAtAll("corner") });
  onPick(view, pick);
  document.querySelectorAll("[data-look]").forEach((button) => button.addEventListener("click", () => lookAtAll(button.dataset.look)));
  fitCanvas(view);
  lookFirst = () => lookAtAll(asked.get("look") in looks ? asked.get("look") : "corner");
  lookFirst();
  new ResizeObserver(() => { if (fitCanvas(view)) { draw(true); soon(); } }).observe(element("canvas"));
}

function startMaps() {
  const first = maps.maps.findIndex((map) => map.packed.study === asked.get("map"));
  maps.choose(asked.get("map") === "none" || !maps.maps.length ? -1 : Math.max(0, first));
  const map = maps.now();
  if (!map) return;
  maps.chooseVariable(Math.max(0, map.variables.findIndex((v) => v.name === asked.get("variable"))));
  const base = new THREE.Vector3().setFromMatrixPosition(chain.at(scene.has_track ? 0 : -1).matrixWorld);
  if (view && !asked.has("cut") && view.camera.position.y > base.y) maps.shown.cut.side = -1; // what is nearer is cut away
  const [axis, at] = (asked.has("cut") ? asked.get("cut") : "y:" + base.y).split(":");
  maps.chooseCut("xyz".indexOf(axis || "none"), Number(at));
  if (asked.has("from")) { map.from = Number(asked.get("from")); maps.refresh(); }
}

function start() {
  element("title").textContent = scene.name;
  const checked = scene.targets.filter((t) => t.served !== null);
  const served = checked.filter((t) => t.served).length;
  element("subtitle").textContent = scene.arm_name + (checked.length ? `, serves ${served} of ${checked.length} work points` : "");
  fillTargets(scene, choose);
  const q = (asked.get("q") || "").split(",").map(Number);
  if (asked.has("q") && q.length === state.q.length && q.every(Number.isFinite)) state.q = q;
  connectView();
  startMaps();
  setUnits(data.units);
  lookFirst(); // beside what now lies over the picture
  paint();
  if (asked.has("target")) choose(scene.targets.findIndex((t) => t.name === asked.get("target")));
  if (asked.has("time") && player) player.to(Number(asked.get("time")) || 0, true);
  draw(true);
  soon();
  document.body.dataset.drawn = view ? "yes" : "no";
  document.body.dataset.ready = "yes";
}
start();
