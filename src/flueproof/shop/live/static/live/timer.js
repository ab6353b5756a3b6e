// The timer: time since gas on, a call at each mark (spoken by readers, a sound only if wanted), the row that is due.

const SOUND = "flueproof-live-sound";
const SHOW_CALL_S = 12;

function clockText(seconds) {
  return `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;
}

let audio = null;

function beep() {
  audio ??= new AudioContext();
  const tone = audio.createOscillator();
  const loudness = audio.createGain();
  tone.frequency.value = 880;
  loudness.gain.setValueAtTime(0.2, audio.currentTime);
  loudness.gain.exponentialRampToValueAtTime(0.001, audio.currentTime + 0.35);
  tone.connect(loudness).connect(audio.destination);
  tone.start();
  tone.stop(audio.currentTime + 0.4);
}

export class Timer {
  constructor(panel) {
    this.panel = panel;
    this.marks = (panel.dataset.marks ?? "").split(" ").filter(Boolean).map(Number);
    this.called = null;
    this.began = null;
    this.warmAt = performance.now() + Number(panel.querySelector("[data-warm-in-ms]")?.dataset.warmInMs ?? 0);
    this.cold = false;
    if (panel.dataset.onForMs) this.start(Number(panel.dataset.onForMs));
    this.sound = panel.querySelector("[data-sound]");
    if (this.sound) {
      this.sound.checked = localStorage.getItem(SOUND) === "on";
      this.sound.addEventListener("change", () => localStorage.setItem(SOUND, this.sound.checked ? "on" : "off"));
    }
    this.tick();
    this.ticking = setInterval(() => (panel.isConnected ? this.tick() : clearInterval(this.ticking)), 200);
  }

  get running() {
    return this.began !== null;
  }

  start(elapsedMs = 0) {
    this.began = performance.now() - elapsedMs;
    this.called ??= this.marks.filter((mark) => mark * 1000 < elapsedMs - SHOW_CALL_S * 1000).at(-1) ?? null;
    this.panel.querySelector(".live-timer")?.classList.add("on");
    this.panel.querySelector("[data-start]")?.setAttribute("hidden", "");
  }

  sync(elapsedMs) {
    if (elapsedMs === null || elapsedMs === undefined) return;
    if (!this.running || Math.abs(performance.now() - this.began - elapsedMs) > 1500) this.start(elapsedMs);
  }

  // Pressed too early it asks once: the gas would be spent on a run that does not count.
  mayStart() {
    if (this.warmAt <= performance.now() || this.cold) return true;
    this.cold = true;
    this.tick();
    return false;
  }

  tellWarming() {
    const place = this.panel.querySelector("[data-warming]");
    if (!place) return;
    const left = (this.warmAt - performance.now()) / 1000;
    place.hidden = this.running || left <= 0;
    const rest = `It warms up for ${clockText(Math.max(0, Math.ceil(left)))} more; gas put on before does not count.`;
    const words = this.cold ? `${rest} Press again to put it on all the same.` : rest;
    if (place.textContent !== words) place.textContent = words;
  }

  tick() {
    this.tellWarming();
    if (!this.running) return;
    const seconds = (performance.now() - this.began) / 1000;
    const clock = this.panel.querySelector("[data-clock]");
    if (clock) clock.textContent = clockText(seconds);
    const due = this.marks.filter((mark) => mark <= seconds).at(-1);
    if (due !== undefined && due !== this.called) this.call(due);
    const next = this.marks.find((mark) => mark > seconds);
    const place = this.panel.querySelector("[data-next-call]");
    if (place) place.textContent = next === undefined ? "the last call is past; record when all have settled enough" : `next call at ${next} s`;
  }

  // The caret follows the calls, but never out of a field that is being filled in.
  mayMove(active, mark) {
    if (active === document.body || active?.closest("[data-start]")) return true;
    return Boolean(active?.matches("[data-typed]") && this.panel.contains(active) && !active.value && Number(active.dataset.mark) < mark);
  }

  call(mark) {
    this.called = mark;
    const channels = [...this.panel.querySelectorAll(".channel h3")].map((one) => one.textContent);
    const titles = this.panel.dataset.reads ?? channels.join(", ");
    const place = this.panel.querySelector("[data-call]");
    if (place) place.textContent = `${mark} s: read ${titles}`;
    for (const row of this.panel.querySelectorAll("tr[data-mark]")) row.toggleAttribute("data-now", Number(row.dataset.mark) === mark);
    const first = this.panel.querySelector(`tr[data-mark="${mark}"] [data-typed]`);
    if (first && !first.value && this.mayMove(document.activeElement, mark)) first.focus({ preventScroll: true });
    if (this.sound?.checked) beep();
  }
}
