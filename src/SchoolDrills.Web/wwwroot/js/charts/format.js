// @ts-check
// Times and figures as the drawings print them.

/**
 * 1:30; 1:02:03 from an hour on.
 * @param {number} seconds
 */
export function clock(seconds) {
  const whole = Math.round(Math.abs(seconds));
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  const rest = String(whole % 60).padStart(2, '0');
  const text = hours > 0 ? `${hours}:${String(minutes).padStart(2, '0')}:${rest}` : `${minutes}:${rest}`;
  return seconds < 0 && whole > 0 ? `−${text}` : text;
}

/**
 * 3,120 ft, 035°, −0.4°/s; with a sign "+120 ft".
 * @param {number} value
 * @param {string} unit
 * @param {boolean} [withSign]
 */
export function figure(value, unit, withSign = false) {
  if (!Number.isFinite(value)) return '–';
  if (unit === '°' && !withSign) return `${bearing(value)}°`;
  const digits = unit === '°/s' ? 1 : 0;
  const text = Math.abs(value).toLocaleString('en-US', { minimumFractionDigits: digits, maximumFractionDigits: digits });
  const isZero = !/[1-9]/.test(text);
  const sign = isZero ? '' : value < 0 ? '−' : withSign ? '+' : '';
  return `${sign}${text}${unit.startsWith('°') ? '' : ' '}${unit}`;
}

/**
 * 001 to 360.
 * @param {number} deg
 */
export function bearing(deg) {
  const whole = ((Math.round(deg) % 360) + 360) % 360;
  return String(whole === 0 ? 360 : whole).padStart(3, '0');
}

/**
 * The greatest of 1, 2, 5 and their powers of ten that is not more.
 * @param {number} most
 */
export function roundStepBelow(most) {
  const power = 10 ** Math.floor(Math.log10(most));
  return power * ([5, 2, 1].find(m => m * power <= most * 1.001) ?? 1);
}

/**
 * A round step that puts about so many marks on a span.
 * @param {number} span
 * @param {number} count
 */
export function roundStep(span, count) {
  const raw = span / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(raw));
  return power * ([1, 2, 5, 10].find(m => m * power >= raw * 0.999) ?? 10);
}
