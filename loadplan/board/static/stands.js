// One row a stand, and the small form in which a stand is set up.
"use strict";
import { byId, fillChoice, fillList, say, withUnit } from "./dom.js";

/** The load that a stand shows large, whether that is none, and what it shows small. */
export function loadsOf(stand, worst) {
  if (stand.load === "") return { big: "", none: false, other: "load not known" };
  const most = stand.most || "counted when you let go";
  if (!worst || !stand.most) return { big: stand.load, none: stand.load_is_nothing, other: `most on this floor ${most}` };
  const carries = stand.load_is_nothing ? stand.load : `carries ${stand.load}`;
  return {
    big: stand.most_is_nothing ? "carries nothing" : stand.most,
    none: stand.most_is_nothing,
    other: `most on this floor; ${carries}`,
  };
}

export function paintRow(item, stand, worst) {
  item.dataset.verdict = stand.verdict;
  const { big, none, other } = loadsOf(stand, worst);
  item.classList.toggle("unknown", stand.share === "");
  const place = item.querySelector(".big");
  place.classList.toggle("wordy", none);
  say(item, { big, other: item.classList.contains("elsewhere") ? "not in this step" : other, share: stand.share });
  item.querySelector(".bar .weave").style.setProperty("--share", String(Math.min(1, stand.bar || 0)));
}

export function paintStands(desk) {
  parkForm(desk.screen.stands.length);
  fillList(byId("stands"), desk.screen.stands, "stand", (item, stand) => {
    item.dataset.stand = String(stand.id);
    item.classList.toggle("elsewhere", !stand.here);
    item.firstElementChild.id = `row-${stand.id}`;
    say(item, { name: stand.name, uses: stand.uses, under: stand.under, height_words: stand.height_words });
    item.querySelector(".letter").classList.toggle("long", stand.name.length > 3);
    paintRow(item, stand, desk.worst);
  });
  paintPicked(desk);
  placeForm(desk);
}

export function paintPicked(desk) {
  for (const item of byId("stands").children) {
    item.classList.toggle("picked-row", Number(item.dataset.stand) === desk.picked);
  }
  const stand = desk.picked === null ? null : desk.stand(desk.picked);
  const who = byId("who");
  const none = "Drag a stand, or tap it to take it in hand.";
  who.textContent = stand ? `${stand.name}, ${stand.uses}: ${stand.place}` : none;
  for (const button of who.parentElement.querySelectorAll("button")) button.hidden = !stand;
}

/** Remember what has the focus in the form, and take the form out of a row that goes. */
function parkForm(rows) {
  const form = byId("stand-form");
  if (form.contains(document.activeElement)) form.dataset.focus = document.activeElement.id || "";
  const index = [...byId("stands").children].indexOf(form.parentElement);
  if (index >= rows) document.body.append(form);
}

function placeForm(desk) {
  const form = byId("stand-form");
  for (const row of document.querySelectorAll(".stand-open")) {
    row.setAttribute("aria-expanded", String(row.id === `row-${desk.open}`));
  }
  const stand = desk.open === null ? null : desk.stand(desk.open);
  form.hidden = !stand;
  if (!stand) return;
  const item = byId(`row-${stand.id}`).parentElement;
  if (form.parentElement !== item) item.append(form);
  fillForm(desk, form, stand);
  const again = form.dataset.focus && byId(form.dataset.focus);
  if (again && document.activeElement === document.body) again.focus();
  delete form.dataset.focus;
}

function fillForm(desk, form, stand) {
  form.dataset.stand = String(stand.id);
  byId("stand-place").textContent = stand.place;
  fillChoice(byId("stand-equipment"), desk.screen.equipment.map((each) => [each.id, each.name]), stand.equipment);
  const others = desk.screen.stands.filter((each) => each.point !== null && each.here && each.id !== stand.id);
  const held = new Map(others.map((each) => [each.point, ` (${each.name} is there)`]));
  const points = desk.screen.points.map((each) => [each.id, each.name + (held.get(each.id) ?? "")]);
  const free = stand.point === null ? [["free", stand.under]] : [];
  fillChoice(byId("stand-point"), [...free, ...points], stand.point ?? "free");
  const height = byId("stand-height");
  if (document.activeElement !== height) height.value = stand.height;
}

/** Open a stand's form, or close it. */
export function openForm(desk, id, { focus = true } = {}) {
  desk.open = id;
  desk.pick(id);
  placeForm(desk);
  if (id !== null && focus) byId("stand-equipment").focus();
}

export function closeForm(desk, back) {
  const was = desk.open;
  desk.open = null;
  const form = byId("stand-form");
  form.hidden = true;
  document.body.append(form);
  for (const row of document.querySelectorAll(".stand-open")) row.setAttribute("aria-expanded", "false");
  ((back && byId(back)) || byId(`row-${was}`))?.focus();
}

/** Let rows and form be used. `doTo` runs one of the things that can be done to a stand. */
export function wireStands(desk, doTo, take) {
  let back = null;
  byId("stands").addEventListener("click", (event) => {
    const row = event.target.closest(".stand-open");
    if (!row) return;
    const id = Number(row.parentElement.dataset.stand);
    if (desk.mode === "away") take(id);
    else if (desk.open === id) closeForm(desk, null);
    else { back = null; openForm(desk, id, { focus: event.detail === 0 }); }
  });
  const form = byId("stand-form");
  const mine = () => Number(form.dataset.stand);
  byId("stand-equipment").addEventListener("change", (event) => {
    desk.change({ kind: "equip", stand: mine(), equipment: Number(event.target.value) });
  });
  byId("stand-point").addEventListener("change", (event) => {
    if (event.target.value !== "free") desk.change({ kind: "under", stand: mine(), point: Number(event.target.value) });
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const text = withUnit(byId("stand-height").value, desk.screen.units, { metric: "mm", us: "in" });
    desk.change({ kind: "height", stand: mine(), text });
  });
  form.addEventListener("click", (event) => {
    const what = event.target.closest("[data-do]")?.dataset.do;
    if (what === "close") closeForm(desk, back);
    else if (what) doTo(what, mine());
  });
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    event.stopPropagation();
    closeForm(desk, back);
  });
  return (id, from) => { back = from; openForm(desk, id); };
}
