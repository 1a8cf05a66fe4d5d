// A stand held by hand or keys: it goes along with its numbers, and is set down or put back.
"use strict";
import { byId, tell } from "./dom.js";
import { Glances } from "./api.js";
import { paintBand, paintMargin } from "./numbers.js";
import { paintMoved } from "./stand_form.js";
import { paintRow } from "./stands.js";

/** While something is held the band keeps its height, so that the plan does not slip from under the hand. */
function keepHeight(on) {
  const band = byId("band");
  band.style.minHeight = on ? `${band.offsetHeight}px` : "";
}

export class Hold {
  constructor(desk, plan) {
    this.desk = desk;
    this.plan = plan;
    this.held = null;
    this.late = null;
    this.wished = new Map();
    this.glances = new Glances((sent) => this.ask(sent), (answer, sent, newest) => this.hear(answer, sent, newest));
  }

  /** Where a stand is, or is on its way to [m]. */
  place(id) {
    const stand = this.desk.stand(id);
    return this.wished.get(stand.name) ?? stand;
  }

  begin(id, by) {
    const stand = this.desk.stand(id);
    if (!stand || this.held) return false;
    const { x, y } = this.place(id);
    this.held = { id, name: stand.name, by, x, y, snap: 0, drawn: this.plan.at(this.plan.places.get(stand.name) ?? stand), moved: false };
    keepHeight(true);
    tell("", { aloud: false });
    this.desk.pick(id);
    this.plan.mark(id, id);
    return true;
  }

  /** Take the held stand to a place [m], which snaps to a point of the vehicle within `snap` [m]. */
  to(x, y, snap) {
    const { held } = this;
    Object.assign(held, { x, y, snap, moved: true });
    const point = snap > 0 ? this.pointNear(x, y, snap) : null;
    this.draw(this.plan.at(point ?? held));
    document.body.dataset.pending = "";
    paintMoved(this.desk, point ? { ...point, name: held.name } : held);
    byId(`row-${held.id}`).parentElement.classList.add("held");
    this.glances.want({ stand: held.id, x, y, snap });
  }

  pointNear(x, y, snap) {
    let [best, least] = [null, snap];
    for (const point of this.desk.screen.points) {
      const away = Math.hypot(point.x - x, point.y - y);
      if (away <= least) [best, least] = [point, away];
    }
    return best;
  }

  draw({ u, v }) {
    const { id, drawn } = this.held;
    this.held.now = { u, v };
    this.plan.shift([`stand-${id}`, `tag-${id}`, `leader-${id}`], u - drawn.u, v - drawn.v);
  }

  async ask(sent) {
    await this.desk.line.quiet();
    const { revision, map: { wide, high } } = this.desk.screen;
    return this.desk.talk.post("glance", { revision, step: this.desk.step, around: this.desk.around, wide, high, ...sent });
  }

  hear({ status, told }, sent, newest) {
    if (!this.held || this.held.id !== sent.stand) return;
    if (status === 409 || status === 0) {
      this.back();
      this.desk.hear({ status, told }, { aloud: false });
    } else if (status === 200) {
      this.apply(told, sent, newest);
    }
  }

  apply(glance, sent, newest) {
    const began = performance.now();
    const { desk, plan, held } = this;
    paintBand(glance.verdict, glance.margin, desk, { pending: true });
    paintMargin(glance.margin, desk);
    const rows = byId("stands").children;
    for (const each of glance.stands) {
      const item = rows[desk.screen.stands.findIndex((stand) => stand.id === each.id)];
      if (item) paintRow(item, each, !desk.given);
    }
    plan.box.dataset.verdict = glance.margin?.key ?? "holds";
    plan.loads(glance.stands, !desk.given);
    plan.lines(glance.lines);
    plan.first(glance.nearest);
    if (newest && glance.at) this.draw(glance.at);
    this.read(glance, desk.stand(held.id));
    document.dispatchEvent(new CustomEvent("board:glance", { detail: { ...sent, took: performance.now() - began } }));
  }

  read(glance, stand) {
    const mine = glance.stands.find((each) => each.id === stand.id);
    const margin = glance.margin ? (this.desk.given ? glance.margin.given : glance.margin.worst).words : "";
    const place = glance.snapped ? `at ${glance.snapped}` : [glance.under && `under ${glance.under}`, glance.place].filter(Boolean).join("; ");
    const told = { name: stand.name, load: mine?.load || "load not known", wordy: !mine?.load || mine.load_is_nothing, margin, word: glance.verdict.word, place };
    this.plan.read(told, glance.verdict.key, this.held.now ?? this.held.drawn);
  }

  /** Set the held stand down where it is: the plan takes it or it goes back. */
  async drop() {
    const { id, name, x, y, snap, moved } = this.held;
    this.let();
    if (!moved) {
      this.catchUp();
      return;
    }
    const wish = { x, y };
    this.wished.set(name, wish);
    await this.desk.change({ kind: "move", stand: id, x, y, snap });
    if (this.wished.get(name) === wish) this.wished.delete(name);
  }

  /** Put the held stand back where it was, and the numbers with it. */
  back() {
    if (!this.held) return;
    const { moved } = this.held;
    this.let();
    this.plan.unshift();
    this.catchUp();
    if (moved) {
      this.desk.paint({ aloud: false });
      tell("Put back.");
    }
  }

  let() {
    keepHeight(false);
    byId(`row-${this.held.id}`)?.parentElement.classList.remove("held");
    this.held = null;
    this.glances.drop();
    this.plan.hush();
    this.plan.mark(this.desk.picked, null);
  }

  /** Show a screen's drawing; while a hand holds a stand, once it lets go. */
  swap(screen) {
    this.find(screen);
    const undrawn = screen.svg === "";
    if (undrawn || (this.held?.by === "hand" && screen.step === this.step)) {
      this.late = undrawn ? null : screen;
      this.plan.outdate();
      this.plan.mark(this.desk.picked, this.held?.id ?? null);
      // The numbers that came are those of the place that it has left.
      if (this.held?.moved) this.to(this.held.x, this.held.y, this.held.snap);
      return;
    }
    this.late = null;
    this.step = screen.step;
    this.plan.swap(screen);
    this.plan.loads(screen.stands.filter((each) => each.here), !this.desk.given);
    this.plan.distances(screen.far, this.desk.given);
    this.resume();
  }

  /** The held stand may have another number on a new screen, or be gone from it. */
  find(screen) {
    if (!this.held) return;
    const now = screen.stands.find((each) => each.name === this.held.name);
    if (now) this.held.id = now.id;
    else this.let();
  }

  /** After a swap, a stand moved by keys is drawn where the keys took it. */
  resume() {
    const { held, desk, plan } = this;
    const stand = held && desk.stand(held.id);
    if (stand) {
      held.drawn = plan.at(stand);
      if (held.moved) this.to(held.x, held.y, held.snap);
    }
    plan.mark(desk.picked, this.held?.id ?? null);
  }

  catchUp() {
    if (this.late) this.swap(this.late);
  }
}
