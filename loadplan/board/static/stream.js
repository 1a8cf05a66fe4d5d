// What the server tells of its own accord. Until it was heard anew what the page shows may be old, and says so.
"use strict";
import { paintDevices, wireDevices } from "./devices.js";
import { byId, tell } from "./dom.js";

/** Heard nothing for so long [ms]: not connected; the server tells something every 3 s. */
const SILENT = 7000;

const CUT_OFF = "Not connected: what stands here may be old. Is loadplan still running on its machine?";
const BORN_ANEW = "loadplan was started again. Load this page anew.";

export class Stream {
  constructor(desk) {
    this.desk = desk;
    this.source = null;
    this.timer = null;
    this.heard = null;
    this.born = null;
    this.tried = "";
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
    if (told.going) return this.lose();
    this.born ??= told.born;
    this.heard = told;
    paintDevices(told.devices);
    if (this.born !== told.born) this.paint(BORN_ANEW);
    else this.paint(told.changed.length ? `${told.changed.join(" and ")} changed on the disk: read again.` : "");
    return this.follow(told);
  }

  /** Do what news asks for; while commands are under way once they are done, unless there is other news by then. */
  async follow(told) {
    await this.desk.line.quiet();
    if (this.heard !== told || this.born !== told.born || document.body.dataset.pending !== undefined) return null;
    if (told.changed.length && !told.own && this.tried !== told.state) return this.readAgain();
    // Revisions only grow: an older one was told before this window's own last change was made.
    if (told.revision > this.desk.screen.revision || this.desk.screen.svg === "") return this.desk.show({ aloud: true });
    return null;
  }

  /** A vehicle's or a shop's file that changed takes nothing of the draft away: it is judged anew at once, and once. */
  readAgain() {
    this.tried = this.heard?.state ?? "";
    return this.desk.reread();
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
