// The verdict's band, the margin over its ruler, the steps and what was found.
"use strict";
import { byId, fillList, say } from "./dom.js";

/** Show this step's verdict; while a stand is held, as far as it is known. */
export function paintBand(verdict, margin, desk, { pending }) {
  const cell = byId("step-cell");
  cell.dataset.verdict = verdict.key;
  const reason = verdict.reason || (pending ? "The rest is counted when you let go." : "");
  const far = margin ? marginOf(margin, desk).words : "";
  say(cell, pending ? { word: verdict.word, reason, far } : { ...verdict, far });
  if (pending) return;
  // A reason too long for a phone scrolls, by finger and by keys.
  const told = cell.querySelector(".reason");
  if (told.scrollHeight > told.clientHeight + 1) told.tabIndex = 0;
  else told.removeAttribute("tabindex");
}

/** The verdict of all steps, with the step that decides it: one tap goes there. */
function paintJob({ screen, given }) {
  const cell = byId("job-verdict");
  const { verdict } = screen;
  cell.dataset.verdict = verdict.job_key;
  const far = given ? verdict.job_given : verdict.job_worst;
  const count = String(screen.steps.length);
  say(byId("band"), { basis: verdict.basis, under: verdict.under });
  say(cell, { count, job: verdict.job, step: String(verdict.job_step + 1), job_far: far && `: ${far}` });
}

/** The margin that is the big number: the worst case, or as given while that is switched on. */
const marginOf = (margin, { given }) => (given ? margin.given : margin.worst);

/** Show a margin: the worst case is the big number, as given the small one; switched over, the other way round. */
export function paintMargin(margin, desk) {
  const room = byId("margin");
  room.dataset.verdict = margin?.key ?? "holds";
  room.querySelector(".ruler").hidden = !margin;
  if (!margin) {
    say(room, { big: "", rest: "No distance to tipping in this step.", other: "", about: "", limit: "", end: "" });
    return;
  }
  const big = marginOf(margin, desk);
  const small = desk.given ? margin.worst : margin.given;
  const other = small.words === big.words ? "" : small.words;
  const about = [margin.name, margin.about].filter(Boolean).join(", ");
  say(room, { big: big.figure, rest: big.rest, other, about, limit: margin.limit.words, end: margin.end });
  paintRuler(room, margin);
}

function paintRuler(room, margin) {
  const along = (value) => Math.max(-0.13, Math.min(1, value / margin.full)).toFixed(3);
  const put = (name, value) => room.querySelector(name).style.setProperty("--at", along(value));
  put(".filled", Math.max(0, margin.worst.value));
  put(".pin", margin.given.value);
  put(".limit", margin.limit.value);
  put(".limit-words", margin.limit.value);
}

export function paintHead(desk) {
  const { screen } = desk;
  byId("title").textContent = screen.title;
  byId("vehicle").textContent = screen.vehicle;
  byId("file").textContent = screen.file;
  byId("unsaved").hidden = !screen.unsaved;
  byId("what-if-told").hidden = !screen.what_if;
  byId("what-if-words").textContent = screen.what_if;
  byId("undo").disabled = !screen.undo;
  byId("redo").disabled = !screen.redo;
  byId("mass").textContent = screen.mass;
  document.title = `${screen.unsaved ? "* " : ""}${screen.title} - loadplan`;
}

export function paintSteps(desk) {
  fillList(byId("strip"), desk.screen.steps, "step", (item, step, index) => {
    const button = item.firstElementChild;
    button.dataset.step = String(index);
    button.dataset.verdict = step.verdict;
    say(button, { number: String(index + 1), told: `${step.name}: ${step.word}` });
  });
  byId("step-count").textContent = String(desk.screen.steps.length);
  desk.paintStep();
  const download = byId("download");
  download.setAttribute("href", `${desk.talk.root}plan.svg?step=${desk.screen.step}`);
}

export function paintFindings(desk) {
  const { screen } = desk;
  const here = screen.findings.filter((each) => each.here !== false);
  const rest = screen.findings.filter((each) => each.here === false);
  byId("nothing-found").hidden = here.length > 0;
  byId("found-count").textContent = here.length ? String(here.length) : "";
  byId("elsewhere-room").hidden = rest.length === 0;
  fillList(byId("findings"), here, "finding", paintFinding);
  fillList(byId("elsewhere"), rest, "finding", paintFinding);
  paintLines("not-checked", screen.not_checked);
  paintLines("assumed", screen.assumed);
}

function paintFinding(item, finding) {
  item.dataset.verdict = finding.verdict;
  say(item, { word: finding.word, text: finding.text, steps: finding.steps });
  // What would help is judged first (cures.js): until then there is nothing to tap.
  item.querySelector(".cures").replaceChildren();
}

function paintLines(id, texts) {
  byId(`${id}-room`).hidden = texts.length === 0;
  fillList(byId(id), texts, "line", (item, text) => { item.textContent = text; });
}

export function paintNumbers(desk) {
  const { verdict, margin } = desk.screen;
  paintBand(verdict, margin, desk, { pending: false });
  paintJob(desk);
  paintMargin(margin, desk);
}
