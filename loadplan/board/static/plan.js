// The drawing: swapping it, moving what is on it, and the read-out beside the hand.
"use strict";
import { byId, say } from "./dom.js";
import { loadsOf } from "./stands.js";

const SVG = "http://www.w3.org/2000/svg";
/** Width of what a gloved finger can hit [css px]. */
const TARGET = 60;
/** Radius within which a pointed stand snaps: the larger of both [m, css px]. */
const SNAP = { metres: 0.03, pixels: 16 };

export class Plan {
  constructor() {
    this.box = byId("plan");
    this.drawing = byId("drawing");
    this.readout = byId("readout");
    this.swapping = false;
    this.map = null;
    this.shifts = new Map();
    // Where the drawing that is there has each stand [m], by its name: numbers may be ahead of it.
    this.places = new Map();
    this.signs = false;
    // Covered by the step seen from a side, nothing of it is taken hold of.
    this.covered = false;
    this.given = false;
    this.names = null;
    this.onLift = false;
    this.zoom = null;
  }

  get svg() { return this.drawing.querySelector("svg"); }

  size() {
    return { wide: Math.round(this.box.clientWidth), high: Math.round(this.box.clientHeight) };
  }

  /** Css px a unit of the drawing. */
  get scale() { return this.svg.getScreenCTM().a; }

  get snap() { return Math.max(SNAP.metres, SNAP.pixels / (this.scale * this.map.k)); }

  /** Where a point of the window is on the floor [m]. */
  metres(across, down) {
    const at = new DOMPoint(across, down).matrixTransform(this.svg.getScreenCTM().inverse());
    return this.place({ u: at.x, v: at.y });
  }

  /** Where a place of the drawing is on the floor [m]. */
  place({ u, v }) {
    return { x: (this.map.v0 - v) / this.map.k, y: (this.map.u0 - u) / this.map.k };
  }

  /** Where a place on the floor [m] is in the drawing. */
  at({ x, y }) {
    return { u: this.map.u0 - this.map.k * y, v: this.map.v0 - this.map.k * x };
  }

  /** Whether a place on the floor lies in the drawing. */
  shows(place) {
    const { u, v } = this.at(place);
    const { wide, high } = this.svg.dataset;
    return u >= 0 && u <= Number(wide) && v >= 0 && v <= Number(high);
  }

  /** Show another drawing; what has the focus keeps it, by its id. */
  swap(screen) {
    const parsed = new DOMParser().parseFromString(screen.svg, "image/svg+xml").documentElement;
    if (parsed.nodeName !== "svg") return;
    const focused = this.drawing.contains(document.activeElement) ? document.activeElement.id : "";
    this.swapping = true;
    this.map = screen.map;
    Object.assign(this, { around: screen.around, onLift: screen.margin_on_lift && !screen.around, canAround: screen.can_around });
    this.shifts.clear();
    this.places = new Map(screen.stands.map(({ name, x, y }) => [name, { x, y }]));
    delete this.box.dataset.outdated;
    this.box.dataset.revision = String(screen.revision);
    this.box.dataset.verdict = screen.margin?.key ?? "holds";
    this.drawing.replaceChildren(document.importNode(parsed, true));
    const { width, height } = this.svg.viewBox.baseVal;
    Object.assign(this.svg.dataset, { wide: width, high: height });
    this.svg.setAttribute("role", "group");
    this.svg.setAttribute("aria-label", "Stands");
    for (const each of this.svg.querySelectorAll("text")) each.setAttribute("aria-hidden", "true");
    this.addTargets(screen);
    this.zoom?.apply();
    if (focused) (byId(focused) ?? byId(focused.replace("target", "row")))?.focus({ preventScroll: true });
    this.swapping = false;
    document.dispatchEvent(new CustomEvent("board:drawing", { detail: { revision: screen.revision } }));
  }

  /** Say of the drawing that is there that the numbers are ahead of it. */
  outdate() {
    this.box.dataset.outdated = "";
    this.tellNote();
  }

  addTargets(screen) {
    for (const stand of screen.stands) {
      const group = byId(`stand-${stand.id}`);
      if (!group) continue;
      const target = this.target(group, `target-${stand.id}`, this.at(stand), TARGET);
      target.dataset.stand = String(stand.id);
      if (stand.verdict !== "holds") target.dataset.verdict = stand.verdict;
      target.setAttribute("aria-label", stand.label);
    }
    for (const body of screen.bodies) this.addSign(body);
  }

  /** Let a sign of a centre of gravity be taken hold of, while that is switched on. */
  addSign(body) {
    const group = byId(`cg-${body.id}`);
    if (!group || !this.signs) return;
    const box = group.getBBox();
    const target = this.target(group, `sign-${body.id}`, { u: box.x + box.width / 2, v: box.y + box.height / 2 }, 48);
    target.dataset.body = String(body.id);
    target.setAttribute("aria-label", `Centre of gravity of the ${body.name}. Arrow keys move it, what if.`);
  }

