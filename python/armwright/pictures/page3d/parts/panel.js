// The controls beside the picture. Each changes the state and calls back.

/** A choice of some words, with the first one chosen. */
function fillSelect(id, texts, chosen) {
  texts.forEach(([text, value]) => element(id).append(new Option(text, String(value))));
  element(id).addEventListener("change", (event) => chosen(event.target.value));
}

function fillTargets(scene, choose) {
  element("targets-part").hidden = scene.targets.length === 0;
  scene.targets.forEach((target, i) => {
    const button = made("button");
    button.type = "button";
    button.dataset.served = String(target.served);
    button.setAttribute("aria-pressed", "false");
    button.append(markIcon(target.served), made("span", "", target.name), made("small"));
    button.addEventListener("click", () => choose(i));
    const item = made("li");
    item.append(button);
    element("targets").append(item);
  });
  sayTargets(scene);
}

function sayTargets(scene) {
  document.querySelectorAll("#targets small").forEach((told, i) => {
    const { served, reason } = scene.targets[i];
    told.textContent = WORDS[served] + (reason ? ": " + inUnits(reason) : "");
  });
}

function pressTarget(chosen) {
  document.querySelectorAll("#targets button").forEach((button, i) => button.setAttribute("aria-pressed", String(i === chosen)));
}

/** What the check says of a work point, in full. */
function tellTarget(target) {
  const told = element("told");
  told.replaceChildren();
  if (!target) return;
  const f = target.found, rows = [];
  const where = target.q ? (target.served ? "The arm stands there." : "The arm stands at the best posture found.") : "There is no posture to show.";
  told.append(made("p", "", sentence(target) + " " + where));
  if ("clearance" in f) rows.push(["Clearance", words(f.clearance, "small m") + (f.nearest_a ? `, ${f.nearest_a} and ${f.nearest_b}` : "")]);
  if ("payload" in f) rows.push(["Holds", words(f.payload, "kg") + (f.payload_wanted > 0 ? ` of ${words(f.payload_wanted, "kg")} wanted` : "") + givesOut(f.payload_joint, f.payload_part)]);
  if ("limit_margin" in f) rows.push(["To limits", `${words(100 * f.limit_margin, "1", 0)} % of the way to mid-range`]);
  const list = made("dl");
  for (const [name, text] of rows) {
    const row = made("div");
    row.append(made("dt", "", name), made("dd", "", text));
    list.append(row);
  }
  if (rows.length) told.append(list);
}

function sentence(target) {
  return `${target.name}: ${WORDS[target.served]}${target.reason ? ", " + inUnits(target.reason) : ""}.`;
}

/** A slider a joint; keys step by a degree or a centimetre, Page keys by ten of them. */
function fillJoints(scene, moved, touched) {
  const rows = scene.joints.map((joint, i) => {
    const slides = joint.kind === "prismatic", unit = slides ? "m" : "rad";
    const low = joint.lower === null ? (slides ? -5 : -2 * Math.PI) : joint.lower;
    const high = joint.upper === null ? (slides ? 5 : 2 * Math.PI) : joint.upper;
    const row = made("p", "slider"), slider = made("input"), label = made("label", "", joint.name), value = made("output");
    Object.assign(slider, { type: "range", id: "joint-" + i, min: low, max: high, step: "any" });
    label.htmlFor = slider.id;
    label.title = joint.name;
    value.htmlFor.add(slider.id);
    row.append(label, slider, value);
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
    const text = words(variable.low + at * (variable.high - variable.low), variable.unit, digitsFor(variable));
    const more = at === 1 && variable.most > variable.high ? "≥\u00a0" : "";
    return made("span", "", more + (unit ? text.replace("\u00a0" + unit, "") : text));
  }));
}

/** So many digits that ticks differ. */
function digitsFor(variable) {
  const factor = (SHOWN[unitSystem][variable.unit] || [1])[0];
  return Math.max(0, Math.min(4, 2 - Math.floor(Math.log10((variable.high - variable.low) * factor))));
}

let saying = 0;
/** Tells those who listen rather than look; what changes all the while is told when it rests. */
function say(text, wait = 0) {
  clearTimeout(saying);
  saying = setTimeout(() => { element("said").textContent = text; }, wait);
}
