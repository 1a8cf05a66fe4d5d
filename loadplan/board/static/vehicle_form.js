// The forms of the vehicle and the lift: a part, point or joint is chosen, changed field by field, and written.
"use strict";
import { byId, fillChoice, withUnit } from "./dom.js";

const UNITS = {
  length: { metric: "mm", us: "in" }, mass: { metric: "kg", us: "lb" }, force: { metric: "N", us: "lbf" },
  stiffness: { metric: "N/mm", us: "lbf/in" },
};
const PLACE = [["x", "In front of the axle line", "length"], ["y", "Left of the centre line", "length"], ["z", "Over the floor, at ride height", "length"]];
/** The fields of each kind of thing: name, words, and what it measures or which choice it is. */
const FIELDS = {
  body: [["name", "Name"], ["outline", "Corners from above, going round, one a line: in front of the axle line, left of the centre line (minus: behind, right)", "corners"],
    ["bottom", "Its lowest place over the floor, at ride height", "length"], ["top", "Its highest place", "length"], ["known", "How its figures are known", "known"],
    ["mass", "Weighed whole, with all its parts (empty: by its parts)", "mass"], ["mass_pm", "Plus or minus", "mass"],
    ["cg_x", "Its centre of gravity then: in front of the axle line", "length"], ["cg_y", "left of the centre line", "length"],
    ["cg_z", "over the floor", "length"], ["date", "Day of the weighing, such as 2026-11-20"]],
  part: [["name", "Name"], ["body", "Belongs to the", "bodies"], ["mass", "Weighs", "mass"], ["mass_pm", "Plus or minus", "mass"],
    ["known", "How that is known", "known"], ...PLACE],
  point: [["name", "Name"], ["body", "On the", "bodies"], ["part", "On the part (empty: on none that comes off)", "parts"], ...PLACE,
    ["limit", "May take", "force"], ["say", "What the sheet says of it"]],
  joint: [["name", "Name"], ["kind", "Kind", "kinds"], ["first", "Ties the", "bodies"], ["second", "to the", "bodies"], ...PLACE,
    ["to_x", "Other end of a link: in front", "length"], ["to_y", "left", "length"], ["to_z", "over the floor", "length"],
    ["stiffness", "Stiffness", "stiffness"], ["limit", "May take", "force"], ["part", "Goes with the part", "parts"]],
};
const KNOWN = ["", "weighed", "data sheet", "guess"];
const NEW = "new";

/** Each bare number of some lines with commas between with the unit that the page shows. */
const withUnits = (text, units, measured) => text.split("\n").map((line) => line.split(",").map((each) => withUnit(each, units, measured)).join(", ")).join("\n");

export class VehicleForm {
  constructor(desk) {
    Object.assign(this, { desk, shown: {}, names: new Map() });
    byId("thing-what").addEventListener("change", () => this.choose(NEW));
    byId("thing-point-list").addEventListener("click", (event) => this.toPoint(event.target.closest("button")));
    byId("thing-item").addEventListener("change", () => this.fill());
    byId("vehicle-form").addEventListener("submit", (event) => { event.preventDefault(); this.write(); });
    byId("thing-drop").addEventListener("click", () => this.give(this.dropped(), undefined));
    byId("lift-form").addEventListener("submit", (event) => { event.preventDefault(); this.writeLift(); });
  }

  get what() { return byId("thing-what").value; }

  get item() { return byId("thing-item").value === NEW ? null : Number(byId("thing-item").value); }

  get told() { return this.desk.screen.vehicle_form; }

  dropped() {
    return this.what === "body" ? { kind: "drop_assembly", item: this.item } : { kind: "drop_thing", what: this.what, item: this.item };
  }

  /** Show the plan as it is now; what somebody is writing stays. */
  paint() {
    byId("vehicle-own").hidden = this.told.own;
    const name = this.names.get(this.what);
    const rows = this.told[this.what];
    const at = rows.findIndex((each) => each.name === name);
    if (!byId("vehicle-form").contains(document.activeElement) || this.stale) this.choose(at < 0 ? NEW : String(at));
    if (!byId("lift-form").contains(document.activeElement)) this.paintLift();
  }

  choose(item) {
    const rows = this.told[this.what].map((each, number) => [number, each.name]);
    fillChoice(byId("thing-item"), [[NEW, "a new one"], ...rows], item);
    this.fill();
  }

  choices(kind) {
    const parts = this.told.part.map((each) => each.name);
    return { bodies: this.told.bodies, known: KNOWN, kinds: ["bolted", "mount", "link"], parts: ["", ...parts] }[kind];
  }

