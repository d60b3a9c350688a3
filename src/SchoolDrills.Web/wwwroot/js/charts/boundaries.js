// @ts-check
// Segment boundaries moved by hand: a handle for each, dragged or moved by keys, and stretches to leave out. Nothing is kept here
// but what is pending; the page sends it to be scored.
import { clock } from './format.js';
import { timeOf, xOf } from './layout.js';

const JOINED_S = 0.5;
const LEAST_S = 1;
const SAME_S = 0.05;

/**
 * Where one segment ends as the next begins there is one boundary, the start of the second.
 * @typedef {object} Boundary
 * @property {number} index segment
 * @property {'start' | 'end'} edge
 * @property {number} time
 * @property {number} engineS where the engine has it
 * @property {number | null} before segment that ends here as well
 * @property {HTMLElement} element its handle
 */

/** @typedef {{ times: number[], excluded: Stretch[] }} Snapshot */

/** @typedef {import('./plots.js').Plots} Plots */

export class Boundaries {
  /** @type {Snapshot[]} */
  #past = [];
  /**
   * As it was when a drag began.
   * @type {Snapshot | null}
   */
  #before = null;

  /**
   * @param {HTMLElement} frame element over the strips that the handles go into
   * @param {Plots} plots
   * @param {(pending: PendingAdjustments) => void} changed called with what is pending whenever it changes
   */
  constructor(frame, plots, changed) {
    this.frame = frame;
    this.plots = plots;
    this.changed = changed;
    this.shown = plots.drill.segments;
    this.given = plots.drill.engine;
    this.engine = this.given.length ? this.given : this.shown.map(s => ({ ...s }));
    this.list = this.#boundariesOf(this.shown, this.engine);
    this.first = this.#snapshot();
    plots.drill.engine = this.engine;
    frame.hidden = false;
    frame.replaceChildren(...this.list.map(b => b.element));
    this.place();
  }

  /** Drops what is pending and takes the handles away. */
  close() {
    this.plots.drill.engine = this.given;
    this.#restore(this.first);
    this.#past = [];
    this.frame.hidden = true;
    this.frame.replaceChildren();
  }

  /** Puts the handles where the strips now show their times. */
  place() {
    const { stripLayout: layout, view, drill } = this.plots;
    for (const b of this.list) {
      const x = xOf(layout, view, b.time);
      b.element.style.left = `${x}px`;
      b.element.style.height = `${layout.axis}px`;
      b.element.hidden = x < layout.left - 1 || x > layout.right + 1;
      b.element.dataset.moved = String(isMoved(b));
      const [lowest, highest] = this.#limits(b).map(t => String(Math.round(drill.clockAt(t))));
      b.element.ariaValueMin = lowest;
      b.element.ariaValueMax = highest;
      b.element.ariaValueNow = drill.clockAt(b.time).toFixed(1);
      b.element.ariaValueText = this.#words(b);
    }
  }

  /**
   * A stretch that is not to be judged; within another it is that one made longer.
   * @param {number} fromS
   * @param {number} toS
   */
  exclude(fromS, toS) {
    const { drill } = this.plots;
    const before = this.#snapshot();
    const [from, to] = [Math.min(fromS, toS), Math.max(fromS, toS)];
    if (to - from < LEAST_S) return;
    const touching = drill.excluded.filter(s => s.startS <= to && s.endS >= from);
    const whole = { startS: Math.min(from, ...touching.map(s => s.startS)), endS: Math.max(to, ...touching.map(s => s.endS)) };
    drill.excluded = [...drill.excluded.filter(s => !touching.includes(s)), whole].sort((a, b) => a.startS - b.startS);
    this.#apply();
    this.#remember(before);
  }

  /** @param {number} place of the stretch that is to be judged after all */
  include(place) {
    const before = this.#snapshot();
    this.plots.drill.excluded = this.plots.drill.excluded.filter((_, i) => i !== place);
    this.#apply();
    this.#remember(before);
  }

  undo() {
    const before = this.#past.pop();
    if (before) this.#restore(before);
    this.#report();
  }

