// Says that something was recorded since the page was made; nothing is loaded unasked.

const told = document.querySelector("#changed");
if (told && "EventSource" in window) {
  const changes = new EventSource("/api/v1/changes");
  changes.addEventListener("recorded", () => { told.hidden = false; });
  addEventListener("pagehide", () => changes.close());
}
