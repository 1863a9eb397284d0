// Work points: shape and colour both say the result.

const WORDS = { true: "served", false: "not served", null: "not checked" };
const PAINT = { true: "served", false: "not-served", null: "unchecked" };

/** Ball when served, upright cross when not, ring before a check; a stem along the tool axis. Seen through solids, faintly. */
function addTargets(scene, chain, painted, size) {
  return scene.targets.map((target) => {
    const group = new THREE.Group();
    group.matrixAutoUpdate = false;
    group.matrix.copy(poseOf(target.pose));
    const stem = new THREE.CylinderGeometry(0.08 * size, 0.08 * size, 3 * size, 8).rotateX(Math.PI / 2).translate(0, 0, -1.5 * size);
    for (const geometry of [...markShape(target.served, size), stem]) {
      const clear = solidMaterial();
      const dim = flatMaterial(faint(0.6, { depthTest: false }));
      painted.push([clear, PAINT[target.served]], [dim, PAINT[target.served]]);
      const through = new THREE.Mesh(geometry, dim);
      through.renderOrder = 5;
      group.add(new THREE.Mesh(geometry, clear), through);
    }
    chain.world.add(group);
    return group;
  });
}

function markShape(served, size) {
  if (served === true) return [new THREE.SphereGeometry(0.7 * size, 18, 12)];
  if (served === null) return [new THREE.TorusGeometry(0.7 * size, 0.18 * size, 12, 32)];
  const bar = () => new THREE.BoxGeometry(2.2 * size, 0.45 * size, 0.45 * size);
  return [bar().rotateZ(Math.PI / 4), bar().rotateZ(-Math.PI / 4), bar().rotateY(Math.PI / 2)];
}

/** The same marks, flat, for the list. */
function markIcon(served) {
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  svg.setAttribute("viewBox", "0 0 16 16");
  svg.setAttribute("aria-hidden", "true");
  const shape = document.createElementNS(svg.namespaceURI, served === false ? "path" : "circle");
  if (served === false) shape.setAttribute("d", "M3 3 L13 13 M13 3 L3 13");
  else for (const [key, value] of [["cx", 8], ["cy", 8], ["r", 5.5]]) shape.setAttribute(key, value);
  shape.style.fill = served === true ? "var(--served)" : "none";
  shape.style.stroke = `var(--${PAINT[served]})`;
  shape.style.strokeWidth = served === false ? "3" : "2";
  svg.append(shape);
  return svg;
}
