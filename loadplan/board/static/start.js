// The page without a job: what each job comes to is asked for one by one once the page is there.
"use strict";

/** Put a job's verdict and date into its line; a line without an answer stays empty. */
async function tellVerdict(line) {
  try {
    const answer = await fetch(`/verdict?${new URLSearchParams({ job: line.dataset.job })}`, { cache: "no-store" });
    if (!answer.ok) return;
    const { key, says } = await answer.json();
    line.dataset.verdict = key;
    line.textContent = says;
  } catch { /* The page is left, or the server gone: there is nothing to tell. */ }
}

for (const line of document.querySelectorAll(".verdict-line")) await tellVerdict(line);
