// The page without a job: what each job comes to is asked for one by one once the page is there.
"use strict";

const DATE = /(\d{4}-\d\d-\d\d)/;

/** A piece of a line, which stays on one line if it is a date: at its hyphens it would be torn. */
function pieceOf(text) {
  const piece = document.createElement("span");
  piece.textContent = text;
  if (DATE.test(text)) piece.className = "unbroken";
  return piece;
}

/** Put a job's verdict and date into its line; a line without an answer is empty then. */
async function tellVerdict(line) {
  try {
    const answer = await fetch(`/verdict?${new URLSearchParams({ job: line.dataset.job })}`, { cache: "no-store" });
    const { key, says } = answer.ok ? await answer.json() : { key: "", says: "" };
    if (key) line.dataset.verdict = key;
    line.replaceChildren(...says.split(DATE).filter(Boolean).map(pieceOf));
  } catch { line.replaceChildren(); /* The page is left, or the server gone: there is nothing to tell. */ }
}

const lines = [...document.querySelectorAll(".verdict-line")];
for (const line of lines) line.textContent = "Not judged yet: wait a little";
for (const line of lines) await tellVerdict(line);
