// A cycle, played: a strip of its moves with speed, clearance and what is carried, and the arm at that time.

function unpackCycle(packed) {
  const floats = (name) => (packed[name] === undefined ? null : unpack(packed[name], Float32Array));
  return Object.assign({}, packed, {
    time: unpack(packed.time, Float64Array), q: floats("q"), tool_speed: floats("tool_speed"), clearance: floats("clearance"),
    load: unpack(packed.load, Int32Array),
  });
}

/** The last row at or before a time. */
function rowAt(cycle, time) {
  let low = 0, high = cycle.time.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (cycle.time[middle] <= time + 1e-9) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The move that is under way. */
function moveAt(cycle, time) {
  return cycle.moves.reduce((found, move, i) => (move.start <= time + 1e-6 ? i : found), -1);
}

/** Joints, tool speed, clearance, move and load at a time, between two rows in proportion. */
function stateAt(cycle, time, joints) {
  const row = rowAt(cycle, time), next = Math.min(row + 1, cycle.time.length - 1);
  const span = cycle.time[next] - cycle.time[row], share = span > 0 ? Math.min(1, (time - cycle.time[row]) / span) : 0;
  const mix = (values, i, j) => values[i] + share * (values[j] - values[i]);
  const q = Array.from({ length: joints }, (_, k) => mix(cycle.q, row * joints + k, next * joints + k));
  return {
    q, row, move: moveAt(cycle, time), load: cycle.load[row], speed: mix(cycle.tool_speed, row, next),
    clearance: cycle.clearance && Number.isFinite(cycle.clearance[row]) ? mix(cycle.clearance, row, next) : null,
  };
}

/** For each load the stretches of rows in which it stands still, with the row whose tool pose it stands at. */
function standsOf(cycle, load) {
  const stands = [], rows = cycle.load;
  let last = -1;
  for (let i = 0; i < rows.length; ++i) {
    if (rows[i] !== load) continue;
    if (last < 0 ? i > 0 : i > last + 1) stands.push({ from: last + 1, to: i - 1, at: last < 0 ? i : last });
    last = i;
  }
  if (last >= 0 && last < rows.length - 1) stands.push({ from: last + 1, to: rows.length - 1, at: last });
  return stands;
}

function curve(cycle, values, most) {
  let path = "";
  for (let i = 0; i < values.length; ++i) {
    if (!Number.isFinite(values[i])) continue;
    path += `${path ? "L" : "M"}${((1000 * cycle.time[i]) / cycle.duration).toFixed(2)} ${(97 - (92 * Math.min(values[i], most)) / most).toFixed(2)}`;
  }
  return path;
}

/** The strip over the time slider. Speeds and clearances each to a scale of their own, told below. */
function fillStrip(cycle) {
  const share = (time) => `${(100 * time) / cycle.duration}%`;
  cycle.moves.forEach((move) => {
    const node = made("span", "", move.name);
    node.title = move.name;
    Object.assign(node.style, { left: share(move.start), width: share(move.end - move.start) });
    element("strip-moves").append(node);
  });
  for (let i = 0; i < cycle.load.length; ) {
    let end = i;
    while (end + 1 < cycle.load.length && cycle.load[end + 1] === cycle.load[i]) ++end;
    if (cycle.load[i] >= 0) {
      const node = made("span", "", cycle.loads[cycle.load[i]]);
      Object.assign(node.style, { left: share(cycle.time[i]), width: share(cycle.time[end] - cycle.time[i]) });
      element("strip-loads").append(node);
    }
    i = end + 1;
  }
  const draw = (name, values, most) => {
    const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
    path.setAttribute("class", name);
    path.setAttribute("d", curve(cycle, values, most));
    element("strip-curves").append(path);
  };
  draw("speed", cycle.tool_speed, greatest(cycle.tool_speed, Infinity) || 1);
  if (cycle.clearance) draw("room", cycle.clearance, greatest(cycle.clearance, 0.3) || 0.3);
}

/** The greatest finite value, no more than `cap`. */
function greatest(values, cap) {
  let most = 0;
  for (const value of values) if (Number.isFinite(value)) most = Math.max(most, value);
  return Math.min(most, cap);
}

function sayStrip(cycle) {
  const key = (kind, text) => `<span><svg viewBox="0 0 24 8" aria-hidden="true"><line x1="0" y1="4" x2="24" y2="4" class="${kind}"/></svg>${text}</span>`;
  const rooms = cycle.clearance ? key("room", `clearance, up to ${words(greatest(cycle.clearance, 0.3) || 0.3, "small m")}`) : "";
  element("strip-words").innerHTML = key("speed", `speed of the tool point, up to ${words(greatest(cycle.tool_speed, Infinity), "m/s")}`) + rooms + "<span>bar: what is carried</span>";
}

/** Play, pause, time and pace; `show(state)` moves the arm. */
function buildPlayer(cycle, joints, show) {
  const player = { time: 0, playing: false, pace: 1, leave, to };
  let last = 0;
  element("cycle").hidden = false;
  element("cycle-head").textContent = `Cycle: ${cycle.name}, ${words(cycle.duration, "s")}`;
  Object.assign(element("time"), { min: 0, max: cycle.duration });
  fillStrip(cycle);

  function to(time, quiet) {
    player.time = Math.min(cycle.duration, Math.max(0, time));
    const now = stateAt(cycle, player.time, joints);
    tell(now);
    show(now, quiet);
  }

  function tell(now) {
    const move = cycle.moves[now.move], text = [words(player.time, "s"), move ? move.name : "waits", `tool ${words(now.speed, "m/s")}`];
    if (now.clearance !== null) text.push(`clearance ${words(now.clearance, "small m")}`);
    element("cycle-now").textContent = text.join(" · ");
    element("cycle").toggleAttribute("data-left", false);
    element("time").value = String(player.time);
    element("time").setAttribute("aria-valuetext", text.join(", "));
    element("strip-now").style.left = `${(100 * player.time) / cycle.duration}%`;
    document.querySelectorAll("#strip-moves span").forEach((node, i) => node.toggleAttribute("data-now", i === now.move));
    document.body.dataset.time = String(player.time);
  }

  function press(playing) {
    player.playing = playing;
    element("play").toggleAttribute("data-playing", playing);
    element("play").querySelector("span").textContent = playing ? "Pause" : "Play";
    if (playing) requestAnimationFrame((now) => { last = now; requestAnimationFrame(tick); });
  }

  function tick(now) {
    if (!player.playing) return;
    const time = player.time + (player.pace * Math.min(250, now - last)) / 1000;
    last = now;
    to(time >= cycle.duration ? time % cycle.duration : time, true);
    requestAnimationFrame(tick);
  }

  function stop() {
    if (player.playing) press(false);
  }

  /** The arm was moved by hand, or to a work point. */
  function leave() {
    stop();
    element("cycle-now").textContent = `The arm stands elsewhere; the cycle goes on from ${words(player.time, "s")}.`;
    element("cycle").toggleAttribute("data-left", true);
  }

  function step(way) {
    const starts = cycle.moves.map((move) => move.start), near = 1e-6;
    const next = way > 0 ? starts.find((start) => start > player.time + near) : [...starts].reverse().find((start) => start < player.time - near);
    stop();
    to(next === undefined ? (way > 0 ? cycle.duration : 0) : next);
  }

  element("play").addEventListener("click", () => { press(!player.playing); if (!player.playing) to(player.time); });
  element("move-before").addEventListener("click", () => step(-1));
  element("move-after").addEventListener("click", () => step(1));
  element("pace").addEventListener("change", (event) => { player.pace = Number(event.target.value); });
  element("time").addEventListener("input", (event) => { stop(); to(Number(event.target.value)); });
  const strip = element("strip"), point = (event) => {
    const box = strip.getBoundingClientRect();
    to(((event.clientX - box.left) / box.width) * cycle.duration);
  };
  strip.addEventListener("pointerdown", (event) => { stop(); strip.setPointerCapture(event.pointerId); point(event); });
  strip.addEventListener("pointermove", (event) => { if (event.buttons) point(event); });
  player.refresh = () => { sayStrip(cycle); if (element("cycle").hasAttribute("data-left")) leave(); else tell(stateAt(cycle, player.time, joints)); };
  player.refresh();
  leave();
  return player;
}
