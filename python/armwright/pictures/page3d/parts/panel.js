// The controls beside the picture. Each changes the state and calls back.

function fillTargets(scene, choose) {
  const list = element("targets");
  element("targets-part").hidden = scene.targets.length === 0;
  scene.targets.forEach((target, i) => {
    const button = document.createElement("button");
    button.type = "button";
    button.dataset.served = String(target.served);
    button.setAttribute("aria-pressed", "false");
    const name = document.createElement("span");
    name.textContent = target.name;
    const told = document.createElement("small");
    told.textContent = WORDS[target.served] + (target.reason ? ": " + target.reason : "");
    button.append(markIcon(target.served), name, told);
    button.addEventListener("click", () => choose(i));
    const item = document.createElement("li");
    item.append(button);
    list.append(item);
  });
}

function pressTarget(chosen) {
  document.querySelectorAll("#targets button").forEach((button, i) => button.setAttribute("aria-pressed", String(i === chosen)));
}

/** A slider a joint; keys step by a degree or a centimetre, Page keys by ten of them. */
function fillJoints(scene, moved, touched) {
  const rows = scene.joints.map((joint, i) => {
    const slides = joint.kind === "prismatic", unit = slides ? "m" : "rad";
    const low = joint.lower === null ? (slides ? -5 : -2 * Math.PI) : joint.lower;
    const high = joint.upper === null ? (slides ? 5 : 2 * Math.PI) : joint.upper;
    const row = document.createElement("p");
    row.className = "slider";
    const slider = document.createElement("input");
    Object.assign(slider, { type: "range", id: "joint-" + i, min: low, max: high, step: "any" });
    const label = document.createElement("label");
    label.htmlFor = slider.id;
    label.textContent = joint.name;
    const value = document.createElement("output");
    value.htmlFor.add(slider.id);
    row.append(label, value, slider);
    element("joints").append(row);
    slider.addEventListener("input", () => moved(i, Number(slider.value)));
    slider.addEventListener("focus", () => touched(i));
    slider.addEventListener("blur", () => touched(-1));
    slider.addEventListener("keydown", (event) => {
      const steps = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10 }[event.key];
      if (!steps) return;
      event.preventDefault();
      const next = Number(slider.value) + steps * (slides ? 0.01 : Math.PI / 180);
      slider.value = String(Math.min(high, Math.max(low, next)));
      moved(i, Number(slider.value));
    });
    return { slider, value, unit };
  });
  return (q) => rows.forEach((row, i) => {
    row.slider.value = String(q[i]);
    row.value.textContent = words(q[i], row.unit);
    row.slider.setAttribute("aria-valuetext", row.value.textContent);
  });
}

/** The colour bar: the variable's name and unit, five ticks, a mark at the threshold. */
function drawLegend(variable, rgb, from) {
  const name = variable.words.split(":")[0], unit = unitName(variable.unit);
  element("legend-words").textContent = unit ? `${name} (${unit})` : name;
  const stops = [];
  for (let i = 0; i <= 16; ++i) {
    const k = 3 * Math.min(255, i * 16);
    stops.push(`rgb(${rgb[k]},${rgb[k + 1]},${rgb[k + 2]})`);
  }
  element("legend-bar").style.background = `linear-gradient(to right, ${stops.join(",")})`;
  const share = (from - variable.low) / (variable.high - variable.low);
  element("legend-mark").style.left = `${100 * Math.min(1, Math.max(0, share))}%`;
  element("legend-ticks").replaceChildren(...[0, 0.25, 0.5, 0.75, 1].map((at) => {
    const tick = document.createElement("span");
    const text = words(variable.low + at * (variable.high - variable.low), variable.unit, digitsFor(variable));
    tick.textContent = unit ? text.replace("\u00a0" + unit, "") : text;
    return tick;
  }));
}

/** So many digits that ticks differ. */
function digitsFor(variable) {
  const factor = (SHOWN[unitSystem][variable.unit] || [1])[0];
  return Math.max(0, Math.min(4, 2 - Math.floor(Math.log10((variable.high - variable.low) * factor))));
}
