// The bay view works without this: a name that is typed and not kept yet goes along with whatever is tapped next, and
// what is done on another device shows by itself.
"use strict";
import { hearNews } from "./bay_news.js";

const who = document.getElementById("who");

document.addEventListener("formdata", (event) => {
  if (who.value.trim()) event.formData.set("who", who.value);
});

hearNews();
