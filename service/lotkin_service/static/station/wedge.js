// Keeps what a scanner types as control keys: GS, RS, EOT between the fields of a label
// (ISO/IEC 15434). A browser would take Ctrl+] for a key of its own and drop it.

const CONTROLS = { "]": "\x1d", "^": "\x1e", 6: "\x1e", d: "\x04", D: "\x04", "\\": "\x1c" };

export function keepControls(field) {
  field.addEventListener("keydown", (event) => {
    if (!event.ctrlKey || event.altKey || event.metaKey || !(event.key in CONTROLS)) return;
    event.preventDefault();
    field.setRangeText(CONTROLS[event.key], field.selectionStart, field.selectionEnd, "end");
  });
}
