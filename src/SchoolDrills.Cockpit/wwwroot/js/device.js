// @ts-check
// The tablet itself: its positions, screen, battery, voice and sounds.
import { addPosition } from './store.js';

/** Positions come more often on some devices; one a second is enough for any drill. */
const leastMs = 900;

// Positions are dated by the clock that dates the marks: what a device says of a position's own time is now of the satellites, now of
// its own clock.
let clockMs = Date.now() - performance.now();

/**
 * Sets the clock of the recorder.
 * @param {number} nowMs
 */
export const setClock = nowMs => {
  clockMs = nowMs - performance.now();
};

/** @type {number | undefined} */
let watch;
let lastMs = 0;
/** @type {Omit<import('./store.js').Position, 'flight' | 'altAccuracyM'> | null} */
let latest = null;
let trouble = '';
let kept = 0;

/**
 * Keeps the device's positions for a flight until told to stop. Positions go to the store from here, before any page sees them.
 * @param {string} flight
 */
export function record(flight) {
  stop();
  kept = 0;
  trouble = navigator.geolocation ? 'Waiting for the first position.' : 'This device tells no position.';
  watch = navigator.geolocation?.watchPosition(
    async ({ coords }) => {
      const atMs = clockMs + performance.now();
      if (atMs - lastMs < leastMs) return;
      lastMs = atMs;
      const position = {
        atMs,
        lat: coords.latitude,
        lon: coords.longitude,
        altM: coords.altitude,
        speedMps: coords.speed,
        courseDeg: coords.heading,
        accuracyM: coords.accuracy,
      };
      try {
        await addPosition({ flight, altAccuracyM: coords.altitudeAccuracy, ...position });
        latest = position;
        kept++;
        trouble = '';
      } catch {
        trouble = 'The device has no room for more positions.';
      }
    },
    error => {
      trouble =
        error.code === error.PERMISSION_DENIED
          ? 'This device may not use its position: allow it in the browser’s settings for this site.'
          : 'No position at the moment.';
    },
    { enableHighAccuracy: true, maximumAge: 0 },
  );
}

export function stop() {
  if (watch !== undefined) navigator.geolocation.clearWatch(watch);
  watch = undefined;
  latest = null;
  trouble = '';
  lastMs = 0;
}

/** The recorder as it stands, as JSON. */
export const recorder = () => JSON.stringify({ recording: watch !== undefined, trouble, kept, latest });

/** @type {WakeLockSentinel | undefined} */
let wake;
let wanted = false;

async function hold() {
  if (!wanted || document.visibilityState !== 'visible' || (wake && !wake.released)) return;
  try {
    wake = await navigator.wakeLock?.request('screen');
  } catch {
    wake = undefined;
  }
}
document.addEventListener('visibilitychange', hold);

/**
 * Keeps the screen on; says whether the browser lets it.
 * @param {boolean} on
 */
export async function awake(on) {
  wanted = on;
  if (on) await hold();
  else await wake?.release();
  return !!wake && !wake.released;
}

/** Charge left, 0 to 1; null where the browser does not tell. */
export async function battery() {
  const { getBattery } = /** @type {{ getBattery?: () => Promise<{ level: number }> }} */ (/** @type {unknown} */ (navigator));
  return getBattery ? (await getBattery.call(navigator)).level : null;
}

/** @type {AudioContext | undefined} */
let audio;

/** A browser sounds only after a touch: called by one. */
export function loud() {
  audio ??= new AudioContext();
  if (audio.state === 'suspended') audio.resume();
}

/**
 * One or two short tones.
 * @param {number} times
 */
export function tone(times) {
  if (!audio) return;
  for (let i = 0; i < times; i++) {
    const at = audio.currentTime + i * 0.25;
    const gain = audio.createGain();
    gain.gain.setValueAtTime(0.4, at);
    gain.gain.exponentialRampToValueAtTime(0.001, at + 0.18);
    gain.connect(audio.destination);
    const oscillator = audio.createOscillator();
    oscillator.frequency.value = 880;
    oscillator.connect(gain);
    oscillator.start(at);
    oscillator.stop(at + 0.2);
  }
}

/** Whether the device has a voice of its own, which needs no network. */
export const hasVoice = () => !!window.speechSynthesis?.getVoices().some(v => v.localService);

/** @param {string} text */
export function say(text) {
  const voice = window.speechSynthesis?.getVoices().find(v => v.localService && v.lang.startsWith('en'));
  if (!window.speechSynthesis) return;
  const words = new SpeechSynthesisUtterance(text);
  if (voice) words.voice = voice;
  words.lang = 'en';
  speechSynthesis.cancel();
  speechSynthesis.speak(words);
}

/**
 * Saves bytes as a file where the person wants it.
 * @param {string} name
 * @param {Uint8Array<ArrayBuffer>} bytes
 */
export function saveFile(name, bytes) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([bytes], { type: 'text/csv' }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

export const online = () => navigator.onLine;

/** Whether browsers keep a page, tell positions and hold the screen here: only over TLS, or on the machine itself. */
export const secure = () => window.isSecureContext;

/** @param {{ invokeMethodAsync: (name: string) => Promise<void> }} page */
export function listen(page) {
  window.addEventListener('online', () => page.invokeMethodAsync('BackOnline'));
  document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && page.invokeMethodAsync('Seen'));
}

/** @param {string} look */
export function wear(look) {
  document.documentElement.dataset.look = look;
}
