// What a phone can do to be noticed: a sound, a vibration, a spoken line, a screen that stays on. Each where the browser
// has it.

/** Tones of each signal, `[hertz, seconds]`; 0 is silence. Unlike in number and in which way they go. */
const TONES = {
  spot: [[660, 0.14], [880, 0.2]],
  call: [[520, 0.24], [0, 0.1], [520, 0.24]],
  help: [[440, 0.3], [0, 0.12], [440, 0.3], [0, 0.12], [440, 0.3]],
};
/** Vibration and silence by turns, in milliseconds. */
const SHAKES = { spot: [120, 80, 120], call: [300, 150, 300], help: [500, 200, 500, 200, 500] };
/** Loudness of a tone, and how long it takes to come and go: nothing may startle somebody under a bar. */
const LOUD = 0.2;
const SWELL = 0.04;

const KEPT = "turnabout.signals";
/** Spoken lines are off until somebody wants them. */
const USUAL = { sound: true, vibration: true, awake: true, voice: false };

/** What a device can do, by its name in the settings. */
const THERE = {
  sound: () => typeof AudioContext === "function",
  vibration: () => typeof navigator.vibrate === "function",
  awake: () => "wakeLock" in navigator,
  voice: () => "speechSynthesis" in globalThis,
};

/** The names of all senses, in the order in which they are shown. */
export const SENSES = Object.keys(THERE);

export class Senses {
  #wants = { ...USUAL, ...kept() };
  #audio = null;
  #lock = null;

  constructor() {
    // A browser lets a page be heard only after it was touched.
    for (const touch of ["pointerdown", "keydown"]) addEventListener(touch, () => this.#wakeAudio(), { once: true });
    document.addEventListener("visibilitychange", () => this.#stayAwake());
    this.#stayAwake();
  }

  /** Whether the device can. */
  has = (sense) => THERE[sense]();

  /** Whether it is wanted. */
  wants = (sense) => this.#wants[sense];

  set(sense, wanted) {
    this.#wants[sense] = wanted;
    localStorage.setItem(KEPT, JSON.stringify(this.#wants));
    this.#stayAwake();
    if (sense === "voice" && !wanted && this.has("voice")) speechSynthesis.cancel();
  }

  /** Gives a signal of a kind, with what is spoken. */
  give(kind, text) {
    if (this.#wants.sound) this.#play(TONES[kind]);
    if (this.#wants.vibration && this.has("vibration")) navigator.vibrate(SHAKES[kind]);
    if (this.#wants.voice && this.has("voice")) this.#speak(kind, text);
  }

  #speak(kind, text) {
    // Help is not kept waiting by what was being said.
    if (kind === "help") speechSynthesis.cancel();
    const line = new SpeechSynthesisUtterance(text);
    line.lang = document.documentElement.lang;
    speechSynthesis.speak(line);
  }

  #wakeAudio() {
    if (!this.has("sound")) return;
    this.#audio ??= new AudioContext();
    if (this.#audio.state === "suspended") this.#audio.resume();
  }

  #play(tones) {
    const audio = this.#audio;
    if (audio === null || audio.state !== "running") return;
    const gain = audio.createGain();
    gain.connect(audio.destination);
    gain.gain.value = 0;
    let at = audio.currentTime;
    for (const [hertz, lasts] of tones) {
      if (hertz > 0) {
        const tone = audio.createOscillator();
        tone.frequency.value = hertz;
        tone.connect(gain);
        gain.gain.setValueAtTime(0, at);
        gain.gain.linearRampToValueAtTime(LOUD, at + SWELL);
        gain.gain.setValueAtTime(LOUD, at + lasts - SWELL);
        gain.gain.linearRampToValueAtTime(0, at + lasts);
        tone.start(at);
        tone.stop(at + lasts);
      }
      at += lasts;
    }
  }

  /** A lock is gone whenever the page was hidden. */
  async #stayAwake() {
    if (!this.has("awake")) return;
    const wanted = this.#wants.awake && document.visibilityState === "visible";
    if (!wanted) {
      this.#lock?.release();
      this.#lock = null;
    } else if (this.#lock === null || this.#lock.released) {
      try {
        this.#lock = await navigator.wakeLock.request("screen");
      } catch {
        // Battery saving forbids it: the device's own setting holds.
        this.#lock = null;
      }
    }
  }
}

/** What was chosen on this device; nothing where it cannot be read. */
function kept() {
  try {
    const read = JSON.parse(localStorage.getItem(KEPT) ?? "{}");
    return Object.fromEntries(SENSES.filter((sense) => typeof read[sense] === "boolean").map((sense) => [sense, read[sense]]));
  } catch {
    return {};
  }
}
