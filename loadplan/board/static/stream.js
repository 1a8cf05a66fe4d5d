// What the server tells of its own accord. Until it was heard anew what the page shows may be old, and says so.
"use strict";
import { paintDevices, wireDevices } from "./devices.js";
import { byId, tell } from "./dom.js";

/** Heard nothing for so long [ms]: not connected; the server tells something every 3 s. */
const SILENT = 7000;

const CUT_OFF = "Not connected: what stands here may be old. Is loadplan still running on its machine?";
const BORN_ANEW = "loadplan was started again. Load this page anew.";
const FROM_BEFORE = "What stands here is from before, and not to be relied on.";
const SENT_AWAY = "This device was sent away: what stands here may be old, and nothing is taken from it any more. Load this page to type a new code.";

export class Stream {
  constructor(desk) {
    this.desk = desk;
    this.source = null;
    this.timer = null;
    this.heard = null;
    this.born = null;
    this.tried = null;
    this.why = "";
    this.behind = null;
    this.away = false;
    this.kept = null;
  }

  /** Listen while the page is seen: a browser keeps few connections, and a hidden page shows nobody anything old. */
  begin() {
    wireDevices(this.desk);
    const listen = () => (document.hidden ? this.end() : this.open());
    document.addEventListener("visibilitychange", listen);
    byId("read-again").addEventListener("click", () => this.readAgain());
    for (const id of ["print", "download"]) byId(id).addEventListener("click", (event) => this.refuse(event));
    this.desk.painters.push(() => document.body.toggleAttribute("data-what-if", this.desk.screen.what_if !== ""));
    listen();
  }

  open() {
    this.end();
    if (this.away) return;
    this.source = new EventSource(`${this.desk.talk.root}stream`);
    this.source.onmessage = (event) => this.hear(JSON.parse(event.data));
    this.source.onerror = () => this.lose();
    this.expect();
  }

  end() {
    this.source?.close();
    clearTimeout(this.timer);
    this.heard = null;
  }

  expect() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.lose(), SILENT);
  }

  lose() {
    this.heard = null;
    this.paint(CUT_OFF);
  }

  hear(told) {
    this.expect();
    if (told.sent_away) return this.leave();
    if (told.going) return this.lose();
    this.born ??= told.born;
    this.heard = told;
    paintDevices(told.devices);
    if (this.born !== told.born) return this.paint(BORN_ANEW);
    this.say();
    return this.follow(told);
  }

  /** Do what news asks for; while commands are under way once they are done, unless there is other news by then. */
  async follow(told) {
    await this.desk.line.quiet();
    if (this.heard !== told || document.body.dataset.pending !== undefined) return null;
    if (told.changed.length && !told.own && this.tried !== told.state) return this.readAgain();
    // Revisions only grow: an older one was told before this window's own last change was made.
    const behind = told.revision > this.desk.screen.revision && this.behind !== told.revision;
    // What was read, or moved, at the bay counts in what is shown; asked for once, also where that is refused.
    const atBay = told.record !== this.desk.screen.record && told.record !== this.kept;
    if (atBay) this.kept = told.record;
    return behind || atBay || this.desk.screen.svg === "" ? this.catchUp() : null;
  }

  /** Nothing comes any more, and nothing is asked for: the browser would ask without end. */
  leave() {
    this.away = true;
    this.end();
    this.paint(SENT_AWAY);
  }

  /** Say of what is heard that the page does not show: files that changed, or a state that cannot be shown, with why. */
  say() {
    const { changed, revision, state } = this.heard;
    if (!changed.length) this.tried = null;
    if (state !== this.tried) this.why = "";
    if (changed.length) this.paint(`${changed.join(" and ")} changed on the disk: ${this.why ? `cannot be read again. ${this.why}` : "read again."}`);
    else if (revision === this.behind && revision > this.desk.screen.revision) this.paint(`${FROM_BEFORE} ${this.desk.refused}`);
    else this.paint("");
  }

  /** Show the plan as it is by now; once, where that is refused: the band goes on saying so. */
  async catchUp() {
    const { revision } = this.heard;
    await this.desk.show({ aloud: true });
    this.behind = this.desk.refused !== "" && revision > this.desk.screen.revision ? revision : null;
    if (this.heard?.revision === revision) this.say();
  }

  /** A vehicle's or a shop's file that changed takes nothing of the draft away: it is judged anew at once, and once. */
  async readAgain() {
    this.tried = this.heard?.state ?? "";
    this.why = (await this.desk.reread()) ? "" : this.desk.refused;
    if (this.heard) this.say();
  }

  paint(says) {
    document.body.toggleAttribute("data-stale", says !== "");
    if (byId("stale-says").textContent !== says) byId("stale-says").textContent = says;
    byId("stale").hidden = says === "";
    byId("read-again").hidden = !this.heard?.changed?.length;
  }

  refuse(event) {
    const stale = document.body.hasAttribute("data-stale") ? byId("stale-says").textContent : "";
    const tried = this.desk.screen.what_if === "" ? "" : "what is tried out is not printed.";
    if (!stale && !tried) return;
    event.preventDefault();
    tell(`Not printed: ${stale || tried}`);
  }
}
