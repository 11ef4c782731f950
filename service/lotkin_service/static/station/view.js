// What the screen of a station shows; all of it words first, colour and shape beside them.

const TONES = {
  ok: ["✓", "understood"],
  ask: ["›", "go on"],
  done: ["✓✓", "recorded"],
  refused: ["✕", "refused"],
  waiting: ["…", "waiting here"],
};
const CARDS = {
  $CONFIRM: "Confirm",
  $CANCEL: "Forget it",
  $UNDO: "Take the last one back",
  $START: "Start now",
  $SCRAP: "Scrap",
  $SAMPLE: "Samples",
  $REPORT: "It has happened: report it",
  $CLOSE: "Nothing more will come",
  $HELP: "Help",
  $MIX: "Mixed together",
  $APART: "Kept apart",
  $REPLACE: "Put in its place",
  $TAKEOVER: "Take over",
  $RECEIVE: "Receive",
  $BLEND: "Blend",
  $MOVE: "Move",
  $COUNT: "Count",
  $PACK: "Pack",
  $SHIP: "Ship",
};
const MOST_SAID = 6;
// Nobody reads an answer and presses what it asks for within this time: a second tap does.
const DEAD_MS = 800;

function button(text, label, quiet, take) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = label;
  made.dataset.scan = text;
  made.className = quiet ? "quiet" : "primary";
  made.addEventListener("click", () => {
    if (!made.disabled) take(text);
  });
  return made;
}

export class View {
  constructor(root, take) {
    this.root = root;
    this.take = take;
    this.reply = root.querySelector("#reply");
    this.alert = root.querySelector("#alert");
    this.ask = root.querySelector("#ask");
    this.about = root.querySelector("#about");
    this.main = root.querySelector("#main-actions");
    this.more = root.querySelector("#more-actions");
    this.pad = root.querySelector("#pad");
    this.said = root.querySelector("#said");
    this.link = root.querySelector("#link");
    this.waiting = root.querySelector("#waiting");
    this.field = root.querySelector("#scan");
  }

  // Say what became of a scan.
  tell(tone, say, text) {
    const [mark, word] = TONES[tone] || TONES.ask;
    this.reply.dataset.tone = tone;
    this.reply.querySelector(".mark").textContent = mark;
    this.reply.querySelector(".tone").textContent = word;
    this.reply.querySelector(".say").textContent = say;
    // A screen reader is interrupted only by what went wrong.
    this.alert.textContent = tone === "refused" ? say : "";
    if (say) this.remember(tone, text, say);
  }

  remember(tone, text, say) {
    const line = document.createElement("li");
    line.dataset.tone = tone;
    const [mark, word] = TONES[tone] || TONES.ask;
    const sign = document.createElement("b");
    sign.textContent = `${mark} ${word}: `;
    line.append(sign, text && text !== say ? `${CARDS[text] || text} – ${say}` : say);
    this.said.prepend(line);
    while (this.said.children.length > MOST_SAID) this.said.lastChild.remove();
  }

  hand(hand, tone) {
    this.ask.textContent = hand.ask;
    this.about.replaceChildren();
    this.about.hidden = !hand.title;
    if (hand.title) {
      const title = document.createElement("h2");
      title.textContent = hand.reported
        ? `${hand.title}: ${hand.about} (a report of what has happened)`
        : `${hand.title}: ${hand.about}`;
      const scans = document.createElement("ol");
      for (const scan of hand.scans.slice(1)) {
        const line = document.createElement("li");
        line.textContent = CARDS[scan] || scan || "as proposed";
        scans.append(line);
      }
      this.about.append(title, scans);
      if (hand.cautions.length) this.about.append(this.cautions(hand.cautions));
    }
    this.actions(hand, tone);
  }

  // Let buttons that have just come up rest, so that a double tap on the one before hits nothing.
  rest(buttons) {
    const fresh = [...buttons];
    for (const each of fresh) each.disabled = true;
    setTimeout(() => {
      for (const each of fresh) each.disabled = false;
    }, DEAD_MS);
  }

  cautions(cautions) {
    const box = document.createElement("div");
    box.className = "caution";
    const title = document.createElement("strong");
    title.textContent = "⚠ Caution, from the plan of the works";
    const list = document.createElement("ul");
    for (const caution of cautions) {
      const line = document.createElement("li");
      line.textContent = caution;
      list.append(line);
    }
    const last = document.createElement("p");
    last.textContent = "Site rules and local codes prevail.";
    box.append(title, list, last);
    return box;
  }

  actions(hand, tone) {
    const main = [];
    if (hand.wants === "confirm") main.push(["$CONFIRM", CARDS.$CONFIRM]);
    if (hand.wants === "choice") main.push(...hand.choices.map((c) => [c, CARDS[c] || c]));
    if (hand.wants === "number" && hand.proposal !== null) {
      main.push(["", `Accept ${Number(hand.proposal)}`]);
    }
    this.main.replaceChildren(...main.map(([t, label]) => button(t, label, false, this.take)));
    this.rest(this.main.children);
    this.pad.hidden = hand.wants !== "number";
    this.field.inputMode = hand.wants === "number" ? "decimal" : this.field.dataset.keyboard;
    const more = [];
    if (hand.title && tone === "refused") more.push("$REPORT");
    if (hand.title === "step") more.push("$START", "$SCRAP", "$SAMPLE");
    if (hand.title === "take back") more.push("$CLOSE");
    if (hand.title) more.push("$CANCEL");
    else if (hand.person) {
      more.push("$RECEIVE", "$MOVE", "$COUNT", "$BLEND", "$PACK", "$SHIP");
      if (hand.can_undo) more.push("$UNDO");
    }
    more.push("$HELP");
    this.more.replaceChildren(...more.map((t) => button(t, CARDS[t], true, this.take)));
  }

  // Say whether the service is reached, and what waits on this device.
  connection(isReached, scans, why) {
    this.link.dataset.state = isReached ? "on" : "off";
    this.link.textContent = isReached ? "● connected" : "○ not connected";
    this.waiting.hidden = scans.length === 0;
    if (!scans.length) return;
    const title = this.waiting.querySelector("h2");
    const one = scans.length === 1;
    title.textContent = `${scans.length} ${one ? "scan waits" : "scans wait"} on this device`;
    this.waiting.querySelector("p").textContent =
      why || "They are sent in their order as soon as the service is back. Go on working.";
    const list = this.waiting.querySelector("ol");
    list.replaceChildren(...scans.slice(-8).map((scan) => {
      const line = document.createElement("li");
      const time = new Date(scan.at).toLocaleTimeString();
      line.textContent = `${time}  ${CARDS[scan.text] || scan.text || "as proposed"}`;
      return line;
    }));
  }
}
