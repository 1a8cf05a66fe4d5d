// The page without a job: what each job comes to is asked for one by one once the page is there.
"use strict";

/** Put a job's verdict and date into its line; a line without an answer is empty then. */
async function tellVerdict(line) {
  try {
    const answer = await fetch(`/verdict?${new URLSearchParams({ job: line.dataset.job })}`, { cache: "no-store" });
    const { key, says } = answer.ok ? await answer.json() : { key: "", says: "" };
    if (key) line.dataset.verdict = key;
    line.textContent = says;
  } catch { line.replaceChildren(); /* The page is left, or the server gone: there is nothing to tell. */ }
}

const lines = [...document.querySelectorAll(".verdict-line")];
for (const line of lines) line.textContent = "Not judged yet: wait a little";
for (const line of lines) await tellVerdict(line);
