// What the page asks of the server: commands one after the other, none lost; positions one at a time, newest first.
"use strict";

const NOT_LET_IN = "This device is not let in any more. Load this page to type a code.";

/** Requests about one plan. */
export class Talk {
  constructor(plan, token) {
    this.root = `/plan/${plan}/`;
    this.token = token;
  }

  get(what, asked) {
    return this.send(`${this.root}${what}?${new URLSearchParams(asked)}`, { headers: {} });
  }

  post(what, body) {
    const headers = { "Content-Type": "application/json", "X-Token": this.token };
    return this.send(this.root + what, { method: "POST", headers, body: JSON.stringify(body) });
  }

  async send(address, how) {
    try {
      const answer = await fetch(address, { ...how, cache: "no-store", credentials: "same-origin" });
      // Nothing of a plan leads elsewhere: only who is not let in is sent on, to the page that asks for the code.
      if (answer.redirected) return { status: 403, told: { refused: NOT_LET_IN } };
      if (!answer.headers.get("content-type")?.includes("json")) return { status: answer.status, told: { refused: await answer.text() } };
      return { status: answer.status, told: await answer.json() };
    } catch {
      return { status: 0, told: { refused: "No answer. Is loadplan still running on its machine?" } };
    }
  }
}

/** Commands in the order in which they were given, each begun when the one before is done. */
export class Line {
  constructor() {
    this.last = Promise.resolve();
    this.waiting = 0;
  }

  push(command) {
    this.count(1);
    const mine = this.last.then(command).catch((fault) => console.error(fault)).finally(() => this.count(-1));
    this.last = mine;
    return mine;
  }

  /** How many wait; the page says so while any do. */
  count(by) {
    this.waiting += by;
    document.body.toggleAttribute("data-waiting", this.waiting > 0);
  }

  /** Wait until every command given so far, and since, is done. */
  async quiet() {
    while (this.waiting > 0) await this.last;
  }
}

/** Positions under way: one asked at a time; of those that come meanwhile only the newest is kept. */
export class Glances {
  constructor(ask, show) {
    this.ask = ask;
    this.show = show;
    this.next = null;
    this.flying = false;
    this.round = 0;
  }

  want(position) {
    this.next = position;
    if (!this.flying) this.fly();
  }

  /** Forget what is asked: its answer comes too late to be shown. */
  drop() {
    this.next = null;
    this.round += 1;
  }

  async fly() {
    this.flying = true;
    while (this.next) {
      const [sent, round] = [this.next, this.round];
      this.next = null;
      const answer = await this.ask(sent);
      if (round === this.round) this.show(answer, sent, this.next === null);
    }
    this.flying = false;
  }
}
