// Numbers as the reader sees them. Inside, all is SI.

const DEGREES = 180 / Math.PI, INCH = 0.0254, POUND = 0.45359237;
const SHOWN = {
  si: { m: [1, "m", 3], "small m": [1000, "mm", 0], kg: [1, "kg", 1], rad: [DEGREES, "°", 1], "m/s": [1, "m/s", 2], s: [1, "s", 2], 1: [1, "", 2] },
  us: { m: [1 / INCH, "in", 1], "small m": [1 / INCH, "in", 2], kg: [1 / POUND, "lb", 1], rad: [DEGREES, "°", 1], "m/s": [1 / INCH, "in/s", 1], s: [1, "s", 2], 1: [1, "", 2] },
};
let unitSystem = "si";

function unitName(unit) {
  return (SHOWN[unitSystem][unit] || [1, unit])[1];
}

/** A value in SI with its unit, such as "1.250 m". */
function words(value, unit, digits) {
  const [factor, name, places] = SHOWN[unitSystem][unit] || [1, unit, 2];
  if (!Number.isFinite(value)) return value > 0 ? "no limit" : "none";
  const finer = unit === "small m" && name === "mm" && Math.abs(value) < 0.00995 ? 1 : places; // as the check tells it
  const text = (value * factor).toFixed(digits === undefined ? finer : digits).replace(/^-(?=0(\.0*)?$)/, "").replace("-", "−");
  return text + (name === "°" || !name ? name : "\u00a0" + name);
}

/** Sentences of results tell lengths and masses in mm and kg; in US units they are told anew. */
function inUnits(text) {
  if (unitSystem === "si") return text;
  const said = { mm: [0.001, "small m"], m: [1, "m"], kg: [1, "kg"] };
  return text.replace(/([−-]?\d+(?:\.\d+)?) (mm|m|kg)(?![\w·/²³])/g, (_, number, unit) => words(Number(number.replace("−", "-")) * said[unit][0], said[unit][1]));
}

/** What limits a mass, behind it. */
function givesOut(joint, part) {
  return joint ? `; then ${joint} gives out${part ? ` (${part === "stated" ? "its stated torque" : part})` : ""}` : "";
}

function unpack(text, Kind) {
  const bytes = atob(text);
  const buffer = new Uint8Array(bytes.length);
  for (let i = 0; i < bytes.length; ++i) buffer[i] = bytes.charCodeAt(i);
  return new Kind(buffer.buffer);
}

function colour(name) {
  return getComputedStyle(document.documentElement).getPropertyValue("--" + name).trim();
}

function element(id) {
  return document.getElementById(id);
}

/** An element with a class and a text. */
function made(kind, name, text) {
  const node = document.createElement(kind);
  if (name) node.className = name;
  if (text !== undefined) node.textContent = text;
  return node;
}
