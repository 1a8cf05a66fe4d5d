// The questions of a first job: each answer is kept as soon as its field is left, and the sketch grows with it.
// Without this script the pages do the same once "Go on" is tapped.
"use strict";

const form = document.getElementById("group");
let asked = 0;

/** Put the questions as they are now where those are that nobody is in; what is being typed stays. */
function takeOver(fresh) {
  const questions = [...fresh.querySelectorAll("#group .question")];
  const wanted = new Set(questions.map((each) => each.id));
  for (const each of form.querySelectorAll(".question")) if (!wanted.has(each.id)) each.remove();
  let before = null;
  for (const each of questions) {
    const here = document.getElementById(each.id);
    const busy = here?.contains(document.activeElement);
    const shown = here ?? document.importNode(each, true);
    // Only what is told beside an answer changes in a question that is there; what is typed in it may be newer.
    if (here && !busy) tellAgain(here, each);
    if (!here) (before ? before.after(shown) : form.querySelector(".ask-foot").before(shown));
    before = shown;
  }
  document.getElementById("sketch").replaceChildren(...fresh.getElementById("sketch").childNodes);
}

/** Say beside an answer what is odd about it, or why it is not taken; or no more. */
function tellAgain(here, now) {
  for (const each of here.querySelectorAll(".odd, .fault, [name^='doubted:']")) each.remove();
  here.append(...now.querySelectorAll(".odd, .fault, [name^='doubted:']"));
}

/** Have what was answered kept, and show what comes of it. */
async function look() {
  const mine = ++asked;
  const said = new URLSearchParams(new FormData(form));
  said.set("way", "look");
  try {
    const answer = await fetch(form.action, { method: "POST", body: said });
    if (!answer.ok || mine !== asked) return;
    takeOver(new DOMParser().parseFromString(await answer.text(), "text/html"));
    document.body.dataset.looked = String(mine);
  } catch {
    // The server is away: "Go on" will say so.
  }
}

// On a phone the groups are one row that scrolls: the one that is open has to be in it.
document.querySelector(".ask-groups [aria-current]")?.scrollIntoView({ inline: "center", block: "nearest" });
form.addEventListener("change", look);
