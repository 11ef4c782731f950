// Sound and vibration: never the only sign, always beside the words on the screen.

const TUNES = {
  ok: [[880, 0.07]],
  ask: [[880, 0.07]],
  done: [[660, 0.09], [990, 0.14]],
  refused: [[220, 0.28], [180, 0.32]],
  waiting: [[440, 0.07], [440, 0.07]],
};
const PULSES = {
  ok: [30],
  ask: [30],
  done: [40, 60, 40],
  refused: [220, 90, 220],
  waiting: [40, 60, 40, 60, 40],
};
const MUTED = "lotkin-muted";

export class Signals {
  constructor() {
    this.sound = null;
    this.muted = localStorage.getItem(MUTED) === "yes";
    this.last = "";
    // Browsers let a page make sounds only after somebody has touched it.
    for (const kind of ["pointerdown", "keydown"]) {
      addEventListener(kind, () => this.wake(), { once: true });
    }
  }

  wake() {
    if (this.sound === null && "AudioContext" in window) this.sound = new AudioContext();
  }

  mute(muted) {
    this.muted = muted;
    localStorage.setItem(MUTED, muted ? "yes" : "no");
  }

  give(tone) {
    this.last = tone;
    // Before the first touch a browser refuses to, and says so.
    const touched = navigator.userActivation && navigator.userActivation.hasBeenActive;
    if (touched && navigator.vibrate) navigator.vibrate(PULSES[tone] || []);
    if (this.muted || this.sound === null) return;
    let at = this.sound.currentTime;
    for (const [hertz, seconds] of TUNES[tone] || []) {
      const wave = this.sound.createOscillator();
      const volume = this.sound.createGain();
      wave.type = tone === "refused" ? "square" : "sine";
      wave.frequency.value = hertz;
      volume.gain.setValueAtTime(0.25, at);
      volume.gain.exponentialRampToValueAtTime(0.001, at + seconds);
      wave.connect(volume).connect(this.sound.destination);
      wave.start(at);
      wave.stop(at + seconds);
      at += seconds + 0.03;
    }
  }
}
