// The form of the step in view: what is undone and in place in it, and what else is said of it; steps come, go and move.
"use strict";
import { byId, fillChoice, fillList, say, withUnit } from "./dom.js";

const LENGTH = { metric: "mm", us: "in" };
const FORCE = { metric: "N", us: "lbf" };
const WAYS = ["front", "back", "left", "right", "up", "down"];

/** Fill a field unless somebody writes in it. */
function fillText(id, text) {
  if (document.activeElement !== byId(id)) byId(id).value = text;
}

function paintToggles(id, records, what, words) {
  fillList(byId(id), records, "part", (item, record) => {
    const button = item.firstElementChild;
    button.removeAttribute("data-part");
    Object.assign(button.dataset, { what: record.what ?? what, item: String(record.id) });
    button.setAttribute("aria-pressed", String(record.done));
    say(button, { name: record.name, about: "", state: record.done ? words.done : words.not });
  });
}

export function paintStep(desk) {
  const form = desk.screen.step_form;
  fillText("step-text", form.name);
  byId("step-earlier").disabled = form.first;
  byId("step-later").disabled = form.last;
  byId("step-remove").disabled = form.only;
  paintToggles("step-joints", form.joints, "joint", { done: "undone", not: "done up" });
  const lift = form.lift ? [{ ...form.lift, id: 0, what: "lift" }] : [];
  paintToggles("step-supports", [...form.supports, ...lift], "support", { done: "in place", not: "not there" });
  for (const label of byId("step-flags").querySelectorAll("[data-key]")) {
    const { key } = label.dataset;
    label.querySelector("input").checked = form.flags[key];
    const said = { lift_locked: form.locks, any_order: form.can_any, undone_in_order: form.can_order }[key] ?? true;
    label.hidden = !said && !form.flags[key];
  }
  byId("step-far-form").hidden = !form.lift;
  if (document.activeElement !== byId("step-far")) byId("step-way").value = form.way;
  fillText("step-far", form.far);
  fillText("step-boxes", form.boxes);
  paintPull(desk, form.pull);
}

function paintPull({ screen }, pull) {
  if (byId("step-pull-form").contains(document.activeElement)) return;
  fillChoice(byId("pull-body"), screen.bodies.map((each) => [each.id, each.name]), pull?.body ?? screen.bodies[0]?.id ?? "");
  fillChoice(byId("pull-towards"), WAYS.map((each) => [each, each]), pull?.towards || WAYS[0]);
  byId("pull-force").value = pull?.force ?? "";
  ["x", "y", "z"].forEach((axis, number) => { byId(`pull-${axis}`).value = pull?.at[number] ?? ""; });
  byId("pull-kept").hidden = !pull || pull.towards !== "";
}

/** Let a form give a change once it is sent off. */
function onSubmit(id, does) {
  byId(id).addEventListener("submit", (event) => {
    event.preventDefault();
    // What was written is shown as the plan has it then, not as it was typed.
    if (byId(id).contains(document.activeElement)) document.activeElement.blur();
    does();
  });
}

export function wireStep(desk) {
  const toggle = (event) => {
    const button = event.target.closest("[data-what]");
    if (!button) return;
    const { what, item } = button.dataset;
    desk.change({ kind: "do", what, item: Number(item), done: button.getAttribute("aria-pressed") !== "true" });
  };
  byId("step-joints").addEventListener("click", toggle);
  byId("step-supports").addEventListener("click", toggle);
  const units = () => desk.screen.units;
  const length = (id) => withUnit(byId(id).value || "0", units(), LENGTH);
  onSubmit("step-name-form", () => desk.change({ kind: "name_step", text: byId("step-text").value }));
  onSubmit("step-far-form", () => desk.change({ kind: "lowering", way: byId("step-way").value, text: withUnit(byId("step-far").value, units(), LENGTH) }));
  onSubmit("step-boxes-form", () => desk.change({ kind: "boxes", text: byId("step-boxes").value }));
  onSubmit("step-pull-form", () => desk.change({
    kind: "pull", body: Number(byId("pull-body").value), towards: byId("pull-towards").value,
    force: withUnit(byId("pull-force").value, units(), FORCE), at: ["pull-x", "pull-y", "pull-z"].map(length),
  }));
  byId("step-flags").addEventListener("change", async (event) => {
    const { key } = event.target.closest("[data-key]").dataset;
    await desk.change({ kind: "flag", key, on: event.target.checked });
  });
  const moves = async (change, by) => {
    const step = desk.step;
    if (await desk.change(change)) await desk.goTo(step + by);
  };
  byId("step-earlier").addEventListener("click", () => moves({ kind: "move_step", by: -1 }, -1));
  byId("step-later").addEventListener("click", () => moves({ kind: "move_step", by: 1 }, 1));
  byId("step-add").addEventListener("click", async () => { await moves({ kind: "add_step" }, 1); byId("step-text").select(); });
  byId("step-remove").addEventListener("click", () => desk.change({ kind: "remove_step" }));
}
