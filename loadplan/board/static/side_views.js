// The step from the left, from the front, or in space: turned by a drag or by buttons, and let go about its edge.
"use strict";
import { Glances } from "./api.js";
import { byId, tell } from "./dom.js";

/** The picture turns by so much at a time [degrees], once a finger has gone so far [css px]. */
const TURN = 15;
const FAR = 36;
/** How far it is let go [degrees], how long it stays there and between two pictures [ms]. */
const LET_GO = 5;
const STAYS = 900;
const BETWEEN = 60;
const SIDES = ["left", "front", "turn"];

const pause = (time) => new Promise((done) => { setTimeout(done, time); });

/** What zoom asks of a drawing, for one that is only looked at: its places are units of its view box. */
class Picture {
  constructor(box, room) {
    Object.assign(this, { box, room, turns: false, around: false, canAround: false });
  }

  get svg() { return this.room.querySelector("svg"); }

  at({ x, y }) { return { u: x, v: y }; }

  place({ u, v }) { return { x: u, y: v }; }

  metres(across, down) {
    const { x, y } = new DOMPoint(across, down).matrixTransform(this.svg.getScreenCTM().inverse());
    return { x, y };
  }

  nearest() { return null; }

  sizeTargets() { /* Nothing in it is taken hold of. */ }

  show(svg) {
    const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
    if (parsed.nodeName !== "svg") return;
    this.room.replaceChildren(document.importNode(parsed, true));
    const { width, height } = this.svg.viewBox.baseVal;
    Object.assign(this.svg.dataset, { wide: width, high: height });
    this.svg.setAttribute("aria-hidden", "true");
  }
}

export class SideViews {
  /** `shown` hears when another side is looked at. */
  constructor(desk, plan, shown) {
    Object.assign(this, { desk, plan, shown, side: "plan", azimuth: 30, going: 0, grip: null, last: null });
    this.room = byId("side-view");
    this.picture = new Picture(plan.box, this.room);
    this.glances = new Glances((sent) => this.ask(sent), (answer, sent) => this.hear(answer, sent));
    for (const button of byId("views").querySelectorAll("button")) {
      button.addEventListener("click", () => this.show(button.dataset.view));
    }
    byId("turn-left").addEventListener("click", () => this.turn(-TURN));
    byId("turn-right").addEventListener("click", () => this.turn(TURN));
    byId("let-go").addEventListener("click", () => this.letGo());
    plan.box.addEventListener("pointerdown", (event) => this.down(event));
    plan.box.addEventListener("pointermove", (event) => this.move(event));
    for (const name of ["pointerup", "pointercancel"]) plan.box.addEventListener(name, () => { this.grip = null; });
    desk.painters.push(() => this.refresh());
  }

  /** Look from above ("plan"), or from a side. */
  show(side, azimuth = this.azimuth) {
    const same = side === this.side && azimuth === this.azimuth;
    if (same || !["plan", ...SIDES].includes(side)) return;
    const { plan } = this;
    Object.assign(this, { side, azimuth, going: this.going + 1 });
    plan.covered = side !== "plan";
    this.picture.turns = side === "turn";
    plan.box.dataset.view = side;
    byId("drawing").inert = plan.covered;
    this.room.hidden = !plan.covered;
    for (const button of byId("views").querySelectorAll("button")) {
      button.setAttribute("aria-pressed", String(button.dataset.view === side));
    }
    byId("turn-tools").hidden = side !== "turn";
    if (!plan.covered) plan.zoom.look(plan);
    else if (this.picture.svg) plan.zoom.look(this.picture);
    this.refresh();
    this.shown();
  }

  turn(by) { this.show("turn", (this.azimuth + by + 360) % 360); }

  refresh() {
    if (this.side === "plan") {
      this.plan.tellNote();
      return;
    }
    this.going += 1;
    const { revision } = this.desk.screen;
    if (this.last && (this.last.revision !== revision || this.last.step !== this.desk.step)) this.room.setAttribute("aria-busy", "true");
    this.glances.want({ side: this.side, azimuth: this.azimuth });
  }

  ask(sent) {
    const { desk } = this;
    const without = desk.without === null ? {} : { without: desk.without };
    return desk.talk.get("seen", { step: desk.step, around: desk.around, ...desk.size(), ...without, ...sent });
  }

  hear({ status, told }, { side, azimuth, tilt = 0 }) {
    if (side !== this.side || azimuth !== this.azimuth) return;
    if (status !== 200) {
      tell(told.refused ?? `The server answered ${status}.`);
      return;
    }
    this.last = told;
    Object.assign(this.picture, { around: told.around, canAround: told.can_around });
    this.picture.show(told.svg);
    this.plan.zoom.look(this.picture);
    this.room.setAttribute("aria-label", told.says.join(" "));
    this.room.removeAttribute("aria-busy");
    // From left and front the drawing itself says which end is which.
    byId("plan-note").textContent = side === "turn" ? `${told.says[0]} Loads as given` : "";
    byId("let-go").disabled = !told.can_tilt;
    Object.assign(this.room.dataset, { side, azimuth, tilt, step: told.step, revision: told.revision });
  }

  /** Tilt what goes over first about its edge by a few degrees, and back. */
  async letGo() {
    const { last, side, azimuth } = this;
    if (!last?.can_tilt || side !== "turn") return;
    this.going += 1;
    const mine = this.going;
    tell(last.goes);
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const tilts = still ? [LET_GO] : Array.from({ length: LET_GO }, (_, number) => number + 1);
    const seen = [{ status: 200, told: last }];
    for (const tilt of tilts) {
      const answer = await this.ask({ side, azimuth, tilt });
      if (mine !== this.going) return;
      if (answer.status !== 200) break;
      seen.push(answer);
      this.hear(answer, { side, azimuth, tilt });
      await pause(BETWEEN);
    }
    await pause(STAYS);
    for (let at = seen.length - 2; at >= 0 && mine === this.going; at -= 1) {
      this.hear(seen[at], { side, azimuth, tilt: at });
      await pause(BETWEEN);
    }
  }

  down(event) {
    if (this.side === "turn" && event.isPrimary && event.button === 0) this.grip = { across: event.clientX, pointer: event.pointerId };
  }

  /** To the right the near side goes to the right: the one who looks goes the other way round. */
  move(event) {
    const { grip } = this;
    if (grip?.pointer !== event.pointerId) return;
    if (this.plan.zoom.fingers.size > 1) this.grip = null;
    const steps = Math.trunc((event.clientX - grip.across) / FAR);
    if (steps === 0) return;
    grip.across += steps * FAR;
    this.turn(-steps * TURN);
  }
}
