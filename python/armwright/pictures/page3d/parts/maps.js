// Reach and payload: one map at a time, cut and thinned out as the reader likes.

const MAP_NAMES = { reach_map: "Reach", payload_map: "Payload at rest", payload_at_speed: "Payload at speed" };

/** The maps of the page and what is shown of them. `changed`: something is to be drawn anew. */
function buildMaps(data, stage, changed) {
  const maps = data.maps.map((packed) => ({ packed, ...unpackVolume(packed), cloud: null, variable: 0, from: -Infinity })).filter((map) => map.count);
  const shown = { map: -1, cut: { axis: -1, at: 0, side: 1 } };
  const all = { maps, shown, now: () => maps[shown.map], refresh, choose, chooseVariable, chooseCut, valueAt, tell };

  function choose(i) {
    shown.map = i;
    const map = maps[i];
    for (const other of maps) if (other.cloud) other.cloud.visible = false;
    element("map").value = String(i);
    element("map-controls").hidden = element("legend").hidden = !map;
    if (!map) return changed();
    if (!map.cloud) stage.add((map.cloud = buildCloud(map, map.packed.spacing)));
    map.cloud.visible = true;
    element("variable").replaceChildren(...map.variables.map((v, k) => new Option(v.words.split(":")[0], String(k))));
    refresh();
  }

  function chooseVariable(k) {
    maps[shown.map].variable = k;
    maps[shown.map].from = -Infinity;
    refresh();
  }

  function chooseCut(axis, at) {
    const map = maps[shown.map];
    shown.cut.axis = axis;
    if (axis >= 0) shown.cut.at = Number.isFinite(at) ? at : (map.ends[axis][0] + map.ends[axis][1]) / 2;
    refresh();
  }

  function refresh() {
    const map = maps[shown.map];
    if (!map) return;
    const variable = map.variables[map.variable], uniforms = map.cloud.material.uniforms, { cut } = shown;
    const ends = cut.axis < 0 ? [0, 1] : map.ends[cut.axis], least = variable.low, from = Math.max(least, map.from);
    if (map.drawn !== map.variable) map.cloud.geometry.setAttribute("value", new THREE.BufferAttribute(variable.values, 1));
    map.drawn = map.variable;
    uniforms.low.value = variable.low;
    uniforms.high.value = variable.high;
    uniforms.from.value = from <= least ? -3e38 : from;
    uniforms.cutAxis.value.set(0, 0, 0);
    if (cut.axis >= 0) uniforms.cutAxis.value.setComponent(cut.axis, 1);
    uniforms.cutAt.value = cut.axis < 0 ? 0 : cut.at;
    uniforms.side.value = cut.side;
    uniforms.colours.value = colourTexture(data.colours[variable.colours]);
    set("threshold", (1000 * (from - least)) / (variable.most - least), from <= least ? "all" : words(from, variable.unit));
    set("cut", (1000 * (cut.at - ends[0])) / (ends[1] - ends[0] || 1), words(cut.at, "m"));
    element("cut-row").hidden = cut.axis < 0;
    element("cut-axis").value = cut.axis < 0 ? "" : "xyz"[cut.axis];
    element("cut-turned").checked = cut.side < 0;
    element("variable").value = String(map.variable);
    const count = countShown(map, variable.values, uniforms.from.value, cut);
    document.body.dataset.shown = String(count);
    element("volume-count").textContent = `${count} of ${map.count} positions shown.`;
    const terms = map.packed.terms;
    element("volume-note").textContent = terms ? `Load centre (${terms.load_centre.map((v) => words(v, "m")).join(", ")}) from the tool frame, tool attitude ${terms.attitude}, ${terms.limit} torque.` : "";
    drawLegend(variable, unpack(data.colours[variable.colours], Uint8Array), from);
    changed();
  }

  /** The position nearest to a point of the world, if one is within half a spacing (along each axis) or so. */
  function valueAt(point) {
    const map = maps[shown.map];
    let best = -1, least = (0.9 * map.packed.spacing) ** 2;
    for (let i = 0, p = map.positions; i < map.count; ++i) {
      const square = (p[3 * i] - point[0]) ** 2 + (p[3 * i + 1] - point[1]) ** 2 + (p[3 * i + 2] - point[2]) ** 2;
      if (square < least) { least = square; best = i; }
    }
    return best;
  }

  /** What the map says of a position; short names of what it is are told too, long ones only by the legend. */
  function tell(i, named) {
    const map = maps[shown.map], variable = map.variables[map.variable];
    if (i < 0) return "not reached, or outside the map";
    const of = (codes, names) => (codes && codes[i] >= 0 ? names[codes[i]] : "");
    const joint = of(variable.joint, map.packed.joints), part = of(variable.part, map.packed.parts);
    const name = variable.words.split(":")[0];
    return (named && name.length < 25 ? name + " " : "") + words(variable.values[i], variable.unit) + givesOut(joint, part);
  }

  function set(id, value, text) {
    element(id).value = String(value);
    element(id + "-value").textContent = text;
    element(id).setAttribute("aria-valuetext", text);
  }

  element("volume-part").hidden = maps.length === 0;
  fillSelect("map", [["no map", -1], ...maps.map((map, i) => [MAP_NAMES[map.packed.study], i])], (value) => choose(Number(value)));
  element("variable").addEventListener("change", (event) => chooseVariable(Number(event.target.value)));
  element("threshold").addEventListener("input", (event) => {
    const { low, most } = maps[shown.map].variables[maps[shown.map].variable];
    maps[shown.map].from = low + (Number(event.target.value) / 1000) * (most - low);
    refresh();
  });
  element("cut-axis").addEventListener("change", (event) => chooseCut("xyz".indexOf(event.target.value || "none")));
  element("cut-turned").addEventListener("change", (event) => { shown.cut.side = event.target.checked ? -1 : 1; refresh(); });
  element("cut").addEventListener("input", (event) => {
    const [first, last] = maps[shown.map].ends[shown.cut.axis];
    chooseCut(shown.cut.axis, first + (Number(event.target.value) / 1000) * (last - first));
  });
  return all;
}