  fill() {
    this.stale = false;
    const record = this.item === null ? {} : this.told[this.what][this.item];
    this.names.set(this.what, record.name);
    byId("thing-drop").disabled = this.item === null;
    byId("thing-many").hidden = !record.many;
    this.listPoints(record);
    const fields = FIELDS[this.what].filter(([key, , kind]) => !(record.many && kind === "length"));
    byId("thing-fields").replaceChildren(...fields.map(([key, words, kind]) => this.field(key, words, { kind, text: record[key] ?? "" })));
    this.shown = Object.fromEntries(fields.map(([key]) => [key, this.item === null ? null : byId(`thing-${key}`).value]));
  }

  /** Offer the points of the assembly that is shown, and a new one on it. */
  listPoints({ name }) {
    byId("thing-points").hidden = this.what !== "body" || name === undefined;
    const points = this.told.point.map((each, number) => [String(number), each]).filter(([, each]) => each.body === name);
    byId("thing-point-list").replaceChildren(...[...points.map(([number, each]) => [number, each.name]), [NEW, "a new one"]].map(([item, text]) => {
      const button = document.createElement("button");
      Object.assign(button, { type: "button", textContent: text });
      Object.assign(button.dataset, { item, body: name });
      return button;
    }));
  }

  toPoint(button) {
    if (!button) return;
    byId("thing-what").value = "point";
    this.choose(button.dataset.item);
    if (this.item === null) byId("thing-body").value = button.dataset.body;
    byId("thing-name").focus();
  }

  field(key, words, { kind, text }) {
    const room = document.createElement("div");
    const label = document.createElement("label");
    Object.assign(label, { htmlFor: `thing-${key}`, textContent: words });
    const choices = this.choices(kind);
    const input = document.createElement(choices ? "select" : kind === "corners" ? "textarea" : "input");
    input.id = `thing-${key}`;
    room.append(label, input);
    if (choices) {
      fillChoice(input, choices.map((each) => [each, each || "not said"]), text || choices[0]);
    } else if (kind === "corners") {
      Object.assign(input, { rows: 6, maxLength: 4000, spellcheck: false, value: text });
      room.className = "whole";
      input.dataset.kind = "length";
    } else {
      Object.assign(input, { type: "text", maxLength: 400, spellcheck: false, value: text });
      input.dataset.kind = kind ?? "";
    }
    return room;
  }

  /** Give what differs from what was shown; of a new one all that is filled in. */
  write() {
    const { units } = this.desk.screen;
    const fields = {};
    for (const [key, was] of Object.entries(this.shown)) {
      const input = byId(`thing-${key}`);
      if (input.value === was || (was === null && input.value === "")) continue;
      const measured = UNITS[input.dataset.kind];
      fields[key] = measured ? withUnits(input.value, units, measured) : input.value;
    }
    const change = this.what === "body" ? { kind: "assembly", fields } : { kind: "thing", what: this.what, fields };
    if (this.item !== null) change.item = this.item;
    if (Object.keys(fields).length === 0) return;
    this.give(change, fields.name?.trim() ?? this.names.get(this.what));
  }

  /** Give a change; where the plan takes it the thing of that name is shown, else what was written stays. */
  async give(change, name) {
    const before = this.names.get(this.what);
    this.names.set(this.what, name);
    this.stale = true;
    if (await this.desk.change(change)) return;
    this.stale = false;
    this.names.set(this.what, before);
  }

  paintLift() {
    const { lift, lifts, bodies, point } = this.told;
    byId("lift-form").hidden = lifts.length === 0;
    if (lifts.length === 0) return;
    fillChoice(byId("lift-use"), lifts.map((each, number) => [number, each.name]), lift?.use ?? 0);
    fillChoice(byId("lift-body"), bodies.map((each) => [each, each]), lift?.body ?? bodies[0]);
    byId("lift-columns").value = lift?.columns ?? "";
    byId("lift-before").checked = lift ? lift.in_place : true;
    const count = lift?.pads.length || lifts[Number(byId("lift-use").value)]?.arms || 4;
    const names = point.map((each) => each.name);
    byId("lift-pads").replaceChildren(...Array.from({ length: count }, (_, number) => {
      const room = document.createElement("div");
      const label = document.createElement("label");
      Object.assign(label, { htmlFor: `lift-pad-${number}`, textContent: `Pad ${number + 1} under` });
      const select = document.createElement("select");
      select.id = `lift-pad-${number}`;
      room.append(label, select);
      fillChoice(select, names.map((each) => [each, each]), lift?.pads[number] ?? names[number] ?? "");
      return room;
    }));
  }

  writeLift() {
    const pads = [...byId("lift-pads").querySelectorAll("select")].map((each) => each.value);
    document.activeElement?.blur();
    this.desk.change({
      kind: "use_lift", use: Number(byId("lift-use").value), body: byId("lift-body").value, pads,
      columns: withUnit(byId("lift-columns").value, this.desk.screen.units, UNITS.length), in_place: byId("lift-before").checked,
    });
  }
}
