// Small helpers on the page's elements. Texts go in as text, never as markup.
"use strict";

export const byId = (id) => document.getElementById(id);

/** Write each text of a record into the element that asks for it by data-say; leave what is already so. */
export function say(root, record) {
  for (const [name, text] of Object.entries(record)) {
    const place = root.querySelector(`[data-say="${name}"]`);
    if (place && place.textContent !== text) place.textContent = text;
  }
}

/** A fresh copy of one of the page's empty pieces. */
export const piece = (name) => byId(`${name}-piece`).content.firstElementChild.cloneNode(true);

/** Make a list as long as its records and fill each item in place, so that what has the focus keeps it. */
export function fillList(list, records, name, fill) {
  while (list.children.length > records.length) list.lastElementChild.remove();
  while (list.children.length < records.length) list.append(piece(name));
  records.forEach((record, index) => fill(list.children[index], record, index));
}

/** Fill a choice with [value, text] pairs, and choose one. */
export function fillChoice(select, pairs, chosen) {
  select.replaceChildren(...pairs.map(([value, text]) => new Option(text, value)));
  select.value = String(chosen);
}

/** A bare number, or one with a fraction, with the unit that the page shows; anything else as it was typed. */
export function withUnit(text, units, { metric, us }) {
  const plain = text.trim();
  return /^[\d\s./+-]*\d$/.test(plain) ? `${plain} ${units === "us" ? us : metric}` : plain;
}

let goes = 0;

/** Show a sentence at the foot of the page for a while; `aloud` also has it read out. */
export function tell(sentence, { aloud = true } = {}) {
  const foot = byId("said");
  foot.textContent = sentence;
  foot.hidden = sentence === "";
  if (aloud) announce(sentence);
  clearTimeout(goes);
  goes = setTimeout(() => { foot.hidden = true; }, 9000);
}

/** Have a text read out by a screen reader, once it has nothing else to say. */
export function announce(text) {
  byId("announce").textContent = text;
}
