// @ts-check
// Fits the card: its type gets smaller while something of it would be cut off, and on a narrow screen the whole sheet does.

const SMALLEST_PT = 4.5;

/** @param {HTMLElement} frame */
export function fit(frame) {
  const card = /** @type {HTMLElement | null} */ (frame.querySelector('.card'));
  if (!card) return;
  card.style.zoom = '1';
  let size = parseFloat(card.style.getPropertyValue('--type'));
  while (size > SMALLEST_PT && (card.scrollHeight > card.clientHeight + 1 || cut(card))) {
    size -= 0.1;
    card.style.setProperty('--type', `${size.toFixed(2)}pt`);
  }
  const narrow = () => {
    card.style.zoom = '1';
    card.style.zoom = String(Math.min(1, frame.clientWidth / card.offsetWidth));
  };
  narrow();
  card.dataset.fits = '';
  addEventListener('resize', narrow, { passive: true });
}

/**
 * Whether a part is wider than its place.
 * @param {HTMLElement} card
 */
const cut = card => [...card.querySelectorAll('.pilot, .entry')].some(part => part.scrollWidth > part.clientWidth + 1);
