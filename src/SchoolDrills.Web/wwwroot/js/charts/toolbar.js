// @ts-check
// The buttons above the strips: playback and the time shown.

/** @typedef {import('./plots.js').Plots} Plots */

/**
 * @param {Plots} plots
 * @param {AbortSignal} signal
 */
export function attachToolbar(plots, signal) {
  const { root, playback } = plots;
  for (const button of buttons(root, '[data-zoom]')) button.addEventListener('click', () => plots.command(button.dataset.zoom), { signal });
  for (const button of buttons(root, '[data-speed]'))
    button.addEventListener('click', () => playback.setSpeed(Number(button.dataset.speed)), { signal });
  for (const button of buttons(root, '[data-play]')) button.addEventListener('click', () => playback.toggle(), { signal });
  showPlayback(root, playback);
}

/**
 * @param {HTMLElement} root
 * @param {{ isPlaying: boolean, speed: number }} playback
 */
export function showPlayback(root, { isPlaying, speed }) {
  root.dataset.playing = String(isPlaying);
  for (const button of buttons(root, '[data-play]')) {
    button.ariaLabel = isPlaying ? 'Pause' : 'Play';
    button.dataset.play = isPlaying ? 'pause' : 'play';
  }
  for (const button of buttons(root, '[data-speed]')) button.ariaPressed = String(Number(button.dataset.speed) === speed);
}

/**
 * @param {HTMLElement} root
 * @param {string} kind
 */
function buttons(root, kind) {
  return /** @type {NodeListOf<HTMLElement>} */ (root.querySelectorAll(`button${kind}`));
}
