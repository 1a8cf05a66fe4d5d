// Looking closer at the drawing: wheel, pinch and buttons zoom, a finger or the mouse on free ground pans.
"use strict";
import { byId } from "./dom.js";

/** Closest look, and what one press of a button comes to. */
const MOST = 8;
const STEP = 1.5;
/** A pointer that goes less far than this has tapped [css px]. */
const TAP = 6;
/** Room left round the unit, as a share of its size. */
const AROUND = 1.25;

export class Zoom {
  /** `reframe` has "all" (the vehicle with its lift) or "unit" drawn instead. */
  constructor(plan, reframe) {
    Object.assign(this, { plan, reframe, factor: 1, middle: null, fingers: new Map(), first: null, panned: false, left: new Map() });
    const { box } = plan;
    box.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    box.addEventListener("pointerdown", (event) => this.down(event));
    box.addEventListener("pointermove", (event) => this.move(event));
    for (const name of ["pointerup", "pointercancel"]) box.addEventListener(name, (event) => this.up(event));
    // What was a pan is no tap on the ground.
    box.addEventListener("click", (event) => { if (this.panned) event.stopImmediatePropagation(); this.panned = false; }, true);
    byId("zoom-in").addEventListener("click", () => this.by(STEP));
    byId("zoom-out").addEventListener("click", () => this.by(1 / STEP));
    byId("zoom-unit").addEventListener("click", () => this.unit());
    byId("zoom-all").addEventListener("click", () => this.all());
  }

  /** Look at another drawing; each is found again as close as it was left. */
  look(drawing) {
    if (this.plan !== drawing) {
      this.left.set(this.plan, { factor: this.factor, middle: this.middle });
      Object.assign(this, { plan: drawing, factor: 1, middle: null }, this.left.get(drawing));
    }
    this.apply();
  }

  /** Show a fresh drawing as the last one was looked at: by the place in its middle [m], and how close. */
  apply() {
    const { svg } = this.plan;
    const [wide, high] = [Number(svg.dataset.wide), Number(svg.dataset.high)];
    const { u, v } = this.middle && this.factor > 1 ? this.plan.at(this.middle) : { u: wide / 2, v: high / 2 };
    const [width, height] = [wide / this.factor, high / this.factor];
    const left = Math.max(0, Math.min(wide - width, u - width / 2));
    const top = Math.max(0, Math.min(high - height, v - height / 2));
    svg.setAttribute("viewBox", `${left} ${top} ${width} ${height}`);
    this.middle = this.plan.place({ u: left + width / 2, v: top + height / 2 });
    byId("zoom-out").disabled = this.factor === 1;
    byId("zoom-all").disabled = this.factor === 1 && !this.seesMore;
    byId("zoom-in").disabled = this.factor === MOST;
    this.plan.sizeTargets();
  }

  /** Whether the vehicle with its lift can be drawn too, and is not. */
  get seesMore() { return this.plan.canAround && !this.plan.around; }

  all() {
    if (this.factor === 1 && this.seesMore) this.reframe("all");
    this.factor = 1;
    this.apply();
  }

  /** The stands fill the drawing. */
  unit() {
    this.factor = 1;
    this.apply();
    if (this.plan.around) { this.reframe("unit"); return; }
    const boxes = [...this.plan.svg.querySelectorAll('[id^="stand-"]')].map((each) => each.getBBox());
    if (boxes.length === 0) return;
    const [left, top] = [Math.min(...boxes.map((each) => each.x)), Math.min(...boxes.map((each) => each.y))];
    const right = Math.max(...boxes.map((each) => each.x + each.width));
    const bottom = Math.max(...boxes.map((each) => each.y + each.height));
    const { width, height } = this.plan.svg.viewBox.baseVal;
    this.middle = this.plan.place({ u: (left + right) / 2, v: (top + bottom) / 2 });
    const fits = Math.min(width / (right - left), height / (bottom - top)) / AROUND;
    this.factor = Math.max(1, Math.min(MOST, fits));
    this.apply();
  }

  /** Look closer by a factor, about a point of the window; without one, about the middle. */
  by(factor, at = null) {
    const before = at && this.plan.metres(at.across, at.down);
    this.factor = Math.max(1, Math.min(MOST, this.factor * factor));
    this.apply();
    if (!before) return;
    const after = this.plan.metres(at.across, at.down);
    this.shift(before.x - after.x, before.y - after.y);
  }

  shift(x, y) {
    this.middle = { x: this.middle.x + x, y: this.middle.y + y };
    this.apply();
  }

  wheel(event) {
    event.preventDefault();
    if (!this.plan.box.classList.contains("holding")) this.by(Math.exp(-event.deltaY / 400), at(event));
  }

  down(event) {
    // What takes hold of a stand or a sign does not pan; nor does a hand that takes a place for a stand.
    const free = !this.plan.nearest(event.clientX, event.clientY) && !event.target.closest("button");
    if (this.fingers.size === 0 && !free && event.isPrimary) {
      this.first = { id: event.pointerId, ...at(event) };
      return;
    }
    // With a second finger the first one holds nothing any more.
    if (this.first && !event.isPrimary) this.fingers.set(this.first.id, { ...this.first, from: this.first });
    this.first = null;
    this.fingers.set(event.pointerId, { ...at(event), from: at(event) });
    this.panned = false;
  }

  move(event) {
    const finger = this.fingers.get(event.pointerId);
    if (this.first?.id === event.pointerId) Object.assign(this.first, at(event));
    if (!finger || this.plan.box.classList.contains("holding")) return;
    const [one, other] = [...this.fingers.values()];
    const [wide, was] = [other && apart(one, other), this.plan.metres(finger.across, finger.down)];
    Object.assign(finger, at(event));
    this.panned ||= apart(finger, finger.from) > TAP;
    if (!this.panned) return;
    const now = this.plan.metres(finger.across, finger.down);
    if (this.factor > 1 && (other || !this.plan.turns)) this.shift((was.x - now.x) / this.fingers.size, (was.y - now.y) / this.fingers.size);
    if (other && wide > 0) this.by(apart(one, other) / wide, { across: (one.across + other.across) / 2, down: (one.down + other.down) / 2 });
  }

  up(event) {
    this.fingers.delete(event.pointerId);
    if (this.first?.id === event.pointerId) this.first = null;
    // A click follows at once, if at all.
    if (this.fingers.size === 0) setTimeout(() => { this.panned = false; }, 0);
  }
}

const at = ({ clientX, clientY }) => ({ across: clientX, down: clientY });
const apart = (one, other) => Math.hypot(one.across - other.across, one.down - other.down);
