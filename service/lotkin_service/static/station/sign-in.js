// Signing in at a station: scan the badge, then the PIN on large keys.

import { Queue } from "./queue.js";
import { ScanField } from "./scanner.js";
import { talk } from "./talk.js";

const root = document.querySelector("#station");
const badge = root.querySelector("#badge");
const pin = root.querySelector("#pin");
const form = root.querySelector("#entry");
const says = root.querySelector("#says");

let field = null;

function askForPin() {
  root.querySelector("#pin-part").hidden = false;
  field.rest(true);
  pin.focus();
}

async function signIn() {
  try {
    await talk("/station/sign-in", {
      method: "POST", json: { badge: badge.value, pin: pin.value },
    });
    location.assign("/station");
  } catch (error) {
    says.textContent = error.message;
    pin.value = "";
    pin.focus();
  }
}

field = new ScanField(badge, form, (text) => {
  badge.value = text;
  says.textContent = "";
  if (text) askForPin();
});
root.querySelector("#pin-form").addEventListener("submit", (event) => {
  event.preventDefault();
  signIn();
});
for (const key of root.querySelectorAll("#pad button")) {
  key.addEventListener("click", () => {
    if (key.value === "back") pin.value = pin.value.slice(0, -1);
    else if (key.value === "enter") signIn();
    else pin.value += key.value;
    pin.focus();
  });
}
root.querySelector("#other").addEventListener("click", () => {
  pin.value = "";
  badge.value = "";
  root.querySelector("#pin-part").hidden = true;
  field.rest(false);
});

if (badge.value) askForPin();

Queue.open().then(async (queue) => {
  const waiting = (await queue.all()).length;
  if (waiting) says.textContent = `${waiting} scans wait on this device until somebody signs in.`;
});
