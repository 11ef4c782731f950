// The page of a station: takes scans, sends them in their order, shows what is said back.

import { Camera } from "./camera.js";
import { Queue } from "./queue.js";
import { ScanField } from "./scanner.js";
import { Signals } from "./signals.js";
import { SignedOut, talk, Unreached } from "./talk.js";
import { View } from "./view.js";

const AT_ONCE_MS = 8000;
const MOST_TOGETHER = 50;
const WAITS_MS = [1000, 2000, 4000, 8000, 15000];
const DEVICE = "lotkin-device";
const LONGEST = 4000;

const root = document.querySelector("#station");
const place = root.dataset.place;
const person = root.dataset.person;
const path = `/api/v1/stations/${encodeURIComponent(place)}`;

// Pages that did not come by https have no randomUUID.
function newId() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

function deviceId() {
  let known = localStorage.getItem(DEVICE);
  if (!known) {
    known = newId();
    localStorage.setItem(DEVICE, known);
  }
  return known;
}

class StationPage {
  constructor(queue) {
    this.queue = queue;
    this.device = deviceId();
    this.signals = new Signals();
    this.view = new View(root, (text) => this.take(text));
    this.busy = false;
    this.isReached = true;
    this.failures = 0;
    this.answers = 0;
    this.field = new ScanField(
      root.querySelector("#scan"), root.querySelector("#entry"), (text) => this.take(text));
    this.camera = new Camera(
      root.querySelector("#camera video"), (text) => this.take(text),
      (why) => this.view.tell("refused", why, ""));
    addEventListener("online", () => this.pump());
    document.addEventListener("visibilitychange", () => {
      if (!document.hidden) this.pump();
    });
    this.wire();
  }

  wire() {
    for (const key of root.querySelectorAll("#pad button")) {
      key.addEventListener("click", () => this.press(key.value));
    }
    root.querySelector("#camera-button").addEventListener("click", () => this.toggleCamera());
    const sound = root.querySelector("#sound-button");
    const show = () => {
      sound.textContent = this.signals.muted ? "Sound is off" : "Sound is on";
      sound.setAttribute("aria-pressed", String(!this.signals.muted));
    };
    sound.addEventListener("click", () => {
      this.signals.mute(!this.signals.muted);
      show();
    });
    show();
    const keyboard = root.querySelector("#keyboard-button");
    keyboard.addEventListener("click", () => {
      const field = this.field.field;
      field.dataset.keyboard = field.dataset.keyboard === "none" ? "text" : "none";
      field.inputMode = field.dataset.keyboard;
      keyboard.setAttribute("aria-pressed", String(field.dataset.keyboard === "text"));
      field.blur();
      this.field.ready();
    });
  }

  // Show what is in hand; what is scanned next answers this, and no later state.
  hold(hand, tone) {
    this.seen = hand.counter;
    this.view.hand(hand, tone);
  }

  press(key) {
    const field = this.field.field;
    if (key === "back") field.value = field.value.slice(0, -1);
    else if (key === "enter") root.querySelector("#entry").requestSubmit();
    else field.value += key;
    this.field.ready();
  }

  async toggleCamera() {
    const box = root.querySelector("#camera");
    if (this.camera.isOn) {
      this.camera.stop();
    } else {
      box.hidden = false;
      await this.camera.start();
    }
    box.hidden = !this.camera.isOn;
    root.querySelector("#camera-button").setAttribute("aria-pressed", String(this.camera.isOn));
  }

  async begin() {
    try {
      await this.look();
    } catch (error) {
      this.failed(error);
    }
    await this.show();
    this.pump();
  }

  // See what is in hand; a scan that was answered meanwhile knows better.
  async look() {
    const before = this.answers;
    const { hand } = await talk(`${path}?device=${this.device}`);
    if (this.answers === before) this.hold(hand, "ok");
  }

  // Take a scan: write it down first, then send it.
  async take(scanned) {
    const text = (scanned.toWellFormed ? scanned.toWellFormed() : scanned)
      .replaceAll("\0", "").slice(0, LONGEST);
    const scan = { id: newId(), text, at: Date.now(), person, place, tried: false };
    await this.queue.add(scan);
    if (!this.isReached) {
      this.view.tell("waiting", `${text || "accepted"}: kept on this device`, text);
      this.signals.give("waiting");
      await this.show();
    }
    this.pump();
  }

