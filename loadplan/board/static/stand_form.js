// The form of the stand in hand: what it is, how it is set, where it is, what it carries.
"use strict";
import { byId, fillChoice, say, tell, withUnit } from "./dom.js";
import { readLength } from "./parts.js";

/** Fill a field unless somebody writes in it. */
function fillText(id, text) {
  if (document.activeElement !== byId(id)) byId(id).value = text;
}

export function fillForm(desk, form, stand) {
  const { screen } = desk;
  form.dataset.stand = String(stand.id);
  byId("stand-bears").textContent = stand.bears;
  fillEquipment(screen, stand);
  fillPoints(screen, stand);
  fillSettings(stand);
  fillShims(screen, stand);
  const tags = stand.tag && !stand.tags.includes(stand.tag) ? [stand.tag, ...stand.tags] : stand.tags;
  fillChoice(byId("stand-tag"), [["", "any"], ...tags.map((each) => [each, each])], stand.tag);
  byId("stand-tag").parentElement.hidden = tags.length === 0;
  fillText("stand-height", stand.height);
  fillText("stand-x", stand.x_text);
  fillText("stand-y", stand.y_text);
  fillRange(stand);
  paintMoved(desk, stand);
}

function fillEquipment({ equipment }, stand) {
  const select = byId("stand-equipment");
  fillChoice(select, equipment.map((each) => [each.id, `${each.name}: ${each.about}`]), stand.equipment);
  equipment.forEach((each, index) => { select.options[index].disabled = !each.free && each.id !== stand.equipment; });
}

function fillPoints(screen, stand) {
  const others = screen.stands.filter((each) => each.point !== null && each.here && each.id !== stand.id);
  const held = new Map(others.map((each) => [each.point, ` (${each.name} is there)`]));
  const points = screen.points.map((each) => [each.id, each.name + (held.get(each.id) ?? "")]);
  const free = stand.point === null ? [["free", stand.under]] : [];
  fillChoice(byId("stand-point"), [...free, ...points], stand.point ?? "free");
}

/** The settings that the stand can be set to; the one that comes nearest to how the others stand is marked. */
function fillSettings({ settings, height_words }) {
  const now = settings.find((each) => each.now);
  const pairs = settings.map((each) => [each.text, each.near ? `${each.words}: nearest to the others` : each.words]);
  const other = now ? [] : [["", height_words]];
  fillChoice(byId("stand-setting"), [...other, ...pairs], now?.text ?? "");
  byId("settings-room").hidden = settings.length === 0;
}

function fillShims({ shims }, stand) {
  const other = stand.shim_words && stand.shim === null ? [["other", stand.shim_words]] : [];
  const chosen = stand.shim ?? (other.length ? "other" : "");
  fillChoice(byId("stand-shim"), [["", "none"], ...other, ...shims.map((each) => [each.id, each.name])], chosen);
  byId("stand-shim").parentElement.hidden = shims.length === 0 && !stand.shim_words;
}

/** What it carries, from the least to the most, on a bar of what one piece may carry. */
function fillRange(stand) {
  const room = byId("stand-range");
  room.hidden = stand.range === "";
  room.dataset.verdict = stand.verdict;
  say(room, { range: stand.range });
  for (const name of ["low", "high", "given"]) {
    room.style.setProperty(`--${name}`, String(Math.min(1, stand[`range_${name}`])));
  }
}

const EIGHTHS = 8;

/** A length [m] as the page shows lengths: whole mm, or inches to the eighth. */
function lengthWords(metres, units) {
  if (units !== "us") return `${Math.round(metres * 1000)} mm`;
  const eighths = Math.round((metres / 0.0254) * EIGHTHS);
  const [whole, rest] = [Math.floor(eighths / EIGHTHS), eighths % EIGHTHS];
  let [above, below] = [rest, EIGHTHS];
  while (above && above % 2 === 0) [above, below] = [above / 2, below / 2];
  return `${[whole || !above ? whole : "", above ? `${above}/${below}` : ""].filter((each) => each !== "").join(" ")} in`;
}

/** How far the stand in hand is from where the file has it; while it is held, from there too. */
export function paintMoved(desk, { name, x, y }) {
  const home = desk.home.get(name);
  const [ahead, left] = home ? [x - home.x, y - home.y] : [0, 0];
  const far = (by, ways) => (Math.abs(by) < 0.0005 ? "" : `${lengthWords(Math.abs(by), desk.screen.units)} ${by > 0 ? ways[0] : ways[1]}`);
  const told = [far(ahead, ["to the front", "back"]), far(left, ["left", "right"])].filter(Boolean).join(", ");
  byId("moved-by").hidden = told === "";
  byId("moved-by").textContent = told && `Moved by ${told}`;
}

/** Let the form be used: `doTo` runs one of the things that can be done to a stand. */
export function wireForm(desk, doTo, close) {
  const form = byId("stand-form");
  const mine = () => Number(form.dataset.stand);
  const chosen = (id, change) => byId(id).addEventListener("change", (event) => {
    const told = change(event.target.value);
    if (told) desk.change({ stand: mine(), ...told });
  });
  chosen("stand-equipment", (value) => ({ kind: "equip", equipment: Number(value) }));
  chosen("stand-point", (value) => (value === "free" ? null : { kind: "under", point: Number(value) }));
  chosen("stand-setting", (value) => (value === "" ? null : { kind: "height", text: value }));
  chosen("stand-shim", (value) => (value === "other" ? null : { kind: "shim", shim: value === "" ? null : Number(value) }));
  chosen("stand-tag", (value) => ({ kind: "tag", tag: value }));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (["stand-x", "stand-y"].includes(document.activeElement?.id)) { putThere(desk, mine()); return; }
    const text = withUnit(byId("stand-height").value, desk.screen.units, { metric: "mm", us: "in" });
    desk.change({ kind: "height", stand: mine(), text });
  });
  byId("stand-place").addEventListener("click", () => putThere(desk, mine()));
  form.addEventListener("click", (event) => {
    const what = event.target.closest("[data-do]")?.dataset.do;
    if (what) doTo(what, mine());
  });
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    event.stopPropagation();
    close();
  });
}

function putThere(desk, stand) {
  const [x, y] = ["stand-x", "stand-y"].map((id) => readLength(byId(id).value, desk.screen.units));
  if (x === null || y === null) tell("Both places take a length, such as 330 or -15.");
  else desk.change({ kind: "move", stand, x, y, snap: 0 });
}
