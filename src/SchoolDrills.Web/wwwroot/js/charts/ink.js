// Colours, canvases and figures shared by the drawings. Colours come from the style sheet, so that a theme is told in one place.

const COLOURS = ['ink', 'paper', 'hairline', 'muted', 'accent', 'met', 'close', 'not-met', 'not-measured'];

export function readInk(element) {
  const style = getComputedStyle(element);
  const ink = Object.fromEntries(COLOURS.map(name => [name, style.getPropertyValue(`--plot-${name}`).trim()]));
  ink.family = style.fontFamily;
  ink.font = (px, weight = 400) => `${weight} ${px}px ${ink.family}`;
  return ink;
}

/** Sizes a canvas for the screen's pixels and clears it; answers its context in CSS pixels. */
export function clearCanvas(canvas, width, height) {
  const ratio = Math.max(1, window.devicePixelRatio || 1);
  const w = Math.round(width * ratio), h = Math.round(height * ratio);
  if (canvas.width !== w || canvas.height !== h) {
    canvas.width = w;
    canvas.height = h;
  }
  const g = canvas.getContext('2d');
  g.setTransform(ratio, 0, 0, ratio, 0, 0);
  g.clearRect(0, 0, width, height);
  g.lineJoin = 'round';
  return g;
}

/** Diagonal hatching, so that an exceedance is seen without colour as well. */
export function hatching(g, colour) {
  const tile = document.createElement('canvas');
  tile.width = tile.height = 6;
  const h = tile.getContext('2d');
  h.strokeStyle = colour;
  h.lineWidth = 1.1;
  h.beginPath();
  for (const x of [-6, 0, 6]) {
    h.moveTo(x, 6);
    h.lineTo(x + 6, 0);
  }
  h.stroke();
  return g.createPattern(tile, 'repeat');
}

export function fade(g, alpha, draw) {
  const before = g.globalAlpha;
  g.globalAlpha = before * alpha;
  draw();
  g.globalAlpha = before;
}

export function clock(seconds) {
  const whole = Math.round(Math.abs(seconds));
  const h = Math.floor(whole / 3600), m = Math.floor(whole / 60) % 60, s = String(whole % 60).padStart(2, '0');
  const text = h > 0 ? `${h}:${String(m).padStart(2, '0')}:${s}` : `${m}:${s}`;
  return seconds < 0 && whole > 0 ? `−${text}` : text;
}

/** 3,120 ft, 035°, −0.4°/s; with sign "+120 ft". */
export function figure(value, unit, sign = false) {
  if (!Number.isFinite(value)) return '–';
  if (unit === '°' && !sign) return `${bearing(value)}°`;
  const text = Math.abs(value).toLocaleString('en-US', unit === '°/s' ? { minimumFractionDigits: 1, maximumFractionDigits: 1 } : { maximumFractionDigits: 0 });
  const zero = !/[1-9]/.test(text);
  const mark = zero ? '' : value < 0 ? '−' : sign ? '+' : '';
  return `${mark}${text}${unit.startsWith('°') ? '' : ' '}${unit}`;
}

/** 001 to 360. */
export function bearing(deg) {
  const whole = ((Math.round(deg) % 360) + 360) % 360;
  return String(whole === 0 ? 360 : whole).padStart(3, '0');
}

/** The greatest of 1, 2, 5 and their powers of ten that is not more. */
export function roundStepBelow(most) {
  const power = 10 ** Math.floor(Math.log10(most));
  return power * [5, 2, 1].find(m => m * power <= most * 1.001);
}

/** A round step that puts about `count` marks on a span. */
export function roundStep(span, count) {
  const raw = span / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(raw));
  return power * [1, 2, 5, 10].find(m => m * power >= raw * 0.999);
}
