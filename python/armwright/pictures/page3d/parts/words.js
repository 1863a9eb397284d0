// Numbers as the reader sees them. Inside, all is SI.

const SHOWN = {
  si: { m: [1, "m", 3], kg: [1, "kg", 1], rad: [180 / Math.PI, "°", 1], 1: [1, "", 2] },
  us: { m: [1 / 0.0254, "in", 1], kg: [1 / 0.45359237, "lb", 1], rad: [180 / Math.PI, "°", 1], 1: [1, "", 2] },
};
let unitSystem = "si";

function unitName(unit) {
  return (SHOWN[unitSystem][unit] || [1, unit])[1];
}

/** A value in SI with its unit, such as "1.250 m". */
function words(value, unit, digits) {
  const [factor, name, places] = SHOWN[unitSystem][unit] || [1, unit, 2];
  if (!Number.isFinite(value)) return value > 0 ? "no limit" : "none";
  const text = (value * factor).toFixed(digits === undefined ? places : digits).replace(/^-(?=0(\.0*)?$)/, "").replace("-", "−");
  return text + (name === "°" || !name ? name : "\u00a0" + name);
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
