// Lines over the picture: the least distance, and the axis of the joint whose slider is in use with its range.

/** A line with a ball at each end, seen through everything. */
function buildGapLine(stage, painted) {
  const group = new THREE.Group(), middle = new THREE.Vector3(), inner = new THREE.Group();
  const material = flatMaterial({ depthTest: false });
  const ball = new THREE.SphereGeometry(0.012, 16, 10);
  const ends = [new THREE.Mesh(ball, material), new THREE.Mesh(ball, material)];
  const rod = new THREE.Mesh(new THREE.CylinderGeometry(0.005, 0.005, 1, 10), material);
  for (const part of [...ends, rod]) part.renderOrder = 8;
  painted.push([material, "gap"]);
  inner.add(...ends, rod);
  group.add(inner);
  stage.add(group);
  function show(found) {
    inner.visible = Boolean(found);
    if (!found) return;
    const a = new THREE.Vector3(...found.a), b = new THREE.Vector3(...found.b), way = b.clone().sub(a);
    ends[0].position.copy(a);
    ends[1].position.copy(b);
    middle.copy(a).lerp(b, 0.5);
    rod.visible = way.length() > 1e-4;
    if (!rod.visible) return;
    rod.position.copy(middle);
    rod.scale.set(1, way.length(), 1);
    rod.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), way.normalize());
  }
  return { group, middle, show };
}

/** The axis of a joint; about it, for one that turns, the fan that its range leaves, with a hand where it stands. */
function buildJointMark(stage, painted, size) {
  const material = lineMaterial({ depthTest: false });
  const fill = flatMaterial(faint(0.22, { depthTest: false }));
  painted.push([material, "accent"], [fill, "accent"]);
  const lines = new THREE.LineSegments(new THREE.BufferGeometry(), material), fan = new THREE.Mesh(new THREE.BufferGeometry(), fill);
  lines.renderOrder = fan.renderOrder = 9;
  lines.visible = fan.visible = false;
  stage.add(lines, fan);
  let shown = -1;

  function refresh() {
    lines.visible = shown >= 0;
    fan.visible = false;
    if (shown < 0) return;
    const joint = scene.joints[shown], { group, axis, slides } = chain.links[shown], at = new THREE.Vector3().setFromMatrixPosition(group.matrixWorld);
    const way = axis.clone().transformDirection(group.matrixWorld), points = [at.clone().addScaledVector(way, -3 * size), at.clone().addScaledVector(way, 3 * size)];
    const low = joint.lower === null ? -Math.PI : joint.lower, high = joint.upper === null ? Math.PI : joint.upper;
    if (!slides && high - low > 1e-6) {
      const q = state.q[shown], across = handOf(axis).transformDirection(group.matrixWorld);
      const ray = (angle) => at.clone().addScaledVector(across.clone().applyAxisAngle(way, angle - q), size);
      const span = Math.min(high - low, 2 * Math.PI), steps = Math.max(8, Math.ceil(span / 0.1)), corners = [];
      for (let i = 0; i < steps; ++i) corners.push(at, ray(low + (span * i) / steps), ray(low + (span * (i + 1)) / steps));
      fan.geometry.dispose();
      fan.geometry = new THREE.BufferGeometry().setFromPoints(corners);
      fan.visible = true;
      points.push(at, ray(q), ray(low), at.clone().lerp(ray(low), 0.85), ray(low + span), at.clone().lerp(ray(low + span), 0.85));
    }
    lines.geometry.dispose();
    lines.geometry = new THREE.BufferGeometry().setFromPoints(points);
  }
  return { show: (i) => { shown = i; refresh(); }, refresh };
}

/** A direction square to the axis. */
function handOf(axis) {
  const least = [Math.abs(axis.x), Math.abs(axis.y), Math.abs(axis.z)];
  const unit = new THREE.Vector3().setComponent(least.indexOf(Math.min(...least)), 1);
  return unit.cross(axis).normalize();
}
