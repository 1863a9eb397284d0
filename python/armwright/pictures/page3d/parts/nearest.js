// The least distance of a posture: which two solids come nearest, and where.

/** Every two solids that are held against each other, with their cores. */
function buildNearest(scene) {
  const solids = scene.solids.map((solid) => ({ solid, core: coreOf(solid), pose: poseOf(solid.pose), world: new THREE.Matrix4(), at: [0, 0, 0] }));
  const out = new Set(scene.left_out.map(([i, j]) => Math.min(i, j) + " " + Math.max(i, j)));
  const pairs = [];
  solids.forEach((a, i) => solids.forEach((b, j) => {
    if (i >= j || (a.solid.link < 0 && b.solid.link < 0) || out.has(i + " " + j)) return;
    if (a.solid.role === "load" && b.solid.role === "load") return;
    pairs.push(a.solid.link < 0 ? [b, a] : [a, b]); // the first one moves
  }));
  return { solids, pairs };
}

/** At the chain's posture, with that load carried: {distance m, a, b, name_a, name_b}, or null with nothing near. */
function leastDistance(nearest, chain, load) {
  for (const item of nearest.solids) {
    item.world.multiplyMatrices(chain.at(item.solid.link).matrixWorld, item.pose);
    place(item.world.elements, ...item.core.centre, item.at);
  }
  const carried = (item) => item.solid.role !== "load" || item.solid.body === load;
  const bounds = [];
  for (const [a, b] of nearest.pairs) {
    if (!carried(a) || !carried(b)) continue;
    bounds.push({ a, b, bound: b.core.kind === "half_space" ? heightOfBall(a, b) : Math.hypot(...minus(a.at, b.at)) - a.core.ball - b.core.ball });
  }
  bounds.sort((p, q) => p.bound - q.bound);
  let best = null;
  for (const { a, b, bound } of bounds) {
    if (best && bound >= best.distance) break;
    const found = between(a.core, a.world.elements, b.core, b.world.elements, best ? best.distance : Infinity);
    if (found && (!best || found.distance < best.distance)) best = Object.assign(found, { name_a: a.solid.name, name_b: b.solid.name });
  }
  return best;
}

function heightOfBall(a, plane) {
  const X = plane.world.elements;
  return dot(minus(a.at, [X[12], X[13], X[14]]), [X[8], X[9], X[10]]) - a.core.ball;
}

function between(a, XA, b, XB, cutoff) {
  if (b.kind === "half_space") return aboveHalfSpace(a, XA, XB);
  if (a.kind === "mesh" && b.kind === "mesh") return meshWithMesh(a, XA, b, XB, cutoff);
  if (a.kind === "mesh") return meshWithCore(a, XA, b, XB, cutoff);
  if (b.kind !== "mesh") return separation(a, XA, b, XB, cutoff);
  const found = meshWithCore(b, XB, a, XA, cutoff);
  return found && { ...found, a: found.b, b: found.a };
}

function aboveHalfSpace(a, XA, XB) {
  const n = [XB[8], XB[9], XB[10]], p = along(support(a, XA, n.map((value) => -value), [0, 0, 0]), -a.radius, n);
  const height = dot(minus(p, [XB[12], XB[13], XB[14]]), n);
  return { distance: height, a: p, b: along(p, -height, n) };
}
