// Scanning with a camera: the browser's own detector where it has one, else the service looks.

import { talk } from "./talk.js";

const AGAIN_MS = 2500;
const PAUSE_MS = 350;
const WIDEST = 1280;
const KINDS = ["qr_code", "data_matrix", "code_128"];

async function detector() {
  if (!("BarcodeDetector" in window)) return null;
  const known = await window.BarcodeDetector.getSupportedFormats();
  const kinds = KINDS.filter((kind) => known.includes(kind));
  return kinds.length ? new window.BarcodeDetector({ formats: kinds }) : null;
}

export class Camera {
  constructor(video, take, tell) {
    this.video = video;
    this.take = take;
    this.tell = tell;
    this.stream = null;
    this.seen = new Map();
    this.canvas = document.createElement("canvas");
  }

  get isOn() {
    return this.stream !== null;
  }

  async start() {
    if (!navigator.mediaDevices) {
      this.tell("this browser gives no camera to a page that did not come by https");
      return;
    }
    try {
      this.stream = await navigator.mediaDevices.getUserMedia({
        audio: false,
        video: { facingMode: "environment", width: { ideal: WIDEST } },
      });
    } catch (error) {
      this.tell(`no camera: ${error.message}`);
      return;
    }
    this.video.srcObject = this.stream;
    await this.video.play();
    this.detector = await detector();
    this.look();
  }

  stop() {
    if (this.stream === null) return;
    for (const track of this.stream.getTracks()) track.stop();
    this.stream = null;
    this.video.srcObject = null;
  }

  async look() {
    while (this.isOn) {
      try {
        for (const text of await this.codes()) this.offer(text);
      } catch (error) {
        this.tell(`the camera sees, but cannot read: ${error.message}`);
      }
      await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
    }
  }

  async codes() {
    if (!this.video.videoWidth) return [];
    if (this.detector) {
      return (await this.detector.detect(this.video)).map((code) => code.rawValue);
    }
    const scale = Math.min(1, WIDEST / this.video.videoWidth);
    this.canvas.width = Math.round(this.video.videoWidth * scale);
    this.canvas.height = Math.round(this.video.videoHeight * scale);
    this.canvas.getContext("2d").drawImage(
      this.video, 0, 0, this.canvas.width, this.canvas.height);
    const picture = await new Promise((done) => this.canvas.toBlob(done, "image/jpeg", 0.85));
    const form = new FormData();
    form.append("picture", picture, "frame.jpg");
    const { codes } = await talk("/api/v1/frames", { method: "POST", form });
    return codes.slice(0, 1).map((code) => code.text);
  }

  // A code stays in the picture for a while and is meant once.
  offer(text) {
    const now = Date.now();
    const before = this.seen.get(text) || 0;
    this.seen.set(text, now);
    if (now - before > AGAIN_MS) this.take(text);
  }
}
