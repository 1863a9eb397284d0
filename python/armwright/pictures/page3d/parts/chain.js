// The arm's own joints: where every link stands at a posture.

/** A THREE.Matrix4 from rows, as the scene writes poses. */
function poseOf(rows) {
  const m = new THREE.Matrix4();
  m.set(...rows.flat());
  return m;
}

/** A group a link, each inside the one before; index -1 is the world. */
function buildChain(scene) {
  const world = new THREE.Group();
  const links = [];
  let parent = world;
  for (const joint of scene.joints) {
    const group = new THREE.Group();
    group.matrixAutoUpdate = false;
    parent.add(group);
    links.push({ group, placement: poseOf(joint.placement), axis: new THREE.Vector3(...joint.axis), slides: joint.kind === "prismatic" });
    parent = group;
  }
  return { world, links, tool: poseOf(scene.tool), at: (link) => (link < 0 ? world : links[link].group) };
}

/** Moves the chain to q (m for sliding joints, rad for the others). */
function moveChain(chain, q) {
  const motion = new THREE.Matrix4();
  chain.links.forEach((link, i) => {
    if (link.slides) motion.makeTranslation(link.axis.x * q[i], link.axis.y * q[i], link.axis.z * q[i]);
    else motion.makeRotationAxis(link.axis, q[i]);
    link.group.matrix.multiplyMatrices(link.placement, motion);
  });
  chain.world.updateMatrixWorld(true);
}

/** Pose of the tool frame in the world: sixteen numbers, row by row. */
function toolPose(chain) {
  const last = chain.links.length - 1;
  const m = new THREE.Matrix4().multiplyMatrices(chain.at(last).matrixWorld, chain.tool);
  return m.clone().transpose().elements.slice();
}
