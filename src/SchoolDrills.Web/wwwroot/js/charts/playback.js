// Time runs on by itself: at 1, 4 or 16 times, and in steps of a second where the person has asked for less motion.

export const SPEEDS = [1, 4, 16];

export class Playback {
  /**
   * @param now answers the time shown
   * @param end answers where to stop
   * @param show takes the next time
   * @param changed told when playing starts, stops or changes speed
   */
  constructor({ now, end, show, changed }) {
    Object.assign(this, { now, end, show, changed, speed: SPEEDS[0], frame: 0 });
    this.still = matchMedia('(prefers-reduced-motion: reduce)');
  }

  get playing() {
    return this.frame !== 0;
  }

  toggle() {
    if (this.playing) this.stop(); else this.start();
  }

  start() {
    if (this.now() >= this.end()) return;
    let last = performance.now(), owed = 0;
    const tick = stamp => {
      owed += (stamp - last) / 1000 * this.speed;
      last = stamp;
      // A second of flight at least, and a step a second at most, where motion is not wanted.
      if (!this.still.matches || owed >= Math.max(1, this.speed)) {
        const next = Math.min(this.now() + owed, this.end());
        owed = 0;
        this.show(next);
        if (next >= this.end()) return this.stop();
      }
      this.frame = requestAnimationFrame(tick);
    };
    this.frame = requestAnimationFrame(tick);
    this.changed();
  }

  stop() {
    if (!this.playing) return;
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    this.changed();
  }

  setSpeed(speed) {
    this.speed = speed;
    this.changed();
  }
}
