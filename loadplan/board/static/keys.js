// The keyboard on the drawing: arrow keys batch into glances, and are set down when they rest.
"use strict";

/** What an arrow key moves by, alone and with Shift [m]: 5 and 50 mm, or 1/8 and 1 in. */
export const STEP = { metric: { small: 0.005, large: 0.05 }, us: { small: 0.003175, large: 0.0254 } };
/** How long the keys rest before a stand is set down [ms]. */
const REST = 400;
const ACTS = { Enter: "open", " ": "pick", d: "duplicate", Delete: "remove", Backspace: "remove" };
const WAYS = { ArrowUp: [1, 0], ArrowDown: [-1, 0], ArrowLeft: [0, 1], ArrowRight: [0, -1] };

export class Keys {
  constructor(desk, plan, hold, acts) {
    Object.assign(this, { desk, plan, hold, acts, timer: null, sign: null });
    plan.drawing.addEventListener("keydown", (event) => this.onTarget(event));
    plan.drawing.addEventListener("focusout", () => { if (!plan.swapping) this.rest(); });
    plan.drawing.addEventListener("focusin", (event) => this.onFocus(event));
    document.addEventListener("keydown", (event) => this.onPage(event));
  }

  onFocus(event) {
    const id = event.target.dataset?.stand;
    if (id !== undefined && !this.plan.swapping && this.desk.picked !== Number(id)) this.desk.pick(Number(id));
  }

  onTarget(event) {
    const target = event.target.closest?.(".target");
    if (!target || event.ctrlKey || event.metaKey || event.altKey) return;
    const way = WAYS[event.key];
    const done = target.dataset.stand === undefined
      ? way && this.moveSign(Number(target.dataset.body), way, event.shiftKey)
      : this.onStand(Number(target.dataset.stand), event, way);
    if (done) event.preventDefault();
  }

  onStand(id, event, way) {
    if (this.desk.mode === "away") return (event.key === "Enter" || event.key === " ") && this.acts.tap(id);
    if (way) return this.move(id, way, event.shiftKey);
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    if (key === "Escape") return this.escape();
    const act = key === "p" ? (event.shiftKey ? "last" : "next") : ACTS[key];
    if (!act) return false;
    this.rest();
    this.acts.doTo(act, id);
    return true;
  }

  move(id, [ahead, left], far) {
    const { hold } = this;
    if (hold.held && hold.held.id !== id) this.rest();
    if (!hold.held && !hold.begin(id, "keys")) return true;
    if (hold.held.by !== "keys") return true;
    const by = this.step(far);
    hold.to(hold.held.x + ahead * by, hold.held.y + left * by, 0);
    this.wait();
    return true;
  }

  step(far) { return STEP[this.desk.screen.units === "us" ? "us" : "metric"][far ? "large" : "small"]; }

  moveSign(body, [ahead, left], far) {
    const by = this.step(far);
    if (this.sign && this.sign.body !== body) this.rest();
    const was = this.sign ?? { body, forward: 0, left: 0 };
    this.sign = { body, forward: was.forward + ahead * by, left: was.left + left * by };
    const { k } = this.plan.map;
    this.plan.shift([`cg-${body}`], -this.sign.left * k, -this.sign.forward * k);
    this.wait();
    return true;
  }

  wait() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.rest(), REST);
  }

  /** The keys rest: what they moved is set down. */
  rest() {
    clearTimeout(this.timer);
    if (this.hold.held?.by === "keys") this.hold.drop();
    if (!this.sign) return;
    const { sign } = this;
    this.sign = null;
    this.desk.change({ kind: "cg", ...sign }).then((taken) => taken || this.plan.unshift());
  }

  escape() {
    clearTimeout(this.timer);
    const had = this.hold.held || this.sign;
    this.sign = null;
    if (this.hold.held) this.hold.back();
    else this.plan.unshift();
    return Boolean(had);
  }

  /** Keys that count anywhere on the page, unless somebody writes. */
  onPage(event) {
    if (document.querySelector("dialog[open]") || event.defaultPrevented) return;
    const key = event.key.toLowerCase();
    const writes = event.target.closest?.("input[type=text], textarea");
    if ((event.ctrlKey || event.metaKey) && !event.altKey) {
      const act = { z: event.shiftKey ? "redo" : "undo", y: "redo", s: "save" }[key];
      if (!act || (writes && act !== "save")) return;
      event.preventDefault();
      this.rest();
      this.acts[act]();
    } else if (key === "escape") {
      this.acts.escape();
    } else if (["pageup", "pagedown"].includes(key) && event.target.closest?.(".plan-room")) {
      event.preventDefault();
      this.rest();
      this.desk.goTo(this.desk.step + (key === "pagedown" ? 1 : -1));
    }
  }
}