  /**
   * @param {Segment[]} segments
   * @param {Segment[]} engine
   */
  #boundariesOf(segments, engine) {
    /** @type {Boundary[]} */
    const list = [];
    segments.forEach((segment, k) => {
      const found = engine.find(e => e.index === segment.index) ?? segment;
      const last = segments[k - 1];
      const next = segments[k + 1];
      const name = `of segment ${segment.index + 1}, ${segment.name}`;
      const { index } = segment;
      const before = last && Math.abs(segment.startS - last.endS) < JOINED_S ? last.index : null;
      list.push(this.#withHandle({ index, edge: 'start', time: segment.startS, engineS: found.startS, before }, `Start ${name}`));
      if (next && Math.abs(next.startS - segment.endS) < JOINED_S) return;
      list.push(this.#withHandle({ index, edge: 'end', time: segment.endS, engineS: found.endS, before: null }, `End ${name}`));
    });
    return list;
  }

  /**
   * @param {Omit<Boundary, 'element'>} place
   * @param {string} name
   */
  #withHandle(place, name) {
    const element = document.createElement('div');
    /** @type {Boundary} */
    const b = { ...place, element };
    Object.assign(element, { className: 'handle', tabIndex: 0, role: 'slider', ariaLabel: name, ariaOrientation: 'horizontal' });
    element.addEventListener('pointerdown', event => this.#grab(event, b));
    element.addEventListener('pointermove', event => this.#drag(event, b));
    for (const type of ['pointerup', 'pointercancel']) element.addEventListener(type, () => this.#release(b));
    element.addEventListener('keydown', event => this.#onKey(event, b));
    element.addEventListener('focus', () => this.plots.moveTo(b.time));
    return b;
  }

  /** @param {Boundary} b */
  #words(b) {
    const at = this.plots.drill.clockAt(b.time);
    const tenth = Math.round(Math.abs(at) * 10) % 10;
    const off = b.time - b.engineS;
    const moved = `${Math.abs(off).toFixed(1)} s ${off > 0 ? 'later' : 'earlier'} than the engine`;
    return `${clock(Math.trunc(at))}${tenth ? `.${tenth}` : ''}, ${isMoved(b) ? moved : 'where the engine has it'}`;
  }

  /** @param {Boundary} b */
  #limits(b) {
    const k = this.list.indexOf(b);
    const { from, to } = this.plots.times.whole;
    return [(this.list[k - 1]?.time ?? from - LEAST_S) + LEAST_S, (this.list[k + 1]?.time ?? to + LEAST_S) - LEAST_S];
  }

  /**
   * @param {Boundary} b
   * @param {number} time
   */
  #move(b, time) {
    const [lowest, highest] = this.#limits(b);
    b.time = Math.round(Math.min(Math.max(time, lowest), highest) * 10) / 10;
    this.#apply();
    this.plots.moveTo(b.time);
  }

  /**
   * @param {PointerEvent} event
   * @param {Boundary} b
   */
  #grab(event, b) {
    if (event.button !== 0) return;
    event.preventDefault();
    b.element.focus();
    b.element.setPointerCapture(event.pointerId);
    this.#before = this.#snapshot();
  }

  /**
   * @param {PointerEvent} event
   * @param {Boundary} b
   */
  #drag(event, b) {
    if (!this.#before) return;
    const { left } = this.frame.getBoundingClientRect();
    this.#move(b, timeOf(this.plots.stripLayout, this.plots.view, event.clientX - left));
  }

  /** @param {Boundary} b */
  #release(b) {
    const before = this.#before;
    this.#before = null;
    if (before && before.times[this.list.indexOf(b)] !== b.time) this.#remember(before);
  }

  /**
   * @param {KeyboardEvent} event
   * @param {Boundary} b
   */
  #onKey(event, b) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const step = event.shiftKey ? 0.2 : 1;
    /** @type {Record<string, number>} */
    const steps = { ArrowRight: step, ArrowUp: step, ArrowLeft: -step, ArrowDown: -step, PageUp: 5, PageDown: -5 };
    if (!(event.key in steps)) return;
    event.preventDefault();
    const before = this.#snapshot();
    this.#move(b, b.time + steps[event.key]);
    this.#remember(before);
  }

  #snapshot() {
    return { times: this.list.map(b => b.time), excluded: this.plots.drill.excluded };
  }

  /** @param {Snapshot} snapshot */
  #restore({ times, excluded }) {
    this.list.forEach((b, k) => {
      b.time = times[k];
    });
    this.plots.drill.excluded = excluded;
    this.#apply();
  }

  /** @param {Snapshot} before */
  #remember(before) {
    this.#past.push(before);
    this.#report();
  }

  #apply() {
    /** @param {(b: Boundary) => boolean} isIt */
    const timeOfIts = isIt => this.list.find(isIt)?.time;
    this.plots.drill.segments = this.shown.map(s => ({
      ...s,
      startS: timeOfIts(b => b.index === s.index && b.edge === 'start') ?? s.startS,
      endS: timeOfIts(b => b.index === s.index && b.edge === 'end') ?? timeOfIts(b => b.before === s.index) ?? s.endS,
    }));
    this.plots.redraw();
  }

  #report() {
    const { msAt, excluded } = this.plots.drill;
    this.changed({
      boundaries: this.list
        .filter(isMoved)
        .map(({ index, edge, time, engineS }) => ({ index, edge, atMs: msAt(time), engineMs: msAt(engineS) })),
      excluded: excluded.map(s => ({ startMs: msAt(s.startS), endMs: msAt(s.endS) })),
      steps: this.#past.length,
    });
  }
}

/** @param {Boundary} b */
function isMoved(b) {
  return Math.abs(b.time - b.engineS) > SAME_S;
}
