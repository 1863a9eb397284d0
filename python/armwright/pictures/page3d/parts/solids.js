// Shapes of links, tool, load, track and fixtures.

const CREASE = 30; // degrees; edges sharper than this are drawn as lines
const MOST_EDGED = 40000; // triangles; on a finer mesh edges would be drawn over each other, and take long to find

// One program of the graphics card for all solids, and one for all that is flat: each takes long to make ready where there
// is no card. What is seen through is not called transparent, as three.js would draw it from both sides with two more.
const solidMaterial = (more) => new THREE.MeshLambertMaterial({ side: THREE.DoubleSide, ...more });
const flatMaterial = (more) => new THREE.MeshBasicMaterial({ side: THREE.DoubleSide, ...more });
const lineMaterial = (more) => new THREE.LineBasicMaterial({ side: THREE.DoubleSide, ...more });
const faint = (opacity, more) => ({
  opacity, depthWrite: false, blending: THREE.CustomBlending, blendSrcAlpha: THREE.OneFactor, blendDstAlpha: THREE.OneMinusSrcAlphaFactor, ...more,
});

function geometryOf(solid) {
  const round = 32;
  switch (solid.kind) {
    case "box": return new THREE.BoxGeometry(...solid.size);
    case "sphere": return new THREE.SphereGeometry(solid.radius, round, round / 2);
    case "cylinder": return new THREE.CylinderGeometry(solid.radius, solid.radius, solid.length, round).rotateX(Math.PI / 2);
    case "capsule": return capsule(solid.radius, solid.length, round);
    default: {
      const g = new THREE.BufferGeometry();
      g.setAttribute("position", new THREE.BufferAttribute(unpack(solid.vertices, Float32Array), 3));
      g.setIndex(new THREE.BufferAttribute(unpack(solid.triangles, Uint32Array), 1));
      const flat = g.toNonIndexed();
      flat.computeVertexNormals();
      return flat;
    }
  }
}

/** A turned outline: a quarter circle, a straight, a quarter circle; along z. */
function capsule(radius, length, round) {
  const outline = [];
  for (let i = 0; i <= 16; ++i) {
    const angle = -Math.PI / 2 + (Math.PI * i) / 16;
    const half = i < 8 || (i === 8 && length === 0) ? -length / 2 : length / 2;
    if (i === 8) outline.push(new THREE.Vector2(radius, -length / 2));
    outline.push(new THREE.Vector2(Math.max(0, radius * Math.cos(angle)), half + radius * Math.sin(angle)));
  }
  return new THREE.LatheGeometry(outline, round).rotateX(Math.PI / 2);
}

/** A faint copy that shows through the volume and the fixtures, so that the arm is never lost. */
function seenThrough(geometry, tone, painted) {
  const material = solidMaterial(faint(0.28, { depthTest: false }));
  painted.push([material, tone]);
  const ghost = new THREE.Mesh(geometry, material);
  ghost.renderOrder = 4;
  return ghost;
}

function edgesOf(geometry) {
  const count = (geometry.index || geometry.attributes.position).count / 3;
  return count > MOST_EDGED ? new THREE.BufferGeometry() : new THREE.EdgesGeometry(geometry, CREASE);
}

/** Which colour of the page a solid wears: neighbouring links differ. */
function toneOf(solid) {
  if (solid.role !== "link") return solid.role;
  return solid.link % 2 ? "link-other" : "link";
}

/** What is drawn: the solids, but of links that have pictures those. */
function drawn(scene) {
  const pictured = new Set(scene.pictures.map((picture) => picture.name));
  return [...scene.solids.filter((s) => s.kind !== "half_space" && !(s.role === "link" && pictured.has(s.body))), ...scene.pictures];
}

/** Draws all that has an end; gives solid, group and geometry of each. */
function addSolids(scene, chain, painted) {
  return drawn(scene).map((solid) => {
    const geometry = geometryOf(solid);
    const body = new THREE.Mesh(geometry, solidMaterial({ polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 }));
    const edges = new THREE.LineSegments(edgesOf(geometry), lineMaterial(faint(0.62)));
    painted.push([body.material, toneOf(solid)], [edges.material, "edge"]);
    const group = new THREE.Group();
    group.matrixAutoUpdate = false;
    group.matrix.copy(poseOf(solid.pose));
    group.add(body, edges);
    if (toneOf(solid) !== "fixture" && solid.role !== "track") group.add(seenThrough(geometry, toneOf(solid), painted));
    group.userData.show = solid.role === "fixture" ? "fixture" : solid.role === "track" ? "" : "arm";
    chain.at(solid.link).add(group);
    return { solid, group, geometry };
  });
}

/** Links that have no shape are drawn as a rod from joint to joint. */
function addBones(scene, chain, painted) {
  scene.joints.forEach((joint, i) => {
    if (drawn(scene).some((s) => s.role === "link" && s.link === i) || (i === 0 && scene.has_track)) return;
    const next = i + 1 < chain.links.length ? chain.links[i + 1].placement : chain.tool;
    const end = new THREE.Vector3().setFromMatrixPosition(next);
    const material = solidMaterial();
    painted.push([material, "bone"]);
    const knot = new THREE.Mesh(new THREE.SphereGeometry(0.03, 24, 12), material);
    knot.userData.show = "arm";
    chain.at(i).add(knot);
    if (end.length() < 1e-3) return;
    const rod = new THREE.Mesh(new THREE.CylinderGeometry(0.015, 0.015, end.length(), 20), material);
    rod.position.copy(end).multiplyScalar(0.5);
    rod.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), end.clone().normalize());
    rod.userData.show = "arm";
    chain.at(i).add(rod);
  });
}

/** A small frame at the tool point; its z, the tool axis, is longest. */
function addToolMark(chain) {
  const mark = new THREE.Group();
  mark.matrixAutoUpdate = false;
  mark.matrix.copy(chain.tool);
  [[0.06, 0xd1495b], [0.06, 0x3d9a50], [0.12, 0x2d7dd2]].forEach(([length, paint], i) => {
    const end = new THREE.Vector3().setComponent(i, length);
    const line = new THREE.BufferGeometry().setFromPoints([new THREE.Vector3(), end]);
    mark.add(new THREE.Line(line, lineMaterial({ color: paint })));
  });
  mark.userData.show = "arm";
  chain.at(chain.links.length - 1).add(mark);
}
