// Loads: which one is carried, and where the others of a cycle stand meanwhile.

/** The body that stands for a load of the cycle: its own, or the cell's load's where it has none. */
function bodyOf(name) {
  return scene.solids.some((s) => s.role === "load" && s.body === name) ? name : scene.load;
}

/** For each load, the poses that it stands at while it is not carried. */
function restingPlaces() {
  const cycle = unpackCycle(data.cycle), n = scene.joints.length;
  const places = cycle.loads.map((name, load) => ({
    body: bodyOf(name),
    stands: standsOf(cycle, load).map((stand) => {
      moveChain(chain, Array.from(cycle.q.subarray(stand.at * n, stand.at * n + n)));
      return { ...stand, matrix: chain.at(n - 1).matrixWorld.clone() };
    }),
  }));
  moveChain(chain, state.q);
  return places;
}

/** Shows the load that is carried; in a cycle (row 0 or more) also where the others stand. */
function showLoads(row) {
  const seen = {};
  for (const { solid, group } of solids) {
    if (solid.role !== "load") continue;
    const carried = solid.body === state.load;
    const place = row < 0 || carried ? null : resting.filter((p) => p.body === solid.body).flatMap((p) => p.stands).find((s) => s.from <= row && row <= s.to);
    const parent = carried || !place ? chain.at(solid.link) : stage;
    if (group.parent !== parent) parent.add(group);
    group.matrix.copy(poseOf(solid.pose));
    if (place) group.matrix.premultiply(place.matrix);
    group.visible = (carried || Boolean(place)) && state.hidden !== "arm";
    group.updateMatrixWorld(true);
    if (group.visible) seen[solid.body] = group.matrixWorld.elements.slice(12, 15);
  }
  document.body.dataset.loads = JSON.stringify(seen);
}
