// Cures under the findings: each is judged on a copy of the plan first, and offered only where it helps and nothing gets
// worse in any step; of another one it is said what it would leave or bring.
"use strict";
import { byId } from "./dom.js";

/** Longest time in which cures of one screen are begun to be judged [ms]. */
const BUDGET = 8000;
const LATE = "Not judged in time. Done by hand, look at all steps.";

export class Cures {
  constructor(desk) {
    Object.assign(this, { desk, round: 0, known: new Map() });
    byId("pane-findings").addEventListener("click", (event) => {
      const button = event.target.closest(".cure[data-change]");
      if (button) desk.change(JSON.parse(button.dataset.change));
    });
  }

  /** Judge the cures of the findings on the screen, those of the step in view first, and show each as it is judged. */
  async paint() {
    const mine = ++this.round;
    const { revision, findings } = this.desk.screen;
    const rows = [...byId("findings").children, ...byId("elsewhere").children];
    const ordered = [...findings.filter((each) => each.here !== false), ...findings.filter((each) => each.here === false)];
    const until = Date.now() + BUDGET;
    // With a stand taken away as a what-if the findings are not those of the plan that a cure would change.
    if (this.desk.without !== null) return;
    document.body.dataset.judging = "";
    for (const [number, { cures, against }] of ordered.entries()) {
      const room = rows[number]?.querySelector(".cures");
      for (const cure of room ? cures : []) {
        const answer = await this.judged({ revision, change: cure.change, against }, until);
        if (mine !== this.round || answer === null) return;
        room.append(answer.helps ? offered(cure) : told(cure, answer.brings));
      }
    }
    delete document.body.dataset.judging;
  }

  /** What comes of a cure; null where the plan is another one by now. */
  async judged(asked, until) {
    const key = JSON.stringify([asked, this.desk.step]);
    if (this.known.has(key)) return this.known.get(key);
    if (Date.now() > until) return { helps: false, brings: LATE };
    const { status, told: answer } = await this.desk.talk.post("judge", { ...asked, step: this.desk.step });
    if (status === 409) return null;
    const found = status === 200 ? answer : { helps: false, brings: answer.refused ?? LATE };
    if (this.known.size > 200) this.known.clear();
    if (status === 200) this.known.set(key, found);
    return found;
  }
}

function offered(cure) {
  const button = document.createElement("button");
  Object.assign(button, { type: "button", className: "cure", textContent: cure.says });
  button.dataset.change = JSON.stringify(cure.change);
  return button;
}

function told(cure, brings) {
  const line = document.createElement("span");
  Object.assign(line, { className: "soft not-offered", textContent: `${cure.says}: not offered. ${brings}` });
  return line;
}
