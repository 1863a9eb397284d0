// Triangle meshes for distances: a tree of balls over the triangles, so that few of them are asked.

/** The mesh's tree, made at its first use. Nodes: centre and radius of a ball about all below. */
function treeOf(core) {
  if (core.tree) return core.tree;
  const p = core.points, t = core.triangles, count = t.length / 3;
  const order = Uint32Array.from({ length: count }, (_, i) => i), middles = new Float64Array(3 * count);
  for (let i = 0; i < count; ++i) for (let k = 0; k < 3; ++k) middles[3 * i + k] = (p[3 * t[3 * i] + k] + p[3 * t[3 * i + 1] + k] + p[3 * t[3 * i + 2] + k]) / 3;
  core.tree = branch(core, order, middles);
  return core.tree;
}

function branch(core, order, middles) {
  const p = core.points, t = core.triangles, low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
  for (const i of order) for (let c = 0; c < 3; ++c) for (let k = 0; k < 3; ++k) {
    const value = p[3 * t[3 * i + c] + k];
    low[k] = Math.min(low[k], value);
    high[k] = Math.max(high[k], value);
  }
  const centre = low.map((value, k) => (value + high[k]) / 2);
  let square = 0;
  for (const i of order) for (let c = 0; c < 3; ++c) {
    const at = 3 * t[3 * i + c];
    square = Math.max(square, (p[at] - centre[0]) ** 2 + (p[at + 1] - centre[1]) ** 2 + (p[at + 2] - centre[2]) ** 2);
  }
  const node = { centre, radius: Math.sqrt(square), triangles: order, parts: null };
  if (order.length <= 4) return node;
  const size = high.map((value, k) => value - low[k]), axis = size.indexOf(Math.max(...size));
  order.sort((i, j) => middles[3 * i + axis] - middles[3 * j + axis]);
  const half = order.length >> 1;
  node.parts = [branch(core, order.subarray(0, half), middles), branch(core, order.subarray(half), middles)];
  return node;
}

function takeTriangle(core, i, into) {
  for (let c = 0; c < 3; ++c) for (let k = 0; k < 3; ++k) into.points[3 * c + k] = core.points[3 * core.triangles[3 * i + c] + k];
}

/** A mesh and a convex core: as separation(). */
function meshWithCore(mesh, XM, other, XO, cutoff) {
  const ball = Object.assign({}, pointCore), at = new Array(16).fill(0), corner = triangleCore();
  at[0] = at[5] = at[10] = at[15] = 1;
  let best = null;
  const reach = () => (best ? best.distance : cutoff);
  const gap = (node) => {
    const c = place(XM, ...node.centre, [0, 0, 0]);
    [at[12], at[13], at[14]] = c;
    const found = separation(ball, at, other, XO, reach() + node.radius);
    return found ? found.distance - node.radius : Infinity;
  };
  const look = (node) => {
    if (node.parts) {
      const parts = node.parts.map((part) => ({ part, gap: gap(part) })).sort((a, b) => a.gap - b.gap);
      for (const each of parts) if (each.gap < reach()) look(each.part);
      return;
    }
    for (const i of node.triangles) {
      takeTriangle(mesh, i, corner);
      const found = separation(corner, XM, other, XO, reach());
      if (found && (!best || found.distance < best.distance)) best = found;
    }
  };
  look(treeOf(mesh));
  const middle = place(XO, ...other.centre, [0, 0, 0]);
  return held(best, isInside(mesh, XM, middle), middle);
}

/** Two meshes: as separation(). */
function meshWithMesh(a, XA, b, XB, cutoff) {
  const first = triangleCore(), second = triangleCore();
  let best = null;
  const reach = () => (best ? best.distance : cutoff);
  const gap = (m, n) => {
    const p = place(XA, ...m.centre, [0, 0, 0]), q = place(XB, ...n.centre, [0, 0, 0]);
    return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) - m.radius - n.radius;
  };
  const look = (m, n) => {
    if (!m.parts && !n.parts) {
      for (const i of m.triangles) {
        takeTriangle(a, i, first);
        for (const j of n.triangles) {
          takeTriangle(b, j, second);
          const found = separation(first, XA, second, XB, reach());
          if (found && (!best || found.distance < best.distance)) best = found;
        }
      }
      return;
    }
    const split = m.parts && (!n.parts || m.radius >= n.radius);
    const pairs = (split ? m.parts.map((part) => [part, n]) : n.parts.map((part) => [m, part])).map((pair) => ({ pair, gap: gap(...pair) }));
    for (const each of pairs.sort((x, y) => x.gap - y.gap)) if (each.gap < reach()) look(...each.pair);
  };
  look(treeOf(a), treeOf(b));
  const corner = (core, X) => place(X, core.points[0], core.points[1], core.points[2], [0, 0, 0]);
  return held(best, isInside(a, XA, corner(b, XB)) || isInside(b, XB, corner(a, XA)), corner(b, XB));
}

/** Meshes that overlap: that they do is known, not how deep. */
function held(found, inside, at) {
  if (inside) return { distance: -1e-9, a: at, b: at, depth: false };
  return found && found.distance < 0 ? Object.assign(found, { depth: false }) : found;
}

/** Whether a point (world) is inside a closed mesh: a ray from it passes the surface an odd number of times. */
function isInside(mesh, X, point) {
  const d = [point[0] - X[12], point[1] - X[13], point[2] - X[14]];
  const o = [0, 4, 8].map((k) => X[k] * d[0] + X[k + 1] * d[1] + X[k + 2] * d[2]);
  if (Math.hypot(...minus(o, mesh.centre)) > mesh.ball) return false;
  const way = [0.5345, 0.2673, 0.8018], p = mesh.points, t = mesh.triangles;
  let passed = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => [p[3 * t[i + k]], p[3 * t[i + k] + 1], p[3 * t[i + k] + 2]]);
    const e = minus(b, a), f = minus(c, a), n = cross(way, f), det = dot(e, n);
    if (Math.abs(det) < 1e-20) continue;
    const s = minus(o, a), u = dot(s, n) / det, m = cross(s, e), v = dot(way, m) / det;
    if (u >= 0 && v >= 0 && u + v <= 1 && dot(f, m) / det > 0) ++passed;
  }
  return passed % 2 === 1;
}
