// Changing a stand while the unit stands on it: the steps are shown first, each with its state, then put in as one.
"use strict";
import { byId, fillChoice } from "./dom.js";

/** One step: what to do, what it comes to, and what still cautions then. */
function stepItem({ says, then, cautions }) {
  const item = document.createElement("li");
  item.append(...[says, then, ...cautions].map((text, index) => {
    const line = document.createElement("p");
    line.textContent = text;
    line.className = index ? "soft" : "";
    return line;
  }));
  return item;
}

function textItem(text) {
  const item = document.createElement("li");
  item.textContent = text;
  return item;
}

export function wireSwap(desk) {
  const dialog = byId("swap-dialog");
  let [stand, asked] = [null, 0];
  dialog.querySelector(".leave").addEventListener("click", () => dialog.close());

  const show = ({ says, steps = [], rest = [], can = false }) => {
    byId("swap-says").textContent = says;
    byId("swap-steps").replaceChildren(...steps.map(stepItem));
    byId("swap-rest").replaceChildren(...rest.map(textItem));
    byId("swap-sure").hidden = !can;
  };

  byId("swap").addEventListener("click", () => {
    stand = desk.stand(desk.picked);
    if (!stand) return;
    byId("swap-title").textContent = `Change ${stand.name} while the unit stands on it`;
    const pieces = desk.screen.equipment.map((each) => [each.id, `${each.name}: ${each.about}`]);
    fillChoice(byId("swap-with"), [["none", "Nothing: it is taken away"], ...pieces], stand.equipment);
    show({ says: `In step ${desk.step + 1}. What takes the load meanwhile is looked for, and each state on the way judged.` });
    dialog.showModal();
  });
  byId("swap-with").addEventListener("change", () => { asked += 1; show({ says: "" }); });
  byId("swap-look").addEventListener("click", async () => {
    const mine = ++asked;
    show({ says: "Looking for a way." });
    await desk.line.quiet();
    const value = byId("swap-with").value, incoming = value === "none" ? null : Number(value);
    const window = { revision: desk.screen.revision, step: desk.step, ...desk.size() };
    const { status, told } = await desk.talk.post("swap", { ...window, stand: stand.id, incoming });
    if (mine !== asked || !dialog.open) return;
    if (status === 200) show(told);
    else if (told.stale) { dialog.close(); desk.hear({ status, told }, { aloud: true }); }
    else show({ says: told.refused ?? `The server answered ${status}.` });
  });
  byId("swap-sure").addEventListener("click", () => { dialog.close(); desk.command("swapped", () => ({})); });
}
