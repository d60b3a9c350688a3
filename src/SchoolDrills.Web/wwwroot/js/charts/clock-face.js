// @ts-check
// What should be happening at this second: a minute dial on whose rim the next minute's changes wait for the hand, and the numbers
// to hold beside those that were flown.
import { valueAt } from './columns.js';
import { plannedAt, segmentAt } from './drill.js';
import { clock, figure } from './format.js';

const SVG = 'http://www.w3.org/2000/svg';

const ROWS = /** @type {const} */ ([
  { parameter: 'heading', planned: 'headingMagDeg' },
  { parameter: 'altitude', planned: 'altitudeFt' },
  { parameter: 'turn-rate', planned: 'turnRateDegPerS' },
  { parameter: 'vertical-speed', planned: 'verticalSpeedFpm' },
  { parameter: 'airspeed', planned: 'airspeedKt' },
]);

/** @typedef {ReturnType<typeof plannedAt>} Plan */

export class ClockFace {
  /** Which marks are on the rim. */
  #marked = '';

  /**
   * @param {HTMLElement} root
   * @param {Flight} flight
   * @param {Drill} drill
   */
  constructor(root, flight, drill) {
    this.root = root;
    this.flight = flight;
    this.drill = drill;
    /** @param {string} selector */
    const find = selector => /** @type {Element} */ (root.querySelector(selector));
    /** @param {string} name */
    const text = name => find(`[data-face="${name}"]`);
    this.texts = {
      phase: text('phase'),
      left: text('left'),
      gate: text('gate'),
      cue: text('cue'),
      flown: text('flown'),
      reading: text('reading'),
    };
    this.rows = ROWS.map(({ parameter, planned }) => ({
      planned,
      strip: /** @type {Strip} */ (flight.strips.find(s => s.parameter === parameter)),
      row: find(`[data-row="${parameter}"]`),
      cells: [...root.querySelectorAll(`[data-row="${parameter}"] td`)],
    }));
    this.rim = find('.rim');
    this.hand = find('.hand');
    this.arc = find('.arc');
    root.hidden = !drill.timeline;
  }

  /**
   * @param {number} time
   * @param {number} sample
   */
  show(time, sample) {
    const { timeline } = this.drill;
    if (!timeline) return;
    const clockS = this.drill.clockAt(time);
    const plan = plannedAt(timeline, clockS);
    const second = ((clockS % 60) + 60) % 60;
    this.hand.setAttribute('transform', `rotate(${(second * 6).toFixed(1)} 60 60)`);
    write(this.texts.reading, clock(clockS));
    this.#markRim(timeline, clockS, plan);
    this.#writeWords(time, clockS, plan);
    for (const row of this.rows) this.#writeNumbers(row, plan, time, sample);
  }

  /**
   * The arc is what is left of the segment, a minute at most; the marks are the gates and calls that the hand will meet next.
   * @param {Timeline} timeline
   * @param {number} clockS
   * @param {Plan} plan
   */
  #markRim({ gates, cues }, clockS, plan) {
    const left = plan.segment ? Math.min(plan.segment.endS - clockS, 59.9) : 0;
    this.arc.setAttribute('d', left > 0.05 ? sector(clockS, clockS + left, 50) : '');
    /** @param {{ atS: number }} mark */
    const isNear = mark => mark.atS > clockS && mark.atS <= clockS + 60;
    const calls = cues.filter(isNear);
    const changes = gates.filter(isNear);
    const marked = [...changes, ...calls].map(m => m.atS).join();
    if (marked === this.#marked) return;
    this.#marked = marked;
    this.rim.replaceChildren(...calls.map(c => mark(c.atS, 44, 50, 'call')), ...changes.map(g => mark(g.atS, 40, 55, 'gate')));
  }

  /**
   * @param {number} time
   * @param {number} clockS
   * @param {Plan} plan
   */
  #writeWords(time, clockS, { segment: due, gate, cue }) {
    const flown = segmentAt(this.drill.segments, time);
    const isOff = flown && due && flown.index !== due.index;
    write(this.texts.phase, due ? `${due.index + 1} ${due.name}` : clockS < 0 ? 'before the drill' : 'after the drill');
    write(this.texts.left, due ? `${clock(Math.ceil(due.endS - clockS))} left` : '');
    write(this.texts.gate, gate ? gate.label : 'none');
    write(this.texts.cue, cue ? `${clock(cue.atS)}  ${cue.text}` : 'none');
    const side = isOff && flown.index < due.index ? 'behind' : 'ahead of';
    write(this.texts.flown, isOff ? `Flown at this second: ${flown.index + 1} ${flown.name}, ${side} the clock.` : '');
  }

  /**
   * @param {ClockFace['rows'][number]} row
   * @param {Plan} plan
   * @param {number} time
   * @param {number} sample
   */
  #writeNumbers({ planned, strip, row, cells }, plan, time, sample) {
    const should = plan.targets ? plan.targets[planned] : NaN;
    const is = strip.isEmpty ? NaN : valueAt(this.flight, strip.value, time);
    let off = is - should;
    if (strip.isAngle) off -= 360 * Math.round(off / 360);
    write(cells[0], figure(should, strip.unit));
    write(cells[1], figure(is, strip.unit));
    write(cells[2], Number.isFinite(off) ? figure(off, strip.unit, true) : '');
    row.classList.toggle('out', Math.abs(off) > strip.band[sample]);
  }
}

/**
 * A text node is touched only where it changes, sixty times a second being otherwise much.
 * @param {Element} element
 * @param {string} text
 */
function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/**
 * @param {number} clockS
 * @param {number} radius
 */
function onDial(clockS, radius) {
  const angle = (clockS * Math.PI) / 30;
  return `${(60 + radius * Math.sin(angle)).toFixed(2)} ${(60 - radius * Math.cos(angle)).toFixed(2)}`;
}

/**
 * @param {number} fromS
 * @param {number} toS
 * @param {number} radius
 */
function sector(fromS, toS, radius) {
  return `M${onDial(fromS, radius)}A${radius} ${radius} 0 ${toS - fromS > 30 ? 1 : 0} 1 ${onDial(toS, radius)}`;
}

/**
 * @param {number} clockS
 * @param {number} from
 * @param {number} to
 * @param {string} kind
 */
function mark(clockS, from, to, kind) {
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('d', `M${onDial(clockS, from)}L${onDial(clockS, to)}`);
  path.setAttribute('class', kind);
  return path;
}
