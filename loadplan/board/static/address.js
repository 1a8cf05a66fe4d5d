// What is in view stands in the address, so that loading the page again, or coming back to it, returns there.
"use strict";

const PANES = ["stands", "findings", "parts", "step", "try", "notes"];

/** Write step, stand in hand, view, pane and the switch to as given into the address; the page's history does not grow. */
export function writeAddress(desk, dock, views) {
  const stand = desk.picked === null ? null : desk.stand(desk.picked);
  const told = new URLSearchParams({ step: String(desk.step + 1) });
  if (stand) told.set("stand", stand.name);
  if (dock.pane !== PANES[0]) told.set("show", dock.pane);
  if (views.side !== "plan") told.set("view", views.side);
  if (views.side === "turn") told.set("turn", String(views.azimuth));
  if (desk.given) told.set("given", "1");
  const hash = `#${told}`;
  if (location.hash !== hash) history.replaceState(history.state, "", hash);
}

/** Go where the address says, as far as the plan has it; the rest stays as it is. */
export function readAddress(desk, dock, views) {
  const asked = new URLSearchParams(location.hash.slice(1));
  const step = Number(asked.get("step"));
  const stand = desk.screen.stands.find((each) => each.name === asked.get("stand"));
  const shown = asked.get("show");
  if (asked.get("given") === "1" && !desk.given) document.getElementById("given").click();
  const turn = Number(asked.get("turn") ?? views.azimuth);
  views.show(asked.get("view") ?? "plan", turn >= 0 && turn < 360 ? turn : views.azimuth);
  if (stand) desk.pick(stand.id);
  if (PANES.includes(shown)) dock.show(shown);
  return Number.isInteger(step) && step > 0 ? desk.goTo(step - 1) : null;
}
