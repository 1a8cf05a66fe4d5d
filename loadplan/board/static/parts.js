// Parts as big toggles, and the trial weights and centres of gravity.
"use strict";
import { byId, fillChoice, fillList, say, tell, withUnit } from "./dom.js";

export function paintParts(desk) {
  const bodies = [...new Set(desk.screen.parts.map((each) => each.body))].sort();
  fillList(byId("parts"), bodies, "group", (group, body) => {
    const parts = desk.screen.parts.filter((each) => each.body === body);
    if (group.dataset.body !== body) group.open = parts.some((each) => each.unit !== false);
    group.dataset.body = body;
    say(group, { body });
    fillList(group.querySelector("ul"), parts, "part", paintPart);
  });
}

function paintPart(item, part) {
  const button = item.firstElementChild;
  button.dataset.part = String(part.id);
  button.setAttribute("aria-pressed", String(part.off));
  if (part.can) button.removeAttribute("aria-disabled");
  else button.setAttribute("aria-disabled", "true");
  const mass = part.mass === part.given || !part.given ? part.mass : `${part.mass}, in the file ${part.given}`;
  say(button, { name: part.name, state: part.off ? "off" : "on", about: part.why ? `${mass}; ${part.why}` : mass });
}

export function paintTry(desk) {
  const { screen } = desk;
  const unit = screen.units === "us" ? "inches" : "mm";
  for (const place of document.querySelectorAll("#try-cg .unit")) place.textContent = unit;
  const ofUnit = new Set(screen.parts.filter((each) => each.unit !== false).map((each) => each.body));
  keepChoice(byId("mass-part"), screen.parts, (each) => ofUnit.has(each.body));
  keepChoice(byId("cg-body"), screen.bodies, (each) => ofUnit.has(each.name));
  byId("as-given").disabled = !screen.what_if;
  byId("keep-what-if").disabled = !screen.what_if;
  paintGiven(desk);
}

/** Fill a choice and keep what is chosen; at first it is of what stands on the stands, not of the vehicle on the lift. */
function keepChoice(select, records, isOfUnit) {
  const was = select.value;
  const known = records.some((each) => String(each.id) === was);
  const first = records.find(isOfUnit) ?? records[0];
  fillChoice(select, records.map((each) => [each.id, each.name]), known ? was : first?.id ?? "");
}

function paintGiven(desk) {
  const part = desk.screen.parts.find((each) => String(each.id) === byId("mass-part").value);
  const given = part?.given ? `, in the file ${part.given}` : "";
  byId("mass-given").textContent = part ? `Now ${part.mass}${given}. Empty: as in the file.` : "";
}

/** Read a length as it is typed into metres: bare in mm or inches, fractions too; null where it is none. */
export function readLength(text, units) {
  const plain = text.trim().replace(",", ".").replace("\u2212", "-") || "0";
  const found = /^([+-]?)\s*(\d*\.?\d+)?(?:(?:^|\s+|(?<=[+-]))(\d+)\/([1-9]\d*))?\s*(mm|in|")?$/.exec(plain);
  if (!found || (found[2] === undefined && found[3] === undefined)) return null;
  const [, sign, whole, above, below, unit] = found;
  const number = Number(whole ?? 0) + (above ? Number(above) / Number(below) : 0);
  const inches = unit ? unit !== "mm" : units === "us";
  return (sign === "-" ? -1 : 1) * number * (inches ? 0.0254 : 0.001);
}

export function wireParts(desk) {
  byId("parts").addEventListener("click", (event) => {
    const button = event.target.closest("[data-part]");
    const part = button && desk.screen.parts.find((each) => each.id === Number(button.dataset.part));
    if (!part) return;
    if (part.can) desk.change({ kind: "part", part: part.id, off: !part.off });
    else tell(`${part.name}: ${part.why || "cannot change in this step"}.`);
  });
  byId("mass-part").addEventListener("change", () => paintGiven(desk));
  byId("try-mass").addEventListener("submit", async (event) => {
    event.preventDefault();
    const part = Number(byId("mass-part").value);
    const text = withUnit(byId("mass-text").value, desk.screen.units, { metric: "kg", us: "lb" });
    const taken = await desk.change({ kind: "mass", part, text });
    if (taken) byId("mass-text").value = "";
  });
  byId("try-cg").addEventListener("submit", async (event) => {
    event.preventDefault();
    const [forward, left] = ["cg-forward", "cg-left"].map((id) => readLength(byId(id).value, desk.screen.units));
    if (forward === null || left === null) {
      tell("Forward and left take a length each, such as 20 or -15.");
      return;
    }
    const taken = await desk.change({ kind: "cg", body: Number(byId("cg-body").value), forward, left });
    if (taken) for (const id of ["cg-forward", "cg-left"]) byId(id).value = "0";
  });
  byId("as-given").addEventListener("click", () => desk.change({ kind: "as_given" }));
  byId("keep-what-if").addEventListener("click", () => desk.change({ kind: "keep_what_if" }));
}
