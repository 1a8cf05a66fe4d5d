// Names of the vehicle's points on the plan: of all once it is looked at closely, else of the one that is picked.
"use strict";

const SVG = "http://www.w3.org/2000/svg";
/** From so close on every point has its name. */
const CLOSE = 2;
/** Size of the letters, how far they stand off, and how near a tap has to be [css px]. */
const SIZE = 15;
const OFF = 10;
const NEAR = 28;
/** Width of a letter, about, as a share of its size. */
const LETTER = 0.56;

export class PointNames {
  constructor(plan, desk) {
    Object.assign(this, { plan, desk, picked: null });
  }

  /** Take up the point near a tap [m], or let go of the one that was picked; tells its name. */
  pick(place) {
    const near = NEAR / (this.plan.scale * this.plan.map.k);
    let [best, least] = [null, near];
    for (const point of this.desk.screen.points) {
      const away = Math.hypot(point.x - place.x, point.y - place.y);
      if (away <= least) [best, least] = [point, away];
    }
    this.picked = best?.name ?? null;
    this.draw();
    return best;
  }

  draw() {
    const { plan, desk } = this;
    const { svg } = plan;
    if (!svg || !plan.map) return;
    svg.querySelector("#point-names")?.remove();
    const held = desk.picked === null ? null : desk.stand(desk.picked)?.point;
    const close = plan.zoom.plan === plan && plan.zoom.factor >= CLOSE;
    const seen = desk.screen.points.filter((each) => plan.shows(each) && (close || each.name === this.picked || each.id === held));
    const group = document.createElementNS(SVG, "g");
    group.id = "point-names";
    const taken = this.covered();
    for (const point of seen) group.append(this.words(point, taken));
    svg.append(group);
  }

  /** What a name had better not lie on: stands, and what is written beside them. */
  covered() {
    const shapes = [...this.plan.svg.querySelectorAll('[id^="stand-"], [id^="tag-"], [id^="far-"]')];
    return shapes.map((shape) => {
      // What a finger can hit is wider than the stand.
      const boxes = [...shape.children].filter((each) => !each.classList.contains("target")).map((each) => each.getBBox());
      const [left, top] = [Math.min(...boxes.map((box) => box.x)), Math.min(...boxes.map((box) => box.y))];
      const right = Math.max(...boxes.map((box) => box.x + box.width));
      const bottom = Math.max(...boxes.map((box) => box.y + box.height));
      return { left, wide: right - left, middle: (top + bottom) / 2, high: bottom - top };
    });
  }

  /** A name beside its point, or beyond the stand that is under it, on the side where nothing else is. */
  words({ name, x, y }, taken) {
    const unit = 1 / this.plan.scale;
    const [size, wide] = [SIZE * unit, name.length * LETTER * SIZE * unit];
    const { u, v } = this.plan.at({ x, y });
    const own = taken.find((box) =>
      Math.abs(u - box.left - box.wide / 2) < box.wide / 2 && Math.abs(v - box.middle) < box.high / 2);
    const [aside, along] = own ? [own.wide / 2 + 4 * unit, own.high / 2 + 4 * unit] : [OFF * unit, OFF * unit];
    const places = [[u + aside, v], [u - aside - wide, v]];
    for (const rows of [0.5, 1.5, 2.5, 3.5]) {
      places.push([u - wide / 2, v + along + rows * size], [u - wide / 2, v - along - rows * size]);
    }
    // What reaches out of the drawing is cut off, and a name without its beginning is another name.
    const seen = this.plan.svg.viewBox.baseVal;
    const inside = places.filter(([left, middle]) => left >= seen.x && left + wide <= seen.x + seen.width &&
      middle >= seen.y + size / 2 && middle <= seen.y + seen.height - size / 2);
    const free = inside.find(([left, middle]) => taken.every((box) => left > box.left + box.wide ||
      left + wide < box.left || Math.abs(middle - box.middle) > (size + box.high) / 2)) ?? inside[0] ?? places[0];
    taken.push({ left: free[0], wide, middle: free[1], high: size });
    const text = document.createElementNS(SVG, "text");
    const told = { x: free[0], y: free[1], "font-size": size, "dominant-baseline": "middle", "aria-hidden": "true" };
    for (const [key, value] of Object.entries(told)) text.setAttribute(key, String(value));
    text.textContent = name;
    return text;
  }
}
