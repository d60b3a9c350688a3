// @ts-check
// Time runs on by itself: at 1, 4 or 16 times, and in steps of a second where the person has asked for less motion.

const USUAL_SPEED = 1;

export class Playback {
  speed = USUAL_SPEED;
  #frame = 0;
  #lessMotion = matchMedia('(prefers-reduced-motion: reduce)');
  #plots;

  /**
   * @param {object} plots
   * @param {() => number} plots.now answers the time shown
   * @param {() => number} plots.end answers where to stop
   * @param {(time: number) => void} plots.show takes the next time
   * @param {() => void} plots.changed called when playing starts, stops or changes speed
   */
  constructor(plots) {
    this.#plots = plots;
  }

  get isPlaying() {
    return this.#frame !== 0;
  }

  toggle() {
    if (this.isPlaying) this.stop();
    else this.start();
  }

  start() {
    const { now, end, show, changed } = this.#plots;
    if (now() >= end()) return;
    let last = performance.now();
    let owed = 0;
    /** @param {number} stamp */
    const tick = stamp => {
      owed += ((stamp - last) / 1000) * this.speed;
      last = stamp;
      // A second of flight at least, and a step a second at most, where motion is not wanted.
      if (!this.#lessMotion.matches || owed >= Math.max(1, this.speed)) {
        const next = Math.min(now() + owed, end());
        owed = 0;
        show(next);
        if (next >= end()) {
          this.stop();
          return;
        }
      }
      this.#frame = requestAnimationFrame(tick);
    };
    this.#frame = requestAnimationFrame(tick);
    changed();
  }

  stop() {
    if (!this.isPlaying) return;
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.#plots.changed();
  }

  /** @param {number} speed */
  setSpeed(speed) {
    this.speed = speed;
    this.#plots.changed();
  }
}
