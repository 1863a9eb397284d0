// Distance of two convex cores: E. Gilbert, D. Johnson, S. Keerthi, "A fast procedure for computing the distance between
// complex objects", 1988; for overlaps G. van den Bergen, "Proximity queries and penetration depth computation", 2001.

const NEAR = 1e-6; // m, what a distance may be off

/** Weights of the point nearest to the origin among the corners picked, all of them positive; null if it is not inside. */
function weightsOf(corners) {
  const a = corners[0].w, n = corners.length;
  if (n === 1) return [1];
  const e = corners.slice(1).map((corner) => minus(corner.w, a));
  if (n === 2) {
    const t = -dot(a, e[0]) / dot(e[0], e[0]);
    return t > 0 && t < 1 ? [1 - t, t] : null;
  }
  if (n === 3) {
    const g11 = dot(e[0], e[0]), g12 = dot(e[0], e[1]), g22 = dot(e[1], e[1]), b1 = -dot(a, e[0]), b2 = -dot(a, e[1]);
    const det = g11 * g22 - g12 * g12;
    if (!(det > 1e-14 * g11 * g22)) return null;
    const u = (b1 * g22 - b2 * g12) / det, v = (b2 * g11 - b1 * g12) / det;
    return u > 0 && v > 0 && u + v < 1 ? [1 - u - v, u, v] : null;
  }
  const n23 = cross(e[1], e[2]), det = dot(e[0], n23), size = Math.sqrt(dot(e[0], e[0]) * dot(e[1], e[1]) * dot(e[2], e[2]));
  if (!(Math.abs(det) > 1e-12 * size)) return null;
  const u = -dot(a, n23) / det, v = -dot(a, cross(e[2], e[0])) / det, t = -dot(a, cross(e[0], e[1])) / det;
  return u > 0 && v > 0 && t > 0 && u + v + t < 1 ? [1 - u - v - t, u, v, t] : null;
}

/** The sum of the corners' points, by weight. */
function mixed(corners, weights, key) {
  let out = [0, 0, 0];
  corners.forEach((corner, i) => { out = along(out, weights[i], corner[key]); });
  return out;
}

/** The part of the simplex that holds the nearest point; the newest corner, the last, is always in it. */
function nearestPart(simplex) {
  const last = simplex.length - 1;
  let best = null;
  for (let mask = 0; mask < 1 << last; ++mask) {
    const corners = [simplex[last], ...simplex.slice(0, last).filter((_, i) => mask & (1 << i))];
    const weights = weightsOf(corners);
    if (!weights) continue;
    const v = mixed(corners, weights, "w"), square = dot(v, v);
    if (!best || square < best.square) best = { corners, weights, v, square };
  }
  return best;
}

function cornerAt(a, XA, b, XB, d) {
  const pa = support(a, XA, d, [0, 0, 0]), pb = support(b, XB, [-d[0], -d[1], -d[2]], [0, 0, 0]);
  return { a: pa, b: pb, w: minus(pa, pb) };
}

/** Nearest points of two cores, blown up by their radii; null where they are farther apart than `cutoff`. */
function separation(a, XA, b, XB, cutoff) {
  const radii = a.radius + b.radius;
  let part = nearestPart([cornerAt(a, XA, b, XB, [XB[12] - XA[12], XB[13] - XA[13], XB[14] - XA[14]])]);
  for (let turn = 0; turn < 60; ++turn) {
    if (part.square < 1e-18) return overlap(a, XA, b, XB);
    const next = cornerAt(a, XA, b, XB, part.v.map((value) => -value));
    const distance = Math.sqrt(part.square), bound = dot(part.v, next.w) / distance;
    if (bound - radii > cutoff) return null;
    if (distance - bound < NEAR) break;
    const better = nearestPart([...part.corners, next]);
    if (!better || !(better.square < part.square)) break;
    part = better;
    if (part.corners.length === 4) return overlap(a, XA, b, XB);
  }
  return blownUp(mixed(part.corners, part.weights, "a"), mixed(part.corners, part.weights, "b"), Math.sqrt(part.square), part.v, a.radius, b.radius);
}

