// @ts-check
// Colors come from the style sheet, so that a theme is stated in one place.
import { hatching } from './canvas.js';

/** @type {Exclude<keyof Palette, 'font' | 'hatch' | 'pause'>[]} */
const COLORS = ['ink', 'paper', 'hairline', 'muted', 'accent', 'met', 'close', 'not-met', 'not-measured'];

/**
 * @param {Element} element
 * @returns {Palette}
 */
export function readPalette(element) {
  const style = getComputedStyle(element);
  const colors = Object.fromEntries(COLORS.map(name => [name, style.getPropertyValue(`--plot-${name}`).trim()]));
  /** @type {Palette['font']} */
  const font = (px, weight = 400) => `${weight} ${px}px ${style.fontFamily}`;
  return /** @type {Palette} */ ({ ...colors, font, hatch: hatching(colors['not-met']), pause: hatching(colors.muted) });
}
