// @ts-check
// Plan and strips on their canvases: a still layer each, drawn once for each view, and above it one for the cursor.
import { contextOf } from './canvas.js';
import { nearestTo } from './columns.js';
import { drawStripCursor } from './cursor.js';
import { laneRows } from './lane.js';
import { layStrips } from './layout.js';
import { readPalette } from './palette.js';
import { drawPlan, drawPlanCursor, layPlan, planScene } from './plan.js';
import { drawExcluded, drawStrips, stripScene } from './strips.js';

const TALLEST_PLAN_PX = 560;
const LOWEST_PLAN_PX = 280;
const FACE_PX = 110;
const BELOW_PX = 12;

const wide = matchMedia('screen and (min-width: 1200px)');

/** @typedef {import('./time-view.js').TimeView} TimeView */

export class Drawings {
  /**
   * @param {HTMLElement} root
   * @param {Flight} flight
   * @param {Drill} drill
   * @param {TimeView} times
   */
  constructor(root, flight, drill, times) {
    this.root = root;
    this.flight = flight;
    this.drill = drill;
    this.times = times;
    this.plan = /** @type {HTMLElement} */ (root.querySelector('.plan'));
    this.strips = /** @type {HTMLElement} */ (root.querySelector('.strips'));
    this.canvases = {
      plan: canvas(this.plan),
      planCursor: canvas(this.plan),
      strips: canvas(this.strips),
      stripCursor: canvas(this.strips),
    };
    this.palette = readPalette(root);
    this.stripLayout = this.#layStrips();
    this.planLayout = this.#layPlan();
  }

  /**
   * Draws the still layers; false where there is no room on the page.
   * @param {number | null} selected index of the segment chosen
   * @param {boolean} isComparing the engine's boundaries go through all strips
   */
  draw(selected, isComparing) {
    if (!this.strips.clientWidth || !this.plan.clientWidth) return false;
    this.palette = readPalette(this.root);
    this.stripLayout = this.#layStrips();
    this.planLayout = this.#layPlan();
    setHeight(this.strips, this.stripLayout.height);
    setHeight(this.plan, this.planLayout.height);
    drawStrips(this.#stripScene(this.canvases.strips), selected, isComparing);
    drawPlan(this.#planScene(this.canvases.plan), selected);
    return true;
  }

  /**
   * Draws the cursor's layers.
   * @param {number} time
   * @param {number | null} stretchFrom where a stretch begins that is being marked
   */
  drawCursor(time, stretchFrom) {
    const sample = nearestTo(this.flight.t, time);
    const scene = this.#stripScene(this.canvases.stripCursor);
    drawStripCursor(scene, time, sample);
    if (stretchFrom !== null) drawExcluded(scene, { startS: Math.min(stretchFrom, time), endS: Math.max(stretchFrom, time) });
    drawPlanCursor(this.#planScene(this.canvases.planCursor), time, sample);
  }

  /**
   * What a drag is about to zoom to or to exclude.
   * @param {number} from
   * @param {number} to
   * @param {boolean} isExcluding
   */
  drawSweep(from, to, isExcluding) {
    const ctx = contextOf(this.canvases.stripCursor);
    ctx.fillStyle = isExcluding ? this.palette.muted : this.palette.accent;
    ctx.globalAlpha = 0.14;
    ctx.fillRect(Math.min(from, to), 0, Math.abs(to - from), this.stripLayout.axis);
    ctx.globalAlpha = 1;
  }

  remove() {
    for (const each of Object.values(this.canvases)) each.remove();
  }

  #layStrips() {
    return layStrips(this.flight, this.strips.clientWidth, laneRows(this.drill).length, this.#room());
  }

  /** On a wide screen plan and strips fit what is left of it below the ribbon; else they are as high as they like. */
  #room() {
    if (!wide.matches) return Infinity;
    return innerHeight - (this.strips.getBoundingClientRect().top + scrollY) - BELOW_PX;
  }

  /** The clock face stands below the plan; its time is seen at once, its figures stand at the strips, too. */
  #planRoom() {
    return Math.max(LOWEST_PLAN_PX, this.#room() - FACE_PX);
  }

  #layPlan() {
    const width = this.plan.clientWidth;
    const isBesideStrips = width < this.strips.clientWidth;
    const height = Math.round(Math.min(width * (isBesideStrips ? 1.02 : 0.95), TALLEST_PLAN_PX, this.#planRoom()));
    return layPlan(this.flight, width, height, this.times.drill, this.times.shown);
  }

  /** @param {HTMLCanvasElement} on */
  #stripScene(on) {
    const { flight, drill, stripLayout: layout, palette } = this;
    return stripScene(on, { flight, drill, layout, palette, view: this.times.shown });
  }

  /** @param {HTMLCanvasElement} on */
  #planScene(on) {
    const { flight, drill, planLayout: layout, palette } = this;
    return planScene(on, { flight, drill, layout, palette });
  }
}

/** @param {HTMLElement} parent */
function canvas(parent) {
  const element = document.createElement('canvas');
  element.ariaHidden = 'true';
  parent.append(element);
  return element;
}

/**
 * @param {HTMLElement} parent
 * @param {number} height
 */
function setHeight(parent, height) {
  parent.style.setProperty('--drawn-height', `${height}px`);
}
