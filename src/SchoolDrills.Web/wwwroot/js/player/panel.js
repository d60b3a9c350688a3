// @ts-check
// The moving parts of the player: pointers, figures, dots and words, all found once and set for a time.

/** Pixels of the altitude scale for a hundred feet, as the drawing has it. */
const PX_PER_100_FT = 18;
const MOST_FPM = 1000;
const PX_PER_1000_FPM = 54;
/** Degrees on the dial for a turn of 3 degrees a second. */
const DIAL_DEG_AT_STANDARD = 30;

/** @param {number} seconds */
const clock = seconds => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, '0')}`;

/** @param {number} value */
const whole = value => Math.round(value).toLocaleString('en-US').replace('-', '−');

/** @param {number} deg */
const heading = deg => String(((Math.round(deg) % 360) + 360) % 360 || 360).padStart(3, '0') + '°';

/**
 * @param {number[]} column
 * @param {number} i
 * @param {number} share
 */
const between = (column, i, share) => column[i] + (column[Math.min(i + 1, column.length - 1)] - column[i]) * share;

export class Panel {
  #drill;
  /** @type {Map<string, Element[]>} */
  #parts = new Map();
  #scan = -1;

  /**
   * @param {HTMLElement} root
   * @param {FlownDrill} drill
   */
  constructor(root, drill) {
    this.#drill = drill;
    for (const part of root.querySelectorAll('[data-part]')) {
      const name = /** @type {HTMLElement} */ (part).dataset.part ?? '';
      this.#parts.set(name, [...(this.#parts.get(name) ?? []), part]);
    }
  }

  /**
   * Sets everything for a time, and answers it in words.
   * @param {number} time
   */
  show(time) {
    const drill = this.#drill;
    const i = Math.min(Math.floor(time), drill.timeS.length - 1);
    const share = time - i;
    const turned = ((drill.headingMagDeg[Math.min(i + 1, drill.timeS.length - 1)] - drill.headingMagDeg[i] + 540) % 360) - 180;
    const headingNow = drill.headingMagDeg[i] + turned * share;
    const altitude = between(drill.altitudeFt, i, share);
    const [fpm, rate] = [drill.verticalSpeedFpm[i], drill.turnRateDegPerS[i]];

    this.#turn('rose', -headingNow);
    this.#shift('altitude-scale', 0, ((altitude % 100) / 100) * PX_PER_100_FT);
    for (const label of this.#parts.get('altitude-label') ?? []) {
      const step = Number(/** @type {SVGElement} */ (label).dataset.step);
      label.textContent = whole((Math.floor(altitude / 100) + step) * 100);
    }
    this.#shift('fpm-pointer', 0, (-Math.max(-MOST_FPM, Math.min(MOST_FPM, fpm)) / 1000) * PX_PER_1000_FPM);
    this.#turn('rate-needle', (Math.max(-6, Math.min(6, rate)) / 3) * DIAL_DEG_AT_STANDARD);
    this.#shift('plan-dot', between(drill.planX, i, share), between(drill.planY, i, share));
    this.#shift('profile-dot', between(drill.profileX, i, share), between(drill.profileY, i, share));

    const words = {
      heading: heading(headingNow),
      altitude: `${whole(altitude)} ft`,
      fpm: `${fpm > 0 ? '+' : ''}${whole(fpm)} fpm`,
      rate: rate === 0 ? 'wings level' : `${Math.abs(rate).toFixed(1)}°/s ${rate > 0 ? 'right' : 'left'}`,
      airspeed: `${whole(between(drill.airspeedKt, i, share))} kt`,
      clock: clock(time),
      segment: drill.segments[drill.segmentIndex[i]],
    };
    for (const [name, text] of Object.entries(words)) this.#say(name, text);
    this.#showScan(time);
    return `${words.clock}, ${words.segment}, heading ${words.heading}, ${words.altitude}, ${words.fpm}, ${words.rate}`;
  }

  /** @param {number} time */
  #showScan(time) {
    const at = this.#drill.scans.findLastIndex(s => s.fromS <= time);
    if (at === this.#scan || at < 0) return;
    this.#scan = at;
    const scan = this.#drill.scans[at];
    for (const axis of /** @type {const} */ (['pitch', 'bank', 'power'])) {
      this.#say(`${axis}-primary`, scan[axis].primary);
      this.#say(`${axis}-support`, scan[axis].supporting);
    }
    this.#say('scan', scan.say);
    this.#say('moment', scan.moment);
    const primaries = [scan.pitch.primary, scan.bank.primary, scan.power.primary];
    for (const face of this.#parts.get('face') ?? []) {
      face.classList.toggle('primary', primaries.includes(/** @type {HTMLElement} */ (face).dataset.instrument ?? ''));
    }
  }

  /**
   * @param {string} name
   * @param {string} text
   */
  #say(name, text) {
    for (const part of this.#parts.get(name) ?? []) if (part.textContent !== text) part.textContent = text;
  }

  /**
   * @param {string} name
   * @param {number} deg
   */
  #turn(name, deg) {
    for (const part of this.#parts.get(name) ?? []) part.setAttribute('transform', `rotate(${deg.toFixed(2)})`);
  }

  /**
   * @param {string} name
   * @param {number} x
   * @param {number} y
   */
  #shift(name, x, y) {
    for (const part of this.#parts.get(name) ?? []) part.setAttribute('transform', `translate(${x.toFixed(2)} ${y.toFixed(2)})`);
  }
}
