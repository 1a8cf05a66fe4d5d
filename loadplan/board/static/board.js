// The plan page put together: painters, switches, and what can be done to a stand.
"use strict";
import { announce, byId, tell } from "./dom.js";
import { Desk } from "./state.js";
import { readAddress, writeAddress } from "./address.js";
import { Cures } from "./cures.js";
import { Dock } from "./dock.js";
import { Hand } from "./drag.js";
import { Hold } from "./held_stand.js";
import { Keys } from "./keys.js";
import { paintFindings, paintHead, paintNumbers, paintSteps } from "./numbers.js";
import { paintParts, paintTry, wireParts } from "./parts.js";
import { paintPicked, paintStands, wireStands } from "./stands.js";
import { Plan } from "./plan.js";
import { helpAt, wireMend } from "./mend.js";
import { wireSwap } from "./swap_stand.js";
import { wireSave } from "./save.js";
import { PointNames } from "./point_names.js";
import { SideViews } from "./side_views.js";
import { paintStep, wireStep } from "./step_form.js";
import { VehicleForm } from "./vehicle_form.js";
import { Zoom } from "./zoom.js";
import { Stream } from "./stream.js";

const first = JSON.parse(byId("screen").textContent);
const desk = new Desk(document.body.dataset.plan, document.querySelector('meta[name="token"]').content, first);
const plan = new Plan();
plan.zoom = new Zoom(plan, (around) => { desk.around = around; desk.show(); });
plan.names = new PointNames(plan, desk);
const hold = new Hold(desk, plan);
const dock = new Dock(paneShown);
desk.size = () => plan.size();

/** The point in view after, or before, the one where a stand is now; the nearest to a free one. None that is taken. */
function pointBeside(stand, by) {
  const others = desk.screen.stands.filter((each) => each.here && each.id !== stand.id);
  const taken = new Set(others.map((each) => each.point));
  const points = desk.screen.points.filter((each) => !taken.has(each.id) && plan.shows(each));
  const at = points.findIndex((each) => each.id === stand.point);
  return at < 0 ? nearestOf(points, stand) : points[(at + by + points.length) % points.length];
}

function nearestOf(points, { x, y }) {
  const away = (point) => Math.hypot(point.x - x, point.y - y);
  return points.reduce((best, each) => (best === null || away(each) < away(best) ? each : best), null);
}

function toPoint(id, by) {
  const point = pointBeside(desk.stand(id), by);
  if (point && point.id !== desk.stand(id).point) desk.change({ kind: "under", stand: id, point: point.id });
  else tell("No other point of the vehicle is free.");
}

const acts = {
  open: (id) => openFrom(id, document.activeElement?.closest?.("#plan") ? document.activeElement.id : null),
  pick: (id) => desk.pick(id),
  next: (id) => toPoint(id, 1),
  last: (id) => toPoint(id, -1),
  duplicate: (id) => desk.change({ kind: "duplicate", stand: id }),
  remove: async (id) => {
    const fromForm = byId("stand-form").contains(document.activeElement);
    if (await desk.change({ kind: "remove", stand: id })) {
      const next = Math.min(id, desk.screen.stands.length - 1);
      (byId(fromForm ? `row-${next}` : `target-${next}`) ?? byId(`row-${next}`) ?? byId("add")).focus();
    }
  },
};

/** Do one of the acts to a stand; by keys or by a button. */
function doTo(act, id) {
  if (desk.stand(id)) acts[act](id);
}

/** Come into one of the ways in which a tap on the plan counts: move, add or away. */
function setMode(mode) {
  desk.mode = mode;
  if (mode !== "move") views.show("plan");
  plan.box.classList.toggle("adding", mode === "add");
  plan.box.classList.toggle("taking", mode === "away");
  byId("add").textContent = mode === "add" ? "At a free place" : "Add a stand";
  byId("away").setAttribute("aria-pressed", String(mode === "away"));
  if (mode === "add") tell("Tap the plan where the stand goes; or press again, and a free place is taken.");
  if (mode === "away") tell("Tap the stand that goes, on the plan or in its row.");
}

function takeAway(id) {
  desk.without = id;
  desk.pick(id);
  tell("", { aloud: false });
  paintAway();
  desk.show({ aloud: true });
  return true;
}

function putBack() {
  const was = desk.without;
  desk.without = null;
  setMode("move");
  paintAway();
  if (was !== null) desk.show({ aloud: true });
}

function paintAway() {
  const stand = desk.without === null ? null : desk.stand(desk.without);
  const button = byId("put-back");
  if (!stand && button === document.activeElement) byId("away").focus();
  // What was changed was changed with all stands there: the next tap takes none away.
  if (!stand && !button.hidden && desk.mode === "away") setMode("move");
  button.hidden = !stand;
  button.textContent = stand ? `Put ${stand.name} back` : "";
}

function add(place) {
  setMode("move");
  desk.change({ kind: "add", ...place, snap: plan.snap });
}

function tapped(id, place) {
  if (id !== null) dock.raise();
  // In the hatched area one tap sets the stand that would help: undo takes it back.
  if (id === null && desk.mode === "move" && helpAt(desk.screen, place)) { add(place); return; }
  if (desk.mode === "add" && place) add(place);
  else if (desk.mode === "away") takeAway(id);
  else {
    desk.pick(id);
    markHand();
    const point = id === null && place ? plan.names.pick(place) : null;
    if (point) tell(point.name);
  }
}

