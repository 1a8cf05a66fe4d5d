// The plan in view: its screen, its step, its switches; everything that changes it goes through here.
"use strict";
import { announce, byId, tell } from "./dom.js";
import { Line, Talk } from "./api.js";

export class Desk {
  constructor(plan, token, screen) {
    this.talk = new Talk(plan, token);
    this.line = new Line();
    this.screen = screen;
    this.step = screen.step;
    this.without = null;
    this.around = "auto";
    this.given = false;
    this.mode = "move";
    this.picked = null;
    this.home = new Map();
    this.keepHome(screen);
    this.size = () => ({ wide: 900, high: 600 });
    this.painters = [];
    this.pickers = [];
    this.showing = 0;
    this.refused = "";
  }

  stand(id) {
    return this.screen.stands.find((each) => each.id === id) ?? null;
  }

  /**
   * Give a command that changes the plan. Resolves to whether the plan took it. A stand is meant by its name: commands
   * before this one may give it another number, or take it away.
   */
  change(change) {
    this.leaveWithout();
    const name = this.stand(change.stand)?.name;
    if (change.stand === undefined) return this.command("change", () => ({ change }));
    // A stand that was let go of lies where it is to be in the drawing that is there: the numbers wait for no other.
    // Nor for the browser to lay out what the last glance wrote, only to say how large a drawing would be.
    const { wide, high } = this.screen.map;
    const drawing = change.kind === "move" ? { drawing: "later", wide, high } : {};
    return this.command("change", () => {
      const now = this.screen.stands.find((each) => each.name === name);
      return now ? { change: { ...change, stand: now.id }, ...drawing } : null;
    });
  }

  undo() { this.leaveWithout(); return this.command("undo", () => ({})); }

  redo() { this.leaveWithout(); return this.command("redo", () => ({})); }

  reread() { this.leaveWithout(); return this.command("reread", () => ({})); }

  /** What is changed is changed in the plan with all its stands. */
  leaveWithout() {
    this.without = null;
  }

  command(what, telling) {
    return this.line.push(async () => {
      const { revision } = this.screen;
      const more = telling();
      if (!more) return false;
      const size = "wide" in more ? {} : this.size();
      const answer = await this.talk.post(what, { revision, step: this.step, around: this.around, ...size, ...more });
      return this.hear(answer, { aloud: true });
    });
  }

  /** Go to a step; taps that come quickly all count. */
  goTo(step) {
    const to = Math.max(0, Math.min(step, this.screen.steps.length - 1));
    if (to === this.step) return null;
    this.step = to;
    this.paintStep();
    return this.show({ aloud: true });
  }

  /** Ask for the screen of the step in view, at the plan box's size. */
  show({ aloud = false } = {}) {
    this.showing += 1;
    return this.line.push(async () => {
      this.showing -= 1;
      if (this.showing > 0) return;
      const without = this.without === null ? {} : { without: this.without };
      this.hear(await this.talk.get("screen", { step: this.step, around: this.around, ...this.size(), ...without }), { aloud });
    });
  }

  /** Take an answer: the new screen, or why there is none. */
  hear({ status, told }, { aloud }) {
    this.refused = status === 200 || told.stale ? "" : told.refused ?? `The server answered ${status}.`;
    if (status === 200) {
      this.take(told, { aloud });
      return true;
    }
    if (told.stale && told.screen) {
      this.without = null;
      this.take(told.screen, { aloud: false });
      tell("The plan was changed in another window. This is how it is now; give your change again.");
      return false;
    }
    // What stays in view is the step that was there: it must not stand under the name of the one that was asked for.
    if (this.showing === 0) this.step = this.screen.step;
    this.paint({ aloud: false });
    tell(this.refused);
    return false;
  }

  /** Where the file has each stand: what it was moved by counts from there. */
  keepHome(screen) {
    for (const { name, x, y } of screen.stands) {
      if (!screen.unsaved || !this.home.has(name)) this.home.set(name, { x, y });
    }
  }

  take(screen, { aloud }) {
    this.keepHome(screen);
    const before = this.screen.stands;
    // The drawing that comes after the numbers is no news: what was said of the change stays.
    const { svg, revision } = this.screen;
    this.screen = svg === "" && revision === screen.revision ? { ...screen, said: "" } : screen;
    if (this.showing === 0) this.step = screen.step;
    this.picked = this.newStand(before) ?? this.sameStand(before, this.picked);
    this.paint({ aloud });
    // Numbers came by themselves: their drawing is asked for before anything else is.
    if (screen.svg === "") this.show();
  }

  /** The number, now, of a stand that had another number before: by its name. */
  sameStand(before, id) {
    const name = before.find((each) => each.id === id)?.name;
    return this.screen.stands.find((each) => each.name === name)?.id ?? null;
  }

  /** The number of the one stand that was not there before: it is taken in hand. */
  newStand(before) {
    const names = new Set(before.map((each) => each.name));
    const fresh = this.screen.stands.filter((each) => !names.has(each.name));
    return fresh.length === 1 ? fresh[0].id : null;
  }

  paint({ aloud }) {
    delete document.body.dataset.pending;
    for (const painter of this.painters) painter(this);
    if (this.screen.said) tell(this.screen.said, { aloud: false });
    const { said, verdict } = this.screen;
    if (aloud) announce(`${said} ${verdict.word}. ${verdict.reason}`.trim());
    document.dispatchEvent(new CustomEvent("board:screen", { detail: { revision: this.screen.revision } }));
  }

  /** Show which step is asked for before its numbers come. */
  paintStep() {
    byId("step-number").textContent = String(this.step + 1);
    byId("step-name").textContent = this.screen.steps[this.step].name;
    for (const button of byId("strip").querySelectorAll("button")) {
      if (Number(button.dataset.step) === this.step) button.setAttribute("aria-current", "step");
      else button.removeAttribute("aria-current");
    }
    byId("step-back").disabled = this.step === 0;
    byId("step-on").disabled = this.step === this.screen.steps.length - 1;
  }

  pick(id) {
    this.picked = id;
    for (const painter of this.pickers) painter(this);
  }
}
