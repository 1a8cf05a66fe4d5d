// Mouse, pen and finger on the drawing: dragging stands and signs, tapping in places.
"use strict";

/** A pointer that goes less far than this has tapped [css px]. */
const TAP = 6;

export class Hand {
  constructor(desk, plan, hold, tapped) {
    Object.assign(this, { desk, plan, hold, tapped, grip: null });
    const { box } = plan;
    box.addEventListener("pointerdown", (event) => this.down(event));
    box.addEventListener("pointermove", (event) => this.move(event));
    box.addEventListener("pointerup", (event) => this.up(event));
    box.addEventListener("pointercancel", (event) => this.cancel(event));
    box.addEventListener("lostpointercapture", (event) => this.cancel(event));
    box.addEventListener("click", (event) => this.click(event));
    box.addEventListener("touchstart", (event) => this.touch(event), { passive: false });
  }

  /** A finger on what can be dragged scrolls nothing, also where a browser takes no touch-action on shapes. */
  touch(event) {
    const [finger] = event.changedTouches;
    if (this.desk.mode === "move" && this.plan.nearest(finger.clientX, finger.clientY)) event.preventDefault();
  }

  down(event) {
    // A second finger is no drag but a closer look: the stand under the first one stays where it was.
    if (this.grip && !event.isPrimary) this.escape();
    if (this.grip || !event.isPrimary || event.button !== 0 || this.desk.mode !== "move") return;
    const target = this.plan.nearest(event.clientX, event.clientY);
    if (!target) return;
    const { stand, body } = target.dataset;
    const at = this.plan.metres(event.clientX, event.clientY);
    const grip = { pointer: event.pointerId, across: event.clientX, down: event.clientY, at, far: false };
    if (stand !== undefined) {
      if (this.hold.held) this.hold.drop();
      if (!this.hold.begin(Number(stand), "hand")) return;
      const { x, y } = this.hold.place(Number(stand));
      this.grip = { ...grip, stand: Number(stand), off: { x: x - at.x, y: y - at.y } };
    } else {
      this.grip = { ...grip, body: Number(body) };
    }
    this.plan.box.setPointerCapture(event.pointerId);
    target.focus({ preventScroll: true, focusVisible: false });
    event.preventDefault();
  }

  move(event) {
    const { grip } = this;
    if (grip?.pointer !== event.pointerId) return;
    if (!grip.far && Math.hypot(event.clientX - grip.across, event.clientY - grip.down) < TAP) return;
    grip.far = true;
    const at = this.plan.metres(event.clientX, event.clientY);
    if (grip.stand === undefined) this.moveSign(grip, at);
    else if (this.hold.held) this.hold.to(at.x + grip.off.x, at.y + grip.off.y, this.plan.snap);
  }

  moveSign(grip, at) {
    const { k } = this.plan.map;
    grip.by = { forward: at.x - grip.at.x, left: at.y - grip.at.y };
    this.plan.shift([`cg-${grip.body}`], -grip.by.left * k, -grip.by.forward * k);
  }

  up(event) {
    const { grip } = this;
    if (grip?.pointer !== event.pointerId) return;
    this.grip = null;
    this.quietClick = true;
    setTimeout(() => { this.quietClick = false; }, 0);
    if (grip.stand !== undefined) {
      if (this.hold.held) this.hold.drop();
      if (!grip.far) this.tapped(grip.stand);
    } else if (grip.by) {
      this.desk.change({ kind: "cg", body: grip.body, together: true, ...grip.by }).then((taken) => taken || this.plan.unshift());
    }
  }

  cancel(event) {
    if (this.grip?.pointer !== event.pointerId) return;
    const { stand } = this.grip;
    this.grip = null;
    if (stand === undefined) this.plan.unshift();
    else this.hold.back();
  }

  /** Let go by the Escape key. */
  escape() {
    if (!this.grip) return;
    const { pointer } = this.grip;
    this.cancel({ pointerId: pointer });
    this.plan.box.releasePointerCapture(pointer);
  }

  click(event) {
    if (this.quietClick || !this.plan.svg || this.plan.covered) return;
    const target = this.plan.nearest(event.clientX, event.clientY);
    if (this.desk.mode === "add") this.tapped(null, this.plan.metres(event.clientX, event.clientY));
    else if (this.desk.mode === "away" && target?.dataset.stand) this.tapped(Number(target.dataset.stand));
    else if (this.desk.mode === "move" && !target) this.tapped(null, this.plan.metres(event.clientX, event.clientY));
  }
}
