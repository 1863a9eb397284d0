// Shapes for distances: each is a core blown up by a radius. A core is asked for its farthest point along a direction.

/** A solid's core in its own frame. `ball`: radius about the frame's origin moved by `centre`. */
function coreOf(solid) {
  const core = { kind: solid.kind, radius: 0, half: [0, 0, 0], centre: [0, 0, 0], points: null };
  switch (solid.kind) {
    case "box": core.half = solid.size.map((edge) => edge / 2); core.ball = Math.hypot(...core.half); break;
    case "sphere": core.radius = core.ball = solid.radius; core.kind = "segment"; break;
    case "capsule":
      Object.assign(core, { kind: "segment", radius: solid.radius, half: [0, 0, solid.length / 2], ball: solid.radius + solid.length / 2 });
      break;
    case "cylinder": core.half = [solid.radius, solid.radius, solid.length / 2]; core.ball = Math.hypot(solid.radius, solid.length / 2); break;
    case "half_space": core.ball = Infinity; break;
    default: {
      core.points = Float64Array.from(unpack(solid.vertices, Float32Array));
      core.kind = solid.kind === "mesh" ? "mesh" : "points";
      surround(core);
      if (core.kind === "mesh") core.tree = null, core.triangles = unpack(solid.triangles, Uint32Array);
    }
  }
  return core;
}

/** A ball about all of its points. */
function surround(core) {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity], p = core.points;
  for (let i = 0; i < p.length; ++i) {
    low[i % 3] = Math.min(low[i % 3], p[i]);
    high[i % 3] = Math.max(high[i % 3], p[i]);
  }
  core.centre = low.map((value, k) => (value + high[k]) / 2);
  core.ball = 0;
  for (let i = 0; i < p.length; i += 3) core.ball = Math.max(core.ball, Math.hypot(p[i] - core.centre[0], p[i + 1] - core.centre[1], p[i + 2] - core.centre[2]));
}

const pointCore = { kind: "point", radius: 0, half: [0, 0, 0], ball: 0 };
const triangleCore = () => ({ kind: "points", radius: 0, half: [0, 0, 0], points: new Float64Array(9) });

/** The farthest point of a core along d (world), in the world. X: a pose as three.js stores it, column by column. */
function support(core, X, d, out) {
  const x = X[0] * d[0] + X[1] * d[1] + X[2] * d[2], y = X[4] * d[0] + X[5] * d[1] + X[6] * d[2], z = X[8] * d[0] + X[9] * d[1] + X[10] * d[2];
  const h = core.half;
  let px = 0, py = 0, pz = 0;
  if (core.kind === "box") {
    px = x < 0 ? -h[0] : h[0]; py = y < 0 ? -h[1] : h[1]; pz = z < 0 ? -h[2] : h[2];
  } else if (core.kind === "segment") {
    pz = z < 0 ? -h[2] : h[2];
  } else if (core.kind === "cylinder") {
    const across = Math.sqrt(x * x + y * y), scale = across > 1e-14 ? h[0] / across : 0;
    px = x * scale; py = y * scale; pz = z < 0 ? -h[2] : h[2];
  } else if (core.kind !== "point") {
    const p = core.points;
    let most = -Infinity;
    for (let i = 0; i < p.length; i += 3) {
      const along = p[i] * x + p[i + 1] * y + p[i + 2] * z;
      if (along > most) { most = along; px = p[i]; py = p[i + 1]; pz = p[i + 2]; }
    }
  }
  return place(X, px, py, pz, out);
}

function place(X, x, y, z, out) {
  out[0] = X[0] * x + X[4] * y + X[8] * z + X[12];
  out[1] = X[1] * x + X[5] * y + X[9] * z + X[13];
  out[2] = X[2] * x + X[6] * y + X[10] * z + X[14];
  return out;
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const along = (a, s, b) => [a[0] + s * b[0], a[1] + s * b[1], a[2] + s * b[2]];