function blownUp(pa, pb, distance, v, ra, rb) {
  const s = distance ? 1 / Math.sqrt(dot(v, v)) : 0;
  return { distance: distance - ra - rb, a: along(pa, -ra * s, v), b: along(pb, rb * s, v) };
}

const ASKED = [];
for (const x of [-1, 0, 1]) for (const y of [-1, 0, 1]) for (const z of [-1, 0, 1]) if (x || y || z) ASKED.push([x, y, z]);

/** How far one core must move to part two that overlap, told as a negative distance. */
function overlap(a, XA, b, XB) {
  const corners = ASKED.map((d) => cornerAt(a, XA, b, XB, d));
  const start = fourOf(corners);
  if (!start) return { distance: -a.radius - b.radius, a: corners[0].a, b: corners[0].b };
  const inside = start.reduce((sum, corner) => along(sum, 0.25, corner.w), [0, 0, 0]);
  let faces = [[0, 1, 2], [0, 1, 3], [0, 2, 3], [1, 2, 3]].map((f) => faceOf(...f.map((i) => start[i]), inside));
  let least = null;
  for (let turn = 0; turn < 160; ++turn) {
    least = faces.reduce((best, face) => (face.height < best.height ? face : best));
    const next = cornerAt(a, XA, b, XB, least.normal);
    if (dot(next.w, least.normal) - least.height < 1e-5) break;
    const seen = faces.filter((face) => dot(next.w, face.normal) > face.height + 1e-12);
    const rim = seen.flatMap((face) => face.corners.map((corner, i) => [corner, face.corners[(i + 1) % 3]]));
    const edges = rim.filter(([p, q]) => !rim.some(([r, s]) => r === q && s === p));
    const grown = edges.map(([p, q]) => faceOf(p, q, next, inside)).filter((face) => face);
    if (!grown.length) break;
    faces = faces.filter((face) => !seen.includes(face)).concat(grown);
  }
  const { corners: c, normal, height } = least;
  const at = corners3(c, normal, height);
  return blownUp(mixed(c, at, "a"), mixed(c, at, "b"), -height || -1e-12, normal.map((value) => -value), a.radius, b.radius);
}

/** Weights of the point of a face under the origin. */
function corners3(c, normal, height) {
  const p = normal.map((value) => height * value), n = cross(minus(c[1].w, c[0].w), minus(c[2].w, c[0].w)), size = dot(n, n);
  const of = (i, j) => dot(cross(minus(c[i].w, p), minus(c[j].w, p)), n) / size;
  return [of(1, 2), of(2, 0), of(0, 1)];
}

/** A face that looks away from `inside`. */
function faceOf(p, q, r, inside) {
  const n = cross(minus(q.w, p.w), minus(r.w, p.w)), size = Math.sqrt(dot(n, n));
  if (!(size > 1e-18)) return null;
  const sign = dot(minus(p.w, inside), n) < 0 ? -1 / size : 1 / size, normal = n.map((value) => sign * value);
  return { corners: sign < 0 ? [p, r, q] : [p, q, r], normal, height: dot(p.w, normal) };
}

/** Four corners that span a volume, each the farthest from those before. */
function fourOf(corners) {
  const farthest = (measure) => corners.reduce((best, corner) => (measure(corner) > measure(best) ? corner : best));
  const p = corners[0], q = farthest((c) => dot(minus(c.w, p.w), minus(c.w, p.w)));
  const line = minus(q.w, p.w);
  const square = (v) => dot(v, v);
  const r = farthest((c) => square(cross(line, minus(c.w, p.w))));
  const normal = cross(line, minus(r.w, p.w));
  const s = farthest((c) => Math.abs(dot(normal, minus(c.w, p.w))));
  return Math.abs(dot(normal, minus(s.w, p.w))) > 1e-14 ? [p, q, r, s] : null;
}
