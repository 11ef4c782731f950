// The one field that is always ready for the scanner, which types what it reads and ends with Enter.

import { keepControls } from "./wedge.js";

export class ScanField {
  constructor(field, form, take) {
    this.field = field;
    this.resting = false;
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const text = field.value;
      field.value = "";
      take(text);
    });
    keepControls(field);
    document.addEventListener("keydown", (event) => this.catchStray(event));
    document.addEventListener("click", (event) => this.comeBack(event));
    addEventListener("focus", () => this.ready());
    this.ready();
  }

  ready() {
    if (!this.resting) this.field.focus({ preventScroll: true });
  }

  // Leave the keys alone while something else is asked for.
  rest(resting) {
    this.resting = resting;
    this.ready();
  }

  // A scanner types wherever the cursor is; a first key that goes nowhere belongs to the field.
  catchStray(event) {
    if (this.resting || event.ctrlKey || event.altKey || event.metaKey) return;
    const target = event.target;
    const elsewhere = target === document.body || target === document.documentElement;
    if (elsewhere && event.key.length === 1) this.ready();
  }

  comeBack(event) {
    const busy = event.target.closest("input, select, textarea, summary, a, dialog");
    if (!busy) this.ready();
  }
}