  target(group, id, { u, v }, wide) {
    group.querySelector(".target")?.remove();
    const circle = document.createElementNS(SVG, "circle");
    const told = { id, cx: u, cy: v, r: wide / 2 / this.scale, class: "target", tabindex: 0, role: "button" };
    for (const [name, value] of Object.entries(told)) circle.setAttribute(name, String(value));
    circle.dataset.wide = String(wide);
    group.append(circle);
    return circle;
  }

  /** What a finger can hit keeps its size in the window, however close the look. */
  sizeTargets() {
    this.names?.draw();
    for (const each of this.svg.querySelectorAll(".target")) {
      each.setAttribute("r", String(Number(each.dataset.wide) / 2 / this.scale));
    }
  }

  /** The target whose middle is nearest to a point of the window, of those under it; else that of the shape there. */
  nearest(across, down) {
    const shape = document.elementFromPoint(across, down)?.closest('[id^="stand-"]');
    if (this.covered) return null;
    let [best, least] = [shape?.querySelector(".target") ?? null, Infinity];
    for (const target of this.svg.querySelectorAll(".target")) {
      const box = target.getBoundingClientRect();
      const away = Math.hypot(across - box.left - box.width / 2, down - box.top - box.height / 2);
      if (away <= box.width / 2 && away < least) [best, least] = [target, away];
    }
    return best;
  }

  /** Draw groups away from where they were drawn, by [units of the drawing]. */
  shift(ids, du, dv) {
    for (const id of ids) {
      byId(id)?.setAttribute("transform", `translate(${du.toFixed(2)} ${dv.toFixed(2)})`);
      this.shifts.set(id, true);
    }
  }

  unshift() {
    for (const id of this.shifts.keys()) byId(id)?.removeAttribute("transform");
    this.shifts.clear();
  }

  write(id, text) {
    const place = byId(`load-${id}`);
    const letters = place && (place.localName === "text" ? place : place.querySelector("text"));
    if (letters && letters.textContent !== text) letters.textContent = text;
  }

  loads(stands, worst) {
    for (const stand of stands) {
      const { big, none } = loadsOf(stand, worst);
      // As on paper a dash where there is no load: more words than there is room for would lie over the stand.
      this.write(stand.id, none ? "nothing" : big || "-");
    }
  }

  /** How far each assembly is from tipping, in the words asked for; and what the numbers beside the stands are. */
  distances(far, given) {
    far.forEach((each, number) => {
      const rows = byId(`far-${number}`)?.querySelectorAll("text");
      if (rows?.length && each.worst) rows[rows.length - 1].textContent = given ? each.given : each.worst;
    });
    this.given = given;
    this.tellNote();
  }

  /** Say what the numbers beside the stands are. */
  tellNote() {
    if (this.covered) return;
    if (this.box.dataset.outdated !== undefined) {
      byId("plan-note").textContent = "Not drawn anew yet: this drawing is from before the last change";
      return;
    }
    if (this.onLift) {
      const how = document.createElement("span");
      how.className = "on-screen";
      how.textContent = ": \u201cAll of it\u201d shows it";
      byId("plan-note").replaceChildren("What is nearest to tipping hangs on the lift", how);
      return;
    }
    byId("plan-note").textContent = this.given
      ? "Beside each stand: what it carries, as given"
      : "Beside each stand: the most on this floor";
  }

  lines(lines) {
    for (const [id, path] of Object.entries(lines ?? {})) {
      const place = byId(id);
      const line = place && (place.localName === "path" ? place : place.querySelector("path"));
      if (line) line.setAttribute("d", path);
    }
  }

  /** Mark what goes over first, by its number: its edge, its distance and its region. */
  first(number) {
    for (const each of this.svg.querySelectorAll(".nearest")) each.classList.remove("nearest");
    for (const kind of ["edge", "span", "region"]) byId(`${kind}-${number}`)?.classList.add("nearest");
  }

  mark(picked, held) {
    for (const target of this.svg.querySelectorAll(".target[data-stand]")) {
      const id = Number(target.dataset.stand);
      target.classList.toggle("picked-mark", id === picked);
      target.classList.toggle("held", id === held);
    }
    this.box.classList.toggle("holding", held !== null);
  }

  /** Show the read-out in the corner that is farthest from a place of the drawing. */
  read({ wordy, ...told }, key, { u, v }) {
    const out = this.readout;
    const { x, y, width, height } = this.svg.viewBox.baseVal;
    [u, v] = [u - x, v - y];
    const down = v > height * 0.55 ? "top" : v < height * 0.45 ? "bottom" : out.dataset.corner.split("-")[0];
    const side = u > width * 0.55 ? "left" : u < width * 0.45 ? "right" : out.dataset.corner.split("-")[1];
    out.dataset.corner = `${down}-${side}`;
    out.dataset.verdict = key;
    out.querySelector(".load").classList.toggle("wordy", wordy);
    say(out, told);
    out.hidden = false;
  }

  hush() { this.readout.hidden = true; }
}
