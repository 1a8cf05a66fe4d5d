// Saving: what changes is shown, then asked; a file that changed meanwhile is never written over.
"use strict";
import { byId, tell } from "./dom.js";

export function wireSave(desk) {
  const [save, conflict] = [byId("save-dialog"), byId("conflict-dialog")];
  for (const dialog of [save, conflict]) dialog.querySelector(".leave").addEventListener("click", () => dialog.close());
  let name = "";

  const post = (sure) => desk.line.push(async () => {
    const { revision } = desk.screen;
    hear(await desk.talk.post("save", { revision, step: desk.step, ...desk.size(), name, sure }));
  });

  const hear = ({ status, told }) => {
    if (status === 200 && told.ask) ask(told);
    else if (status === 200) saved(told);
    else if (told.conflict) clash(told);
    else if (told.stale) { save.close(); desk.hear({ status, told }, { aloud: false }); }
    else refuse(told.refused ?? `The server answered ${status}.`);
  };

  const ask = (told) => {
    byId("save-title").textContent = `Save in ${told.name}`;
    const none = told.changes.length === 0;
    byId("save-says").textContent = says(none, told.name);
    fillLines("save-words", told.words);
    fillLines("save-lines", told.changes);
    showLines(!none);
    byId("save-sure").hidden = none && name === "";
    byId("name-form").hidden = name === "";
    if (!save.open) save.showModal();
    (byId("save-sure").hidden ? save.querySelector(".leave") : byId("save-sure")).focus();
  };

  const says = (none, target) => {
    const { file } = desk.screen;
    if (target !== file) return none ? `A new file that says the same as ${file}.` : `A new file. This differs from ${file}:`;
    return none ? "The file already says all of this." : "This changes in the file. Comments and order stay.";
  };

  const saved = (told) => {
    save.close();
    if (told.screen) desk.take(told.screen, { aloud: false });
    tell(`Saved in ${told.saved}.`);
  };

  const clash = (told) => {
    save.close();
    byId("conflict-says").textContent = told.says;
    fillLines("yours", told.yours);
    fillLines("theirs", told.theirs);
    fillLines("yours-words", told.yours_words);
    fillLines("theirs-words", told.theirs_words);
    byId("conflict-both").hidden = !told.both;
    conflict.showModal();
    byId(told.both ? "conflict-both" : "conflict-name").focus();
  };

  const showLines = (are) => {
    for (const id of ["save-words", "save-lines-room"]) byId(id).hidden = !are;
    byId("save-lines-room").open = false;
  };

  const refuse = (sentence) => {
    byId("save-says").textContent = sentence;
    showLines(false);
    byId("save-sure").hidden = true;
    if (!save.open) tell(sentence);
  };

  const askName = () => {
    if (conflict.open) conflict.close();
    byId("save-title").textContent = "Save under another name";
    byId("save-says").textContent = "";
    byId("name-form").hidden = false;
    showLines(false);
    byId("save-sure").hidden = true;
    const field = byId("save-name");
    if (field.value === "") field.value = desk.screen.file.replace(/^.*[\\/]/, "").replace(/(\.toml)?$/, "-2.toml");
    save.showModal();
    field.select();
  };

  const begin = () => { name = ""; byId("name-form").hidden = true; post(false); };
  byId("save").addEventListener("click", begin);
  byId("save-as").addEventListener("click", askName);
  byId("conflict-name").addEventListener("click", askName);
  byId("conflict-reread").addEventListener("click", () => { conflict.close(); desk.reread(); });
  byId("conflict-both").addEventListener("click", () => { conflict.close(); desk.command("both", () => ({})); });
  byId("save-sure").addEventListener("click", () => post(true));
  byId("name-form").addEventListener("submit", (event) => {
    event.preventDefault();
    name = byId("save-name").value.trim();
    byId("save-title").textContent = "Save under another name";
    if (name) post(false);
    else byId("save-says").textContent = "A name is needed, such as front-unit-2.toml.";
  });
  window.addEventListener("beforeunload", (event) => { if (desk.screen.unsaved) event.preventDefault(); });
  return begin;
}

function fillLines(id, lines) {
  byId(id).replaceChildren(...lines.map((line) => {
    const item = document.createElement("li");
    item.textContent = line;
    item.className = line.startsWith("-") ? "gone" : line.startsWith("+") ? "come" : "";
    return item;
  }));
}
