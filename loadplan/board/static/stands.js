// One row a stand, and which stand is in hand.
"use strict";
import { byId, fillList, say } from "./dom.js";
import { fillForm, wireForm } from "./stand_form.js";

/** The load that a stand shows large, whether that is none, and what it shows small. */
export function loadsOf(stand, worst) {
  if (stand.load === "") return { big: "", none: false, other: "load not known" };
  // With nothing above it there is no most, either.
  if (stand.given_share === "") return { big: stand.load, none: true, other: "" };
  const most = stand.most || "counted when you let go";
  if (!worst || !stand.most) return { big: stand.load, none: stand.load_is_nothing, other: `most on this floor ${most}` };
  const carries = stand.load_is_nothing ? stand.load : `as given ${stand.load}`;
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
  const [share, bar] = worst ? [stand.share, stand.bar] : [stand.given_share, stand.given_bar];
  say(item, { big, other: item.classList.contains("elsewhere") ? "not in this step" : other, share });
  item.querySelector(".bar .weave").style.setProperty("--share", String(Math.min(1, bar || 0)));
}

export function paintStands(desk) {
  fillList(byId("stands"), desk.screen.stands, "stand", (item, stand) => {
    item.dataset.stand = String(stand.id);
    item.classList.toggle("elsewhere", !stand.here);
    item.firstElementChild.id = `row-${stand.id}`;
    say(item, { name: stand.name, uses: stand.uses, under: stand.under, height_words: stand.height_words });
    item.querySelector(".letter").classList.toggle("long", stand.name.length > 3);
    paintRow(item, stand, !desk.given);
  });
  paintPicked(desk);
}

export function paintPicked(desk) {
  for (const item of byId("stands").children) {
    item.classList.toggle("picked-row", Number(item.dataset.stand) === desk.picked);
  }
  for (const row of document.querySelectorAll(".stand-open")) {
    row.setAttribute("aria-expanded", String(row.id === `row-${desk.picked}`));
  }
  const stand = desk.picked === null ? null : desk.stand(desk.picked);
  byId("who").textContent = stand ? `${stand.name}, ${stand.uses}: ${stand.place}` : "Drag a stand, or tap it to take it in hand.";
  const form = byId("stand-form");
  form.hidden = !stand;
  if (stand) fillForm(desk, form, stand);
}

/** Put the stand in hand out of it. */
export function closeForm(desk, back) {
  const was = desk.picked;
  desk.pick(null);
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
    else if (desk.picked === id) closeForm(desk, null);
    else { back = null; desk.pick(id); byId("panes").scrollTop = 0; if (event.detail === 0) byId("stand-equipment").focus(); }
  });
  wireForm(desk, (what, id) => (what === "close" ? closeForm(desk, back) : doTo(what, id)), () => closeForm(desk, back));
  return (id, from) => { back = from; desk.pick(id); byId("stand-equipment").focus(); };
}
