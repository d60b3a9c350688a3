// @ts-check
// The overlay under one cursor: keys and pointer move it, and what both attempts read there is said.
import { clock, figure } from '../charts/format.js';
import { readPalette } from '../charts/palette.js';
import { drawOverlayPlan, drawOverlayStrips, LEFT, stripsHeight } from './drawing.js';
import { pathsOf, stripsOf } from './lines.js';

/** How far from a moment a sample may be to be read there. */
const NEAR_S = 3;

export class OverlayPlots {
  #closing = new AbortController();
  #cursor = 0;

  /**
   * @param {HTMLElement} root
   * @param {Overlay} overlay
   * @param {number | null} selected
   */
  constructor(root, overlay, selected) {
    this.root = root;
    this.overlay = overlay;
    this.selected = selected;
    this.data = stripsOf(overlay);
    this.plan = /** @type {HTMLElement} */ (root.querySelector('.plan'));
    this.strips = /** @type {HTMLElement} */ (root.querySelector('.strips'));
    this.readout = /** @type {HTMLElement} */ (root.querySelector('.readout'));
    this.canvases = { plan: canvas(this.plan), strips: canvas(this.strips) };
    this.#cursor = this.view.from;
    this.#listen();
  }

  get view() {
    const chosen = this.overlay.segments.find(s => s.index === this.selected);
    if (chosen) return { from: chosen.startS, to: chosen.startS + Math.max(chosen.lengthS, 1) };
    const last = this.overlay.segments.at(-1);
    return { from: 0, to: Math.max(1, last ? last.startS + last.lengthS : 1) };
  }

  /** @param {number | null} index */
  select(index) {
    this.selected = this.overlay.segments.some(s => s.index === index) ? index : null;
    this.moveTo(this.view.from);
  }

  /** @param {number} s */
  moveTo(s) {
    this.#cursor = Math.min(Math.max(s, this.view.from), this.view.to);
    this.draw();
  }

  draw() {
    const [wide, across] = [this.strips.clientWidth, this.plan.clientWidth];
    if (!wide || !across) return;
    const { overlay, view, selected } = this;
    const palette = readPalette(this.root);
    const high = Math.round(Math.min(Math.max(across * 0.9, 240), stripsHeight(this.data.length)));
    this.plan.style.setProperty('--drawn-height', `${high}px`);
    this.strips.style.setProperty('--drawn-height', `${stripsHeight(this.data.length)}px`);
    drawOverlayStrips(this.canvases.strips, wide, { strips: this.data, overlay, palette, view, cursor: this.#cursor });
    drawOverlayPlan(
      this.canvases.plan,
      { width: across, height: high },
      {
        one: pathsOf(overlay, 'this', selected),
        other: pathsOf(overlay, 'other', selected),
        palette,
        at: { one: this.#place('this'), other: this.#place('other') },
      },
    );
    this.#say();
  }

  close() {
    this.#closing.abort();
    for (const each of Object.values(this.canvases)) each.remove();
  }

  /** The segment at the cursor; the later one where two meet. */
  #segment() {
    return this.overlay.segments.findLast(s => s.startS <= this.#cursor + 0.001);
  }

  /**
   * Where an attempt was at the cursor.
   * @param {'this' | 'other'} whose
   * @returns {readonly [number, number] | null}
   */
  #place(whose) {
    const segment = this.#segment();
    const trace = segment?.[whose];
    if (!segment || !trace) return null;
    const s = this.#cursor - segment.startS;
    const i = trace.timeS.reduce((best, t, k) => (Math.abs(t - s) < Math.abs(trace.timeS[best] - s) ? k : best), 0);
    if (Math.abs(trace.timeS[i] - s) > NEAR_S) return null;
    const [x, y] = this.selected === null ? [0, 0] : [trace.eastM[0], trace.northM[0]];
    return [trace.eastM[i] - x, trace.northM[i] - y];
  }

  #say() {
    const segment = this.#segment();
    const since = segment ? this.#cursor - segment.startS : 0;
    const reach = segment ? { from: segment.startS, to: segment.startS + segment.lengthS } : this.view;
    const where = segment ? `${segment.index + 1}. ${segment.name}, ${clock(since)}` : clock(this.#cursor);
    const readings = this.data.flatMap(({ name, unit, one, other }) => {
      const [now, then] = [reading(one, this.#cursor, reach), reading(other, this.#cursor, reach)];
      return now === null && then === null ? [] : [`${name} ${words(now, unit)}, other ${words(then, unit)}`];
    });
    this.readout.textContent = [where, ...readings].join(' · ');
    this.strips.ariaValueMin = String(Math.round(this.view.from));
    this.strips.ariaValueMax = String(Math.round(this.view.to));
    this.strips.ariaValueNow = String(Math.round(this.#cursor));
    this.strips.ariaValueText = [`Segment ${where}`, ...readings].join('; ');
  }

  #listen() {
    const { signal } = this.#closing;
    this.strips.addEventListener('keydown', event => this.#onKey(event), { signal });
    const follow = (/** @type {PointerEvent} */ event) => {
      if (event.type === 'pointermove' && event.pointerType === 'touch' && !event.buttons) return;
      const across = this.strips.clientWidth - 8 - LEFT;
      this.moveTo(this.view.from + ((event.offsetX - LEFT) / across) * (this.view.to - this.view.from));
    };
    this.strips.addEventListener('pointerdown', follow, { signal });
    this.strips.addEventListener('pointermove', follow, { signal });
    const again = () => this.draw();
    const sizes = new ResizeObserver(again);
    sizes.observe(this.root);
    const theme = new MutationObserver(again);
    theme.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', again, { signal });
    signal.addEventListener('abort', () => {
      sizes.disconnect();
      theme.disconnect();
    });
  }

  /** @param {KeyboardEvent} event */
  #onKey(event) {
    const step = event.shiftKey ? 10 : 1;
    const starts = this.overlay.segments.map(s => s.startS);
    const to = {
      ArrowRight: this.#cursor + step,
      ArrowUp: this.#cursor + step,
      ArrowLeft: this.#cursor - step,
      ArrowDown: this.#cursor - step,
      PageDown: starts.find(s => s > this.#cursor + 0.01) ?? this.view.to,
      PageUp: starts.findLast(s => s < this.#cursor - 0.01) ?? this.view.from,
      Home: this.view.from,
      End: this.view.to,
    }[event.key];
    if (to === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    this.moveTo(to);
  }
}

/**
 * What a line reads at a moment, within one segment; null where it has no sample near.
 * @param {OverlayLine} line
 * @param {number} s
 * @param {{ from: number, to: number }} within
 */
function reading(line, s, within) {
  let [best, off] = [/** @type {number | null} */ (null), NEAR_S];
  for (const p of line) {
    if (!p || p.s < within.from || p.s > within.to || Math.abs(p.s - s) >= off) continue;
    [best, off] = [p.v, Math.abs(p.s - s)];
  }
  return best;
}

/**
 * @param {number | null} value
 * @param {string} unit
 */
function words(value, unit) {
  return value === null ? 'not measured' : figure(value, unit);
}

/** @param {HTMLElement} parent */
function canvas(parent) {
  const element = document.createElement('canvas');
  element.ariaHidden = 'true';
  parent.append(element);
  return element;
}
