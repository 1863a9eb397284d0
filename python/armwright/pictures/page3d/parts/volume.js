// The positions reached: a lit ball each, coloured by a number, hidden below a threshold or beyond a cut.

const VERTEX = `
  attribute float value;
  uniform float from, low, high, diameter, scale, side;
  uniform vec3 cutAxis;
  uniform float cutAt;
  uniform sampler2D colours;
  varying vec3 paint;
  void main() {
    vec4 seen = modelViewMatrix * vec4(position, 1.0);
    gl_Position = projectionMatrix * seen;
    gl_PointSize = scale * diameter / max(-seen.z, 1e-3);
    float beyond = side * (dot(cutAxis, position) - cutAt);
    if (value < from || beyond < -1e-5 || value != value) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
    paint = texture2D(colours, vec2(clamp((value - low) / (high - low), 0.0, 1.0) * 0.99609375 + 0.001953125, 0.5)).rgb;
  }`;
const FRAGMENT = `
  varying vec3 paint;
  void main() {
    vec2 p = 2.0 * gl_PointCoord - 1.0;
    float r = dot(p, p);
    if (r > 1.0) discard;
    vec3 normal = vec3(p.x, -p.y, sqrt(1.0 - r));
    float light = 0.72 + 0.34 * dot(normal, normalize(vec3(-0.4, 0.6, 0.7)));
    gl_FragColor = vec4(paint * light + 0.07 * r, 1.0);
  }`;

/** The packed volume as arrays: positions (3 n) and, for each variable, its n values. */
function unpackVolume(volume) {
  const [x, y, z] = volume.axes.map((text) => unpack(text, Float32Array));
  const index = unpack(volume.index, Uint32Array);
  const positions = new Float32Array(3 * index.length);
  index.forEach((flat, i) => {
    positions[3 * i] = x[Math.floor(flat / (y.length * z.length))];
    positions[3 * i + 1] = y[Math.floor(flat / z.length) % y.length];
    positions[3 * i + 2] = z[flat % z.length];
  });
  const reach = [[Infinity, Infinity, Infinity], [-Infinity, -Infinity, -Infinity]];
  positions.forEach((value, i) => {
    reach[0][i % 3] = Math.min(reach[0][i % 3], value);
    reach[1][i % 3] = Math.max(reach[1][i % 3], value);
  });
  const variables = volume.variables.map((v) => ({
    ...v, values: unpack(v.values, Float32Array), joint: v.joint && unpack(v.joint, Int16Array), part: v.part && unpack(v.part, Int16Array),
  }));
  return { positions, reach, variables, count: index.length, ends: [x, y, z].map((line) => [line[0], line[line.length - 1]]) };
}

function colourTexture(text) {
  const rgb = unpack(text, Uint8Array);
  const bytes = new Uint8Array(4 * 256);
  for (let i = 0; i < 256; ++i) bytes.set([rgb[3 * i], rgb[3 * i + 1], rgb[3 * i + 2], 255], 4 * i);
  const texture = new THREE.DataTexture(bytes, 256, 1, THREE.RGBAFormat);
  texture.needsUpdate = true;
  return texture;
}

function buildCloud(unpacked, spacing) {
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute("position", new THREE.BufferAttribute(unpacked.positions, 3));
  geometry.setAttribute("value", new THREE.BufferAttribute(unpacked.variables[0].values, 1));
  const uniforms = {};
  for (const name of ["from", "low", "high", "scale", "cutAt"]) uniforms[name] = { value: 0 };
  uniforms.diameter = { value: 0.6 * spacing };
  uniforms.side = { value: 1 };
  uniforms.cutAxis = { value: new THREE.Vector3() };
  uniforms.colours = { value: null };
  return new THREE.Points(geometry, new THREE.ShaderMaterial({ uniforms, vertexShader: VERTEX, fragmentShader: FRAGMENT }));
}

/** How many positions the same test as the shader's lets through. */
function countShown(unpacked, values, from, cut) {
  let count = 0;
  for (let i = 0; i < values.length; ++i) {
    const beyond = cut.axis < 0 ? 0 : cut.side * (unpacked.positions[3 * i + cut.axis] - cut.at);
    if (values[i] >= from && beyond >= -1e-5) ++count;
  }
  return count;
}

/** The nearest of the balls drawn under a place of the picture, or -1. */
function pickBall(view, unpacked, x, y, from, cut, spacing) {
  const { positions } = unpacked, values = unpacked.variables[unpacked.variable].values, at = new THREE.Vector3();
  const scale = view.canvas.clientHeight / (2 * Math.tan((view.camera.fov * Math.PI) / 360)), eye = view.camera.position;
  let best = -1, depth = Infinity;
  for (let i = 0; i < unpacked.count; ++i) {
    const beyond = cut.axis < 0 ? 0 : cut.side * (positions[3 * i + cut.axis] - cut.at);
    if (values[i] < from || beyond < -1e-5) continue;
    at.fromArray(positions, 3 * i);
    const away = at.distanceTo(eye), p = onScreen(view, at);
    if (!p || p[2] >= depth || Math.hypot(p[0] - x, p[1] - y) > (0.3 * spacing * scale) / away) continue;
    best = i;
    depth = p[2];
  }
  return best;
}
