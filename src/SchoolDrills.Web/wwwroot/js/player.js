// @ts-check
// A drill that flies itself: instruments, a dot on the drawings and the scan, second by second. Called by DrillPlayer.razor.
import { Playback } from './charts/playback.js';
import { Panel } from './player/panel.js';

/**
 * @param {HTMLElement} root
 * @param {FlownDrill} drill
 */
export function open(root, drill) {
  const find = (/** @type {string} */ selector) => /** @type {HTMLElement} */ (root.querySelector(selector));
  const [play, speed] = [find('[data-play]'), /** @type {HTMLSelectElement} */ (find('[data-speed]'))];
  const slider = /** @type {HTMLInputElement} */ (find('[data-time]'));
  const panel = new Panel(root, drill);
  const end = drill.timeS.length - 1;
  let now = 0;
  const show = (/** @type {number} */ time) => {
    now = Math.min(Math.max(time, 0), end);
    slider.value = String(Math.floor(now));
    slider.setAttribute('aria-valuetext', panel.show(now));
  };
  const playback = new Playback({
    now: () => now,
    end: () => end,
    show,
    changed: () => {
      play.textContent = playback.isPlaying ? 'Pause' : 'Play';
      root.dataset.playing = String(playback.isPlaying);
    },
  });
  const toggle = () => {
    if (now >= end) show(0);
    playback.toggle();
  };
  const slide = () => show(Number(slider.value));
  const pace = () => (playback.speed = Number(speed.value));
  play.addEventListener('click', toggle);
  slider.addEventListener('input', slide);
  speed.addEventListener('change', pace);
  slider.max = String(end);
  pace();
  show(0);
  root.dataset.state = 'ready';
  return {
    /** @param {number} time */
    show,
    close() {
      playback.stop();
      play.removeEventListener('click', toggle);
      slider.removeEventListener('input', slide);
      speed.removeEventListener('change', pace);
    },
  };
}
