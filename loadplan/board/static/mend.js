// Mending: the changes are shown first, then made as one; a tap where one more stand would help adds one there.
"use strict";
import { byId, tell } from "./dom.js";

function lines(id, texts) {
  byId(id).replaceChildren(...texts.map((text) => {
    const item = document.createElement("li");
    item.textContent = text;
    return item;
  }));
  byId(id).hidden = texts.length === 0;
}

export function wireMend(desk) {
  const [dialog, button] = [byId("mend-dialog"), byId("mend")];
  dialog.querySelector(".leave").addEventListener("click", () => dialog.close());

  const show = ({ says, changes, rest, left, can }) => {
    byId("mend-says").textContent = says;
    lines("mend-changes", changes);
    lines("mend-rest", rest);
    lines("mend-left", left);
    byId("mend-left-title").textContent = `Still to look at: ${left.length}`;
    byId("mend-left-room").hidden = left.length === 0;
    byId("mend-left-room").open = left.length < 3;
    byId("mend-sure").hidden = !can;
    tell("", { aloud: false });
    dialog.showModal();
    // What it comes to is read first: a long list must not be scrolled to its end by the focus.
    (can ? byId("mend-sure") : dialog.querySelector(".leave")).focus({ preventScroll: true });
    dialog.scrollTop = 0;
  };

  button.addEventListener("click", async () => {
    if (button.getAttribute("aria-disabled") === "true") return;
    await desk.line.quiet();
    button.setAttribute("aria-disabled", "true");
    tell("Looking for the fewest changes; that takes up to 20 seconds.");
    const { revision } = desk.screen;
    const { status, told } = await desk.talk.post("mend", { revision, step: desk.step, ...desk.size() });
    button.removeAttribute("aria-disabled");
    if (status === 200 && desk.screen.revision === revision) show(told);
    else if (status === 200) tell("The plan has changed since. Look again at what would mend it.");
    else desk.hear({ status, told }, { aloud: true });
  });
  byId("mend-sure").addEventListener("click", async () => {
    dialog.close();
    await desk.command("mended", () => ({}));
    button.focus();
  });
}

/** The middle of the cell in which one more stand would help, if a place [m] is in one. */
export function helpAt({ one_more: { cells, side } }, { x, y }) {
  const half = side / 2 + 1e-6;
  return cells.find((cell) => Math.abs(cell.x - x) <= half && Math.abs(cell.y - y) <= half) ?? null;
}
