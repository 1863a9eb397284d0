// What the cell stands on: half-spaces, shadows on the floor, a scale along the track, the world's axes.

/** Half-spaces have no end: a sheet as large as the cell, with a grid each half metre; upright ones stand on the floor. */
function addHalfSpaces(scene, chain, painted, middle, size) {
  const floor = floorOf(scene), half = Math.max(1, Math.round(size)) / 2;
  for (const solid of scene.solids.filter((s) => s.kind === "half_space")) {
    const frame = poseOf(solid.pose), normal = new THREE.Vector3().setFromMatrixColumn(frame, 2), level = Math.abs(normal.z) > 0.99;
    const up = level ? new THREE.Vector3(0, 1, 0) : new THREE.Vector3(0, 0, 1).addScaledVector(normal, -normal.z).normalize();
    const side = new THREE.Vector3().crossVectors(up, normal).normalize(), at = onSheet(solid.pose, normal, middle);
    const stands = !level && floor !== null && Math.abs(normal.z) < 0.01;
    at.addScaledVector(normal, -0.0015);
    const low = stands ? floor - at.z : -half, corner = (u, v) => at.clone().addScaledVector(side, u).addScaledVector(up, v);
    const high = stands ? Math.max(half, low + 1) : half, lines = [];
    for (let u = -half; u <= half + 1e-9; u += 0.5) lines.push(corner(u, low), corner(u, high));
    for (let v = low; v <= high + 1e-9; v += 0.5) lines.push(corner(-half, v), corner(half, v));
    const sheet = new THREE.BufferGeometry().setFromPoints([[-half, low], [half, low], [half, high], [-half, low], [half, high], [-half, high]].map((c) => corner(...c)));
    sheet.computeVertexNormals();
    const body = new THREE.Mesh(sheet, solidMaterial(faint(level ? 0.3 : 0.26)));
    const grid = new THREE.LineSegments(new THREE.BufferGeometry().setFromPoints(lines), lineMaterial());
    painted.push([body.material, "fixture"], [grid.material, "grid"]);
    for (const part of [body, grid]) part.userData.show = "fixture";
    chain.at(solid.link).add(body, grid);
  }
}

/** The point of the sheet nearest to the cell's middle, along a level sheet to whole half metres, so that the grid tells x and y. */
function onSheet(pose, normal, middle) {
  const start = pointOf(pose), at = middle.clone().addScaledVector(normal, -middle.clone().sub(start).dot(normal));
  if (Math.abs(normal.z) > 0.9999) at.set(Math.round(at.x), Math.round(at.y), start.z);
  return at;
}

/** World x, y and z from the origin: what the cuts and the numbers are told in. */
function addWorldAxes(stage, painted, length) {
  return ["x", "y", "z"].map((name, i) => {
    const end = new THREE.Vector3().setComponent(i, length);
    const material = lineMaterial({ depthTest: false });
    painted.push([material, "quiet"]);
    const line = new THREE.Line(new THREE.BufferGeometry().setFromPoints([new THREE.Vector3(), end]), material);
    line.renderOrder = 6;
    stage.add(line);
    return { name, end };
  });
}

/** The height of the floor: of the highest level half-space; null without one. */
function floorOf(scene) {
  const level = scene.solids.filter((s) => s.kind === "half_space" && s.link < 0 && s.pose[2][2] > 0.99).map((s) => s.pose[2][3]);
  return level.length ? Math.max(...level) : null;
}

/** Each solid once more, flat on the floor straight below it: the cell's plan. Where two shadows meet it is no darker. */
function addShadows(solids, stage, floor, painted) {
  if (floor === null) return () => {};
  const material = flatMaterial(faint(0.2));
  Object.assign(material, { stencilWrite: true, stencilFunc: THREE.EqualStencilFunc, stencilRef: 0, stencilZPass: THREE.IncrementStencilOp });
  painted.push([material, "shadow"]);
  const flat = new THREE.Matrix4().set(1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, floor + 0.002, 0, 0, 0, 1);
  const shadows = solids.map(({ solid, group, geometry }) => {
    const mesh = new THREE.Mesh(geometry, material);
    mesh.matrixAutoUpdate = false;
    mesh.frustumCulled = false;
    mesh.renderOrder = 1;
    stage.add(mesh);
    return { mesh, group, solid };
  });
  return () => shadows.forEach(({ mesh, group }) => {
    mesh.visible = group.visible;
    mesh.matrix.multiplyMatrices(flat, group.matrixWorld);
  });
}

const stepOf = (length) => [0.05, 0.1, 0.2, 0.5, 1, 2, 5].find((step) => length / step <= 8) || length / 8;

/** A scale beside the track, from its lower limit to its upper one, with a pointer at the carriage; gives the names of its
 * ends and steps, and what moves the pointer. */
function addTrackScale(scene, stage, chain, painted) {
  const joint = scene.joints[0];
  if (!scene.has_track || joint.lower === null || joint.upper === null || !(joint.upper > joint.lower)) return { names: [], move: () => {} };
  const frame = poseOf(joint.placement), axis = new THREE.Vector3(...joint.axis).transformDirection(frame).normalize();
  const up = new THREE.Vector3(0, 0, 1), side = new THREE.Vector3().crossVectors(axis, up);
  if (side.lengthSq() < 1e-6) side.set(1, 0, 0);
  side.normalize();
  const start = new THREE.Vector3().setFromMatrixPosition(frame), out = besideTrack(scene, frame, start, side) + 0.06;
  const at = (s, across) => start.clone().addScaledVector(axis, s).addScaledVector(side, out + across).addScaledVector(up, lowOf(scene, frame) - start.z);
  const step = stepOf(joint.upper - joint.lower), points = [at(joint.lower, 0), at(joint.upper, 0)], names = [];
  const mark = (s, size) => points.push(at(s, 0), at(s, size));
  for (let k = Math.ceil(joint.lower / (step / 5) - 1e-9); k * (step / 5) <= joint.upper + 1e-9; ++k) mark((k * step) / 5, k % 5 ? 0.03 : 0.06);
  for (let k = Math.ceil(joint.lower / step - 1e-9); k * step <= joint.upper + 1e-9; ++k) names.push({ value: k * step, at: at(k * step, 0.16) });
  const lines = new THREE.LineSegments(new THREE.BufferGeometry().setFromPoints(points), lineMaterial());
  painted.push([lines.material, "quiet"]);
  const pointer = new THREE.Mesh(new THREE.ConeGeometry(0.035, 0.09, 4), solidMaterial());
  painted.push([pointer.material, "accent"]);
  pointer.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), side);
  stage.add(lines, pointer);
  return { names, move: (s) => pointer.position.copy(at(s, -0.045)) };
}

/** How far the track's rails reach to that side of its line, m. */
function besideTrack(scene, frame, start, side) {
  let most = 0.15;
  for (const solid of scene.solids.filter((s) => s.role === "track" && s.kind === "box" && s.link < 0)) {
    const pose = poseOf(solid.pose);
    for (const x of [-0.5, 0.5]) for (const y of [-0.5, 0.5]) for (const z of [-0.5, 0.5]) {
      const corner = new THREE.Vector3(x * solid.size[0], y * solid.size[1], z * solid.size[2]).applyMatrix4(pose);
      most = Math.max(most, corner.sub(start).dot(side));
    }
  }
  return most;
}

/** Where the scale lies: on the floor, if the track is level and not far above it. */
function lowOf(scene, frame) {
  const floor = floorOf(scene), height = frame.elements[14];
  return floor !== null && height - floor < 0.6 && height >= floor ? floor + 0.004 : height;
}
