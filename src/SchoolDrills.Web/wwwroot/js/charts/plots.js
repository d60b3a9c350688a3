// @ts-check
// The plots of one attempt under one cursor: what the page asks of them, and what gestures make of them.
import { ariaValues } from './aria-values.js';
import { Boundaries } from './boundaries.js';
import { ClockFace } from './clock-face.js';
import { indexAt, nearestTo } from './columns.js';
import { Drawings } from './drawings.js';
import { segmentAt } from './drill.js';
import { clock } from './format.js';
import { attachGestures } from './gestures.js';
import { laidOver } from './laid-over.js';
import { laneAt } from './lane.js';
import { Playback } from './playback.js';
import { TimeView } from './time-view.js';
import { attachToolbar, showPlayback } from './toolbar.js';

export class Plots {
  /** A drag across the strips excludes that stretch instead of zooming to it. */
  isExcluding = false;
  /** @type {number | null} */
  #selected = null;
  #isComparing = false;
  /** @type {Boundaries | null} */
  #boundaries = null;
  /**
   * Where a stretch to exclude was begun by keyboard.
   * @type {number | null}
   */
  #stretchFrom = null;
  #closing = new AbortController();

  /**
   * @param {HTMLElement} root
   * @param {Flight} flight
   * @param {Drill} drill
   * @param {DotNetObject | null} page
   */
  constructor(root, flight, drill, page) {
    this.root = root;
    this.flight = flight;
    this.drill = drill;
    this.page = page;
    this.readout = this.#find('.readout');
    this.times = new TimeView(flight, drill.segments);
    this.time = this.#firstFrom(this.times.drill.from);
    this.drawings = new Drawings(root, flight, drill, this.times);
    this.face = new ClockFace(this.#find('.face'), flight, drill);
    this.playback = new Playback({
      now: () => this.time,
      end: () => (this.time < this.times.drill.to ? this.times.drill.to : this.times.whole.to),
      show: time => this.moveTo(time),
      changed: () => this.#showPlayback(),
    });
    this.#listen();
  }

  get view() {
    return this.times.shown;
  }

  get plan() {
    return this.drawings.plan;
  }

  get strips() {
    return this.drawings.strips;
  }

  get stripLayout() {
    return this.drawings.stripLayout;
  }

  redraw() {
    if (!this.drawings.draw(this.#selected, this.#isComparing)) return;
    this.#boundaries?.place();
    this.show(this.time);
  }

  /**
   * Moves the cursor; the drawings beneath it stay as they are.
   * @param {number} time
   */
  show(time) {
    this.time = time;
    this.drawings.drawCursor(time, this.#stretchFrom);
    this.face.show(time, nearestTo(this.flight.t, time));
    const readout = `${clock(this.drill.clockAt(time))}  ${this.#wordsAt(time)}`;
    if (readout !== this.readout.textContent) this.readout.textContent = readout;
    if (!this.playback.isPlaying) this.#describe();
  }

  /**
   * Called by the page: highlights a segment and zooms to it; null shows the whole drill again.
   * @param {number | null} index
   */
  select(index) {
    this.#selected = index ?? null;
    const segment = this.drill.segments.find(s => s.index === index);
    if (segment) this.time = this.#firstFrom(segment.startS);
    this.zoom(segment ? this.times.around({ from: segment.startS, to: segment.endS }, 6, 0.15) : this.times.home);
  }

  /**
   * Called by the page: shows a moment, in milliseconds since 1970.
   * @param {number} ms
   */
  goTo(ms) {
    this.moveTo(this.times.clamp((ms - this.drill.msAt(0)) / 1000));
    this.root.scrollIntoView({ block: 'nearest' });
  }

  /**
   * Called by the page: handles on the boundaries, or none; what was pending is dropped with them.
   * @param {boolean} isOn
   */
  adjust(isOn) {
    if (isOn === (this.#boundaries !== null)) return;
    if (isOn) {
      const report = (/** @type {PendingAdjustments} */ pending) => this.page?.invokeMethodAsync('Adjusted', pending);
      this.#boundaries = new Boundaries(this.#find('.handles'), this, report);
    } else {
      this.#boundaries?.close();
      this.#boundaries = null;
      this.isExcluding = false;
      this.#stretchFrom = null;
    }
    this.redraw();
  }

  /** Called by the page. */
  undo() {
    this.#boundaries?.undo();
  }

  /**
   * Called by the page: a stretch is to be judged after all.
   * @param {number} place its place among those excluded
   */
  include(place) {
    this.#boundaries?.include(place);
  }

  /**
   * Called by the page.
   * @param {boolean} isOn
   */
  setExcluding(isOn) {
    this.isExcluding = isOn;
  }

  /**
   * Called by the page: the engine's own boundaries go through all strips.
   * @param {boolean} isOn
   */
  compare(isOn) {
    this.#isComparing = isOn;
    this.redraw();
  }

  /**
   * Called by the page: another attempt dashed under the traces, or none.
   * @param {string | null} url
   * @returns {Promise<boolean>} whether one is laid over
   */
  async layOver(url) {
    const note = this.#find('.note');
    this.drill.laidOver = null;
    note.textContent = '';
    try {
      if (url) this.drill.laidOver = await laidOver(url, this.flight, this.drill);
      if (url) note.textContent = 'Dashed: the other attempt, each segment from where it began in this one.';
    } catch (error) {
      note.textContent = /** @type {Error} */ (error).message;
    }
    this.redraw();
    return this.drill.laidOver !== null;
  }

  /** Called by the page. */
  close() {
    this.playback.stop();
    this.#closing.abort();
    this.drawings.remove();
  }

  /**
   * @param {number} from
   * @param {number} to
   */
  exclude(from, to) {
    this.#boundaries?.exclude(from, to);
  }

  /** By keyboard: once where the stretch begins, once where it ends. */
  markStretch() {
    if (!this.#boundaries) return;
    const from = this.#stretchFrom;
    this.#stretchFrom = from === null ? this.time : null;
    if (from !== null) this.exclude(from, this.time);
    this.show(this.time);
  }

  /** @param {number} time */
  choose(time) {
    this.show(time);
    const segment = segmentAt(this.drill.segments, time);
    if (segment) this.page?.invokeMethodAsync('Choose', segment.index === this.#selected ? null : segment.index);
  }

  /** @param {View} view */
  zoom(view) {
    this.times.zoom(view);
    this.redraw();
  }

  /**
   * @param {number} factor
   * @param {number} [about]
   */
  scaleBy(factor, about = this.time) {
    this.times.scale(factor, about);
    this.redraw();
  }

  /** @param {string | undefined} word */
  command(word) {
    if (word === 'in') this.scaleBy(0.5);
    if (word === 'out') this.scaleBy(2);
    if (word === 'drill') this.zoom(this.times.home);
    if (word === 'flight') this.zoom(this.times.whole);
  }

  /**
   * A cursor that leaves the view takes it along.
   * @param {number} time
   */
  moveTo(time) {
    this.time = time;
    if (this.times.follow(time)) this.redraw();
    else this.show(time);
  }

  /**
   * @param {number} from
   * @param {number} to
   */
  drawSweep(from, to) {
    this.drawings.drawSweep(from, to, this.isExcluding);
  }

  #listen() {
    const { signal } = this.#closing;
    const redraw = () => this.redraw();
    const resized = new ResizeObserver(redraw);
    resized.observe(this.root);
    const themed = new MutationObserver(redraw);
    themed.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
    signal.addEventListener('abort', () => [resized, themed].forEach(observer => observer.disconnect()));
    for (const query of ['(prefers-color-scheme: dark)', 'print']) matchMedia(query).addEventListener('change', redraw, { signal });
    attachToolbar(this, signal);
    attachGestures(this, signal);
  }

  #showPlayback() {
    showPlayback(this.root, this.playback);
    if (!this.playback.isPlaying) this.#describe();
  }

  /** To those who listen the cursor is a slider; while it runs by itself it is silent. */
  #describe() {
    const { flight, drill, view, time } = this;
    const values = ariaValues(flight, drill, view, time, nearestTo(flight.t, time), this.#wordsAt(time));
    for (const [name, value] of Object.entries(values)) this.strips.setAttribute(`aria-${name}`, value);
  }

  /** @param {number} time */
  #wordsAt(time) {
    const segment = segmentAt(this.drill.segments, time);
    return [segment ? `${segment.index + 1} ${segment.name}` : 'outside the drill', ...laneAt(this.drill, time)].join('; ');
  }

  /**
   * The first sample of a stretch, so that its own targets are shown and not those of the one before.
   * @param {number} time
   */
  #firstFrom(time) {
    const { t } = this.flight;
    const i = indexAt(t, time);
    return t[t[i] < time && i + 1 < t.length ? i + 1 : i];
  }

  /** @param {string} selector */
  #find(selector) {
    return /** @type {HTMLElement} */ (this.root.querySelector(selector));
  }
}
