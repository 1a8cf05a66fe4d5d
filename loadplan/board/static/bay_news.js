// What was done on another device: the bay's page reads itself again, or says so where somebody is typing.
"use strict";

/** Heard nothing for so long [ms]: not connected; the server tells something every 3 s. */
const SILENT = 7000;

/** Sent, and no answer for so long [ms]: the page is still here, and listens again. */
const SENT = 10000;

const CHANGED = "Changed on another device - tap to read again";
const PLAN_CHANGED = "The plan was changed - tap to read again";
const MOVED = "Something moved: hands off, everybody away. Tap to read again";
const CUT_OFF = "Not connected: what stands here may be old. Tap to read again";
const SENT_AWAY = "This device was sent away: tap to type a new code";

/** Where the page was looked at, and for which record it was read again by itself: kept from one load to the next. */
const VIEW = "bay-view";
const READ_FOR = "bay-read-for";

const page = document.body.dataset;
const link = document.getElementById("news-read");
let source = null;
let timer = null;
let born = null;
let away = false;

/** Somebody types, has a field in hand, opened something, or has not read yet why something was not taken. */
function isBusy() {
  if (document.querySelector(".fault") || document.activeElement?.matches("input, select")) return true;
  const typed = (field) => (field.id === "who" ? field.value !== field.defaultValue : field.value !== "");
  const fields = document.querySelectorAll("input:not([type=hidden]), select");
  return [...fields].some(typed) || document.querySelector("details[data-by-hand]") !== null;
}

function show(says, { moved = false } = {}) {
  link.parentElement.classList.toggle("moved", moved);
  if (link.textContent !== says) link.textContent = says;
  link.hidden = says === "";
}

function readAgain(told, moved) {
  sessionStorage.setItem(READ_FOR, told.record);
  sessionStorage.setItem(VIEW, moved ? "now" : String(window.scrollY));
  end();
  // Not loaded anew as it is: after a form was refused that would send it once more.
  window.location.replace(link.href);
}

function hear(told) {
  expect();
  if (told.sent_away) {
    away = true;
    end();
    return show(SENT_AWAY);
  }
  if (told.going) return show(CUT_OFF);
  born ??= told.born;
  const recordChanged = told.record !== page.record;
  const moved = recordChanged && told.moved && page.moved === undefined;
  const planChanged = told.born !== born || String(told.revision) !== page.revision || told.changed.length > 0;
  if (moved) show(MOVED, { moved: true });
  else if (recordChanged) show(CHANGED);
  else show(planChanged ? PLAN_CHANGED : "");
  // A plan that is being changed shows no step: what stands here is kept until somebody taps.
  const once = sessionStorage.getItem(READ_FOR) !== told.record;
  if (recordChanged && !planChanged && once && !isBusy()) readAgain(told, moved);
  return null;
}

function expect() {
  clearTimeout(timer);
  timer = setTimeout(() => show(CUT_OFF), SILENT);
}

function end() {
  source?.close();
  clearTimeout(timer);
}

function listen() {
  end();
  if (away || document.hidden) return;
  source = new EventSource(`/plan/${page.plan}/stream`);
  source.onmessage = (event) => hear(JSON.parse(event.data));
  expect();
}

/** Come back to where the page was looked at before it read itself again. */
function comeBack() {
  const view = sessionStorage.getItem(VIEW);
  sessionStorage.removeItem(VIEW);
  if (view === "now") document.getElementById("now")?.scrollIntoView();
  else if (view !== null) window.scrollTo(0, Number(view));
}

/** Listen while the page is seen, and not while it is left: what it sends itself is no news to it. */
export function hearNews() {
  comeBack();
  for (const each of document.querySelectorAll("details")) {
    each.querySelector("summary").addEventListener("click", () => each.toggleAttribute("data-by-hand", !each.open));
  }
  document.addEventListener("visibilitychange", listen);
  document.addEventListener("submit", () => {
    end();
    timer = setTimeout(listen, SENT);
  });
  window.addEventListener("pagehide", end);
  window.addEventListener("pageshow", listen);
}