  async show(why) {
    this.view.connection(this.isReached, await this.waiting(), why);
  }

  async waiting() {
    const all = await this.queue.all();
    return this.busy && this.isReached ? all.filter((scan) => scan.tried) : all;
  }

  // Send what waits, in its order; one at a time, whoever calls.
  async pump() {
    if (this.busy) return;
    this.busy = true;
    try {
      for (;;) {
        const scans = (await this.queue.all()).filter((scan) => scan.place === place);
        if (!scans.length) break;
        await this.send(this.batch(scans));
      }
      await this.foundAgain();
    } catch (error) {
      this.failed(error);
    } finally {
      this.busy = false;
    }
    await this.show(this.why);
  }

  // A scan that is sent at once is asked for; what had to wait tells what has happened.
  batch(scans) {
    const isOld = (scan) => Math.abs(Date.now() - scan.at) > AT_ONCE_MS;
    const isLate = (scan) => scan.tried || !this.isReached || isOld(scan);
    if (!isLate(scans[0])) return [{ ...scans[0], age: 0 }];
    const late = [];
    for (const scan of scans) {
      if (!isLate(scan) || late.length === MOST_TOGETHER) break;
      // 0 would say that it comes at once; what a wrong clock says is judged by the service
      late.push({ ...scan, age: Date.now() - scan.at || 1 });
    }
    return late;
  }

  async send(batch) {
    const scans = batch.map(({ id, text, age, person: by }) => ({
      id, text, age_ms: age, person: age ? by : "",
    }));
    const ids = scans.map((scan) => scan.id);
    let answer;
    try {
      answer = await talk(`${path}/scans`, {
        method: "POST", json: { device: this.device, scans, seen: this.seen },
      });
    } catch (error) {
      await this.queue.tried(ids);
      throw error;
    }
    await this.queue.remove(ids);
    await this.foundAgain();
    answer.replies.forEach((reply, i) => this.view.tell(reply.tone, reply.say, batch[i].text));
    const tones = answer.replies.map((reply) => reply.tone);
    const tone = tones.includes("refused") ? "refused" : tones[tones.length - 1];
    this.answers += 1;
    this.hold(answer.hand, tones[tones.length - 1]);
    this.signals.give(tone);
    if (answer.hand.claim) await this.letIn(answer.hand);
  }

  // Somebody else's badge was scanned: here it takes their PIN as well.
  async letIn({ claim, claim_name: name }) {
    if ((await this.queue.all()).length) return;
    if (root.dataset.enrolled === "yes") {
      location.assign(`/station/badge?badge=${encodeURIComponent(claim)}`);
    } else {
      this.view.tell("refused", `${name}: press Leave, then sign in`, "");
    }
  }

  async foundAgain() {
    this.failures = 0;
    this.why = "";
    if (this.isReached) return;
    this.isReached = true;
    await this.show();
  }

  failed(error) {
    if (error instanceof SignedOut) {
      this.why = "Sign in to have them sent.";
      location.assign("/station");
      return;
    }
    if (error instanceof Unreached) {
      if (this.isReached) {
        this.view.tell("waiting", "the service cannot be reached: scans are kept here", "");
        this.signals.give("waiting");
      }
      this.isReached = false;
      this.why = "";
    } else {
      this.why = `The service did not take them: ${error.message}`;
      this.view.tell("refused", error.message, "");
      this.signals.give("refused");
    }
    const wait = WAITS_MS[Math.min(this.failures, WAITS_MS.length - 1)];
    this.failures += 1;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.knock(), wait);
  }

  // See whether the service is back, if there is nothing to send too.
  async knock() {
    if ((await this.queue.all()).length) {
      this.pump();
      return;
    }
    try {
      await this.look();
      await this.foundAgain();
    } catch (error) {
      this.failed(error);
    }
    await this.show();
  }
}

async function start() {
  if ("serviceWorker" in navigator) {
    // Lets the page itself come up again without the service; only pages by https have it.
    navigator.serviceWorker.register("/station/worker.js", { scope: "/station" }).catch(() => {});
  }
  const page = new StationPage(await Queue.open());
  await page.begin();
  root.dataset.ready = "yes";
}

start();
