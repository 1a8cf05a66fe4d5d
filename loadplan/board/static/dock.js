// The sheet that is docked with the plan: its heights, and which of its panes is seen.
"use strict";
import { byId } from "./dom.js";

/** Where the sheet goes from each height, and what its handle says then. */
const NEXT = { handle: "half", half: "full", full: "handle" };
const SAYS = { handle: "Sheet down: raise it", half: "Sheet half up: raise it", full: "Sheet fully up: take it down" };
const UP = { handle: "half", half: "full", full: "full" };
const DOWN = { full: "half", half: "handle", handle: "handle" };
/** A finger that goes less far than this has tapped the handle [css px]. */
const TAP = 12;

export class Dock {
  /** `shown` hears which pane is seen. */
  constructor(shown) {
    this.dock = byId("dock");
    this.shown = shown;
    this.tabs = [...this.dock.querySelectorAll("[role=tab]")];
    this.pulled = false;
    this.pane = "stands";
    const handle = byId("dock-handle");
    let from = null;
    handle.addEventListener("pointerdown", (event) => { from = event.clientY; handle.setPointerCapture(event.pointerId); });
    handle.addEventListener("pointerup", (event) => this.pull(event.clientY - from));
    handle.addEventListener("click", () => { if (!this.pulled) this.set(NEXT[this.dock.dataset.height]); this.pulled = false; });
    handle.addEventListener("keydown", (event) => {
      if (event.key === "ArrowUp") this.pull(-TAP * 2);
      if (event.key === "ArrowDown") this.pull(TAP * 2);
      this.pulled = false;
    });
    for (const tab of this.tabs) {
      tab.addEventListener("click", () => { this.show(tab.id.slice(4)); this.raise(); });
      tab.addEventListener("keydown", (event) => this.turn(tab, event));
    }
  }

  /** Up or down by one height, as far as the handle was pulled [css px, down]. */
  pull(by) {
    this.pulled = Math.abs(by) >= TAP;
    if (this.pulled) this.set((by < 0 ? UP : DOWN)[this.dock.dataset.height]);
  }

  set(height) {
    this.dock.dataset.height = height;
    byId("dock-says").textContent = SAYS[height];
  }

  /** What is asked for is seen: a sheet that is down comes up half. */
  raise() {
    if (this.dock.dataset.height === "handle") this.set("half");
  }

  show(pane) {
    for (const tab of this.tabs) {
      const mine = tab.id === `tab-${pane}`;
      if (mine && byId(`pane-${pane}`).hidden) byId("panes").scrollTop = 0;
      tab.setAttribute("aria-selected", String(mine));
      tab.tabIndex = mine ? 0 : -1;
      byId(tab.getAttribute("aria-controls")).hidden = !mine;
    }
    this.pane = pane;
    this.shown(pane);
  }

  /** Left and right go from tab to tab. */
  turn(tab, event) {
    const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (!by) return;
    event.preventDefault();
    const next = this.tabs[(this.tabs.indexOf(tab) + by + this.tabs.length) % this.tabs.length];
    this.show(next.id.slice(4));
    next.focus();
  }
}
