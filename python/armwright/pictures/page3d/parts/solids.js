// Shapes of links, tool, load, track and fixtures.

const CREASE = 30; // degrees; edges sharper than this are drawn as lines

function geometryOf(solid) {
  const round = 40;
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
  for (let i = 0; i <= 20; ++i) {
    const angle = -Math.PI / 2 + (Math.PI * i) / 20;
    const half = i < 10 || (i === 10 && length === 0) ? -length / 2 : length / 2;
    if (i === 10) outline.push(new THREE.Vector2(radius, -length / 2));
    outline.push(new THREE.Vector2(Math.max(0, radius * Math.cos(angle)), half + radius * Math.sin(angle)));
  }
  return new THREE.LatheGeometry(outline, round).rotateX(Math.PI / 2);
}

/** A faint copy that shows through the volume and the fixtures, so that the arm is never lost. */
function seenThrough(geometry, tone, painted) {
  const material = new THREE.MeshLambertMaterial({ transparent: true, opacity: 0.28, depthTest: false, depthWrite: false });
  painted.push([material, tone]);
  const ghost = new THREE.Mesh(geometry, material);
  ghost.renderOrder = 4;
  return ghost;
}

/** Which colour of the page a solid wears: neighbouring links differ. */
function toneOf(solid) {
  if (solid.role !== "link") return solid.role;
  return solid.link % 2 ? "link-other" : "link";
}

function addSolids(scene, chain, painted) {
  for (const solid of scene.solids.filter((s) => s.kind !== "half_space")) {
    const geometry = geometryOf(solid);
    const body = new THREE.Mesh(geometry, new THREE.MeshLambertMaterial({ side: THREE.DoubleSide }));
    const edges = new THREE.LineSegments(new THREE.EdgesGeometry(geometry, CREASE), new THREE.LineBasicMaterial({ transparent: true, opacity: 0.55 }));
    painted.push([body.material, toneOf(solid)], [edges.material, "edge"]);
    const group = new THREE.Group();
    group.matrixAutoUpdate = false;
    group.matrix.copy(poseOf(solid.pose));
    group.add(body, edges);
    if (toneOf(solid) !== "fixture" && solid.role !== "track") group.add(seenThrough(geometry, toneOf(solid), painted));
    group.userData.show = solid.role === "fixture" ? "fixture" : solid.role === "track" ? "" : "arm";
    chain.at(solid.link).add(group);
  }
}

/** Links that have no shape are drawn as a rod from joint to joint. */
function addBones(scene, chain, painted) {
  scene.joints.forEach((joint, i) => {
    if (scene.solids.some((s) => s.role === "link" && s.link === i) || (i === 0 && scene.has_track)) return;
    const next = i + 1 < chain.links.length ? chain.links[i + 1].placement : chain.tool;
    const end = new THREE.Vector3().setFromMatrixPosition(next);
    const material = new THREE.MeshLambertMaterial();
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

/** Half-spaces have no end: a sheet as large as the cell; level ones carry a grid, upright ones stand on the floor. */
function addHalfSpaces(scene, chain, painted, middle, size) {
  const sheets = scene.solids.filter((s) => s.kind === "half_space");
  const level = sheets.filter((s) => s.link < 0 && s.pose[2][2] > 0.99).map((s) => s.pose[2][3]);
  const floor = level.length ? Math.max(...level) : null;
  for (const solid of sheets) {
    const group = new THREE.Group();
    group.matrixAutoUpdate = false;
    group.matrix.copy(poseOf(solid.pose));
    const inside = middle.clone().applyMatrix4(group.matrix.clone().invert());
    const isFloor = solid.link < 0 && solid.pose[2][2] > 0.99;
    const clip = !isFloor && floor !== null ? [new THREE.Plane(new THREE.Vector3(0, 0, 1), -floor)] : [];
    const material = new THREE.MeshLambertMaterial({ side: THREE.DoubleSide, transparent: true, opacity: isFloor ? 0.35 : 0.3, depthWrite: false, clippingPlanes: clip });
    painted.push([material, "fixture"]);
    const sheet = new THREE.Mesh(new THREE.PlaneGeometry(size, size), material);
    sheet.position.set(inside.x, inside.y, -0.0015);
    const cells = Math.max(2, 2 * Math.round(size));
    const grid = new THREE.GridHelper(cells / 2, cells);
    grid.material = new THREE.LineBasicMaterial({ clippingPlanes: clip });
    grid.geometry.deleteAttribute("color");
    grid.rotation.x = Math.PI / 2;
    grid.position.set(Math.round(inside.x * 2) / 2, Math.round(inside.y * 2) / 2, -0.001);
    painted.push([grid.material, "grid"]);
    group.add(sheet, grid);
    group.userData.show = "fixture";
    chain.at(solid.link).add(group);
  }
}

/** World x, y and z from the origin: what the cuts and the numbers are told in. */
function addWorldAxes(stage, painted, length) {
  return ["x", "y", "z"].map((name, i) => {
    const end = new THREE.Vector3().setComponent(i, length);
    const material = new THREE.LineBasicMaterial({ depthTest: false, transparent: true });
    painted.push([material, "quiet"]);
    const line = new THREE.Line(new THREE.BufferGeometry().setFromPoints([new THREE.Vector3(), end]), material);
    line.renderOrder = 6;
    stage.add(line);
    return { name, end };
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
    mark.add(new THREE.Line(line, new THREE.LineBasicMaterial({ color: paint })));
  });
  mark.userData.show = "arm";
  chain.at(chain.links.length - 1).add(mark);
}