function showMore(open) {
  byId("more-tools").classList.toggle("open", open);
  byId("more").setAttribute("aria-expanded", String(open));
}

function wireSwitches() {
  byId("add").addEventListener("click", () => (desk.mode === "add" ? add({}) : setMode("add")));
  byId("away").addEventListener("click", () => (desk.mode === "away" ? putBack() : setMode("away")));
  byId("put-back").addEventListener("click", putBack);
  byId("given").addEventListener("click", () => {
    desk.given = !desk.given;
    byId("given").setAttribute("aria-pressed", String(desk.given));
    desk.paint({ aloud: false });
    tell(desk.given ? "Every number as given, on a level floor: not the worst case." : "Every number is the worst case.");
  });
  byId("more").addEventListener("click", () => showMore(!byId("more-tools").classList.contains("open")));
  // It lies over the verdict of all steps: whoever goes on elsewhere is done with it.
  addEventListener("pointerdown", (event) => {
    if (!event.target.closest("#more, #more-tools")) showMore(false);
  });
  byId("more-tools").addEventListener("click", () => showMore(false));
  document.querySelector(".top").addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !byId("more-tools").classList.contains("open")) return;
    showMore(false);
    byId("more").focus();
  });
  byId("undo").addEventListener("click", () => desk.undo());
  byId("redo").addEventListener("click", () => desk.redo());
  byId("step-back").addEventListener("click", () => desk.goTo(desk.step - 1));
  byId("step-on").addEventListener("click", () => desk.goTo(desk.step + 1));
  byId("strip").addEventListener("click", (event) => {
    const button = event.target.closest("[data-step]");
    if (button) desk.goTo(Number(button.dataset.step));
  });
  byId("job-verdict").addEventListener("click", () => desk.goTo(desk.screen.verdict.job_step));
}

/** Draw anew, once the box rests, at the size that it has now. */
function watchSize() {
  let timer = null;
  new ResizeObserver(() => {
    clearTimeout(timer);
    timer = setTimeout(async () => {
      // What is asked for already is asked for at the size of now: only once it is there is it seen whether it fits.
      await desk.line.quiet();
      const { wide, high } = plan.size();
      const { map } = desk.screen;
      if (Math.abs(wide - map.wide) > 8 || Math.abs(high - map.high) > 8) desk.show();
    }, 120);
  }).observe(plan.box);
}

/** Buttons that move the stand in hand as the arrow keys do; quick taps add up. */
function wireNudges() {
  const says = desk.screen.units === "us" ? { small: "1/8 in", large: "1 in" } : { small: "5 mm", large: "50 mm" };
  for (const button of byId("nudges").querySelectorAll("button")) {
    const { ahead, left, size } = button.dataset;
    button.querySelector(".by").textContent = says[size];
    button.addEventListener("click", () => {
      if (desk.picked !== null) keys.move(desk.picked, [Number(ahead), Number(left)], size === "large");
    });
  }
}

/** A stand that is in hand and at rest: the band of a phone is then one line. While one is dragged nothing slips. */
function markHand() {
  if (!hold.held) document.body.toggleAttribute("data-in-hand", desk.picked !== null);
}

/** The sheet shows the stand that is taken in hand; the trial of weights lets signs be dragged. */
function paneShown(pane) {
  byId("vehicle-pane").hidden = pane !== "parts";
  const open = pane === "try";
  if (plan.box.classList.toggle("try-open", open) !== plan.signs) {
    plan.signs = open;
    hold.swap(desk.screen);
  }
}

const openFrom = wireStands(desk, doTo, takeAway);
const hand = new Hand(desk, plan, hold, tapped);
desk.painters.push(paintHead, paintNumbers, paintSteps, paintStands, paintFindings, paintParts, paintTry, paintAway, paintStep);
const cures = new Cures(desk);
desk.painters.push(() => cures.paint());
desk.painters.push(() => hold.swap(desk.screen), markHand);
desk.pickers.push(paintPicked, markHand, () => { if (desk.picked !== null) dock.show("stands"); }, () => { plan.mark(desk.picked, hold.held?.id ?? null); plan.names.draw(); });
const views = new SideViews(desk, plan, () => keepAddress());
wireSwitches();
wireParts(desk);
const vehicle = new VehicleForm(desk);
desk.painters.push(() => vehicle.paint());
wireStep(desk);
const save = wireSave(desk);
wireMend(desk);
wireSwap(desk);
const keys = new Keys(desk, plan, hold, {
  doTo,
  tap: takeAway,
  undo: () => desk.undo(),
  redo: () => desk.redo(),
  save,
  escape: () => { hand.escape(); hold.back(); if (desk.mode !== "move") putBack(); },
});
wireNudges();
new Stream(desk).begin();
desk.paint({ aloud: false });
const keepAddress = () => writeAddress(desk, dock, views);
readAddress(desk, dock, views);
desk.painters.push(keepAddress);
desk.pickers.push(keepAddress);
for (const tab of dock.tabs) tab.addEventListener("click", keepAddress);
window.addEventListener("hashchange", () => readAddress(desk, dock, views));
keepAddress();
watchSize();
announce(`${desk.screen.verdict.word}. ${desk.screen.verdict.reason}`);
document.body.dataset.ready = "";
