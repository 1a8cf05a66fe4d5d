// Other devices that are let in: which, and sending one away. Only the machine itself may, and it is told so.
"use strict";
import { byId, fillList, tell } from "./dom.js";

export function paintDevices(devices) {
  byId("devices-room").hidden = devices.length === 0;
  fillList(byId("devices"), devices, "device", (item, device) => {
    item.querySelector("span").textContent = device.words;
    item.querySelector("button").dataset.device = String(device.id);
    item.querySelector("button").setAttribute("aria-label", `Send away ${device.words}`);
  });
}

export function wireDevices(desk) {
  byId("devices").addEventListener("click", async (event) => {
    const number = event.target.closest("[data-device]")?.dataset.device;
    if (!number) return;
    const headers = { "Content-Type": "application/json", "X-Token": desk.talk.token };
    const body = JSON.stringify({ device: Number(number) });
    const { told } = await desk.talk.send("/devices/away", { method: "POST", headers, body });
    tell(told.said ?? told.refused);
  });
}
