// @ts-check
// Which seconds of a flight the strips show.

const LEAST_S = 5;

/** How much of the strips a cursor that leaves them is let in from the edge. */
const LEAD = 0.1;

export class TimeView {
  /**
   * @param {Flight} flight
   * @param {Segment[]} segments
   */
  constructor({ t }, segments) {
    this.whole = { from: t[0], to: t[t.length - 1] };
    this.drill = segments.length
      ? { from: Math.min(...segments.map(s => s.startS)), to: Math.max(...segments.map(s => s.endS)) }
      : this.whole;
    this.home = this.around(this.drill, 2, 0.02);
    /** @type {View} */
    this.shown = this.home;
  }

  /**
   * A span with a margin of so many seconds at least, or that share of it.
   * @param {View} span
   * @param {number} least
   * @param {number} share
   * @returns {View}
   */
  around({ from, to }, least, share) {
    const margin = Math.max(least, (to - from) * share);
    return { from: Math.max(this.whole.from, from - margin), to: Math.min(this.whole.to, to + margin) };
  }

  /** @param {View} view */
  zoom({ from, to }) {
    const { whole } = this;
    const length = whole.to - whole.from;
    const span = Math.min(Math.max(to - from, Math.min(LEAST_S, length)), length);
    const start = Math.min(Math.max(from, whole.from), whole.to - span);
    this.shown = { from: start, to: start + span };
  }

  /**
   * @param {number} factor
   * @param {number} about
   */
  scale(factor, about) {
    const { from, to } = this.shown;
    const middle = Math.min(Math.max(about, from), to);
    this.zoom({ from: middle - (middle - from) * factor, to: middle + (to - middle) * factor });
  }

  /**
   * Goes along with a cursor that leaves what is shown; false where it did not.
   * @param {number} time
   */
  follow(time) {
    const { from, to } = this.shown;
    if (time >= from && time <= to) return false;
    const span = to - from;
    this.zoom({ from: time - span * LEAD, to: time + span * (1 - LEAD) });
    return true;
  }

  /** @param {number} time */
  clamp(time) {
    return Math.min(Math.max(time, this.whole.from), this.whole.to);
  }
}
