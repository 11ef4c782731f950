// Keeps what is shown as it stands: when something was recorded, the part #live is drawn anew.
// A form in which somebody has begun is never taken away; the page then only says so.

const told = document.querySelector("#changed");
const said = document.querySelector("#drawn");
const part = () => document.querySelector("#live");
const CALM_MS = 1500;
let touched = false;
let waiting = 0;

document.addEventListener("input", (event) => {
  touched ||= part()?.contains(event.target) ?? false;
});

const inUse = () => touched || (part()?.contains(document.activeElement) ?? false);

async function redraw() {
  waiting = 0;
  if (!part() || inUse()) { told.hidden = false; return; }
  try {
    const answer = await fetch(location.href, { headers: { accept: "text/html" } });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.querySelector("#live");
    if (!answer.ok || answer.redirected || !fresh || inUse()) { told.hidden = false; return; }
    if (fresh.innerHTML !== part().innerHTML) {
      part().replaceWith(fresh);
      said.textContent = `Drawn anew at ${new Date().toLocaleTimeString()}: something was recorded.`;
    }
  } catch {
    told.hidden = false;
  }
}

if (told && "EventSource" in window) {
  const changes = new EventSource("/api/v1/changes");
  changes.addEventListener("recorded", () => { waiting ||= setTimeout(redraw, CALM_MS); });
  addEventListener("pagehide", () => changes.close());
}
