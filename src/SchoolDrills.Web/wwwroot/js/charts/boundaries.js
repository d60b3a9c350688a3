// Segment boundaries moved by hand: a handle for each, dragged or moved by keys, and stretches to leave out. Nothing is kept here
// but what is pending; the page sends it to be scored.
import { clock } from './ink.js';
import { timeOf, xOf } from './layout.js';

const JOINED_S = 0.5, LEAST_S = 1, SAME_S = 0.05;

export class Boundaries {
  /**
   * @param frame element over the strips that the handles go into
   * @param plots {drill, view(), lay(), redraw(), show(time)}
   * @param changed told what is pending whenever it changes
   */
  constructor(frame, plots, changed) {
    Object.assign(this, { frame, plots, changed, past: [] });
    this.shown = plots.drill.segments;
    this.given = plots.drill.engine;
    this.engine = this.given.length ? this.given : this.shown.map(s => ({ ...s }));
    this.list = boundariesOf(this.shown, this.engine);
    this.first = this.snapshot();
  }

  open() {
    this.plots.drill.engine = this.engine;
    this.frame.hidden = false;
    this.frame.replaceChildren(...this.list.map(b => this.handle(b)));
    this.place();
  }

  /** Drops what is pending and takes the handles away. */
  close() {
    this.plots.drill.engine = this.given;
    this.restore(this.first);
    this.past = [];
    this.frame.hidden = true;
    this.frame.replaceChildren();
  }

  handle(b) {
    const element = document.createElement('div');
    Object.assign(element, { className: 'handle', tabIndex: 0, role: 'slider', ariaLabel: b.name });
    element.setAttribute('aria-orientation', 'horizontal');
    element.addEventListener('pointerdown', e => this.grab(e, b));
    element.addEventListener('pointermove', e => this.drag(e, b));
    for (const type of ['pointerup', 'pointercancel']) element.addEventListener(type, () => this.let(b));
    element.addEventListener('keydown', e => this.key(e, b));
    element.addEventListener('focus', () => this.plots.show(b.time));
    return Object.assign(b, { element }).element;
  }

  place() {
    const lay = this.plots.lay(), view = this.plots.view();
    if (!lay || this.frame.hidden) return;
    for (const b of this.list) {
      const x = xOf(lay, view, b.time);
      b.element.style.left = `${x}px`;
      b.element.style.height = `${lay.axis}px`;
      b.element.hidden = x < lay.left - 1 || x > lay.right + 1;
      b.element.dataset.moved = moved(b);
      const [lo, hi] = this.limits(b).map(t => Math.round(this.plots.drill.clockAt(t)));
      const attributes = { valuemin: lo, valuemax: hi, valuenow: this.plots.drill.clockAt(b.time).toFixed(1), valuetext: this.words(b) };
      for (const [name, value] of Object.entries(attributes)) b.element.setAttribute(`aria-${name}`, value);
    }
  }

  words(b) {
    const at = this.plots.drill.clockAt(b.time), tenth = Math.round(Math.abs(at) * 10) % 10, off = b.time - b.engineS;
    const than = !moved(b) ? 'where the engine has it' : `${Math.abs(off).toFixed(1)} s ${off > 0 ? 'later' : 'earlier'} than the engine`;
    return `${clock(Math.trunc(at))}${tenth ? `.${tenth}` : ''}, ${than}`;
  }

  limits(b) {
    const k = this.list.indexOf(b), { from, to } = this.plots.whole;
    return [(this.list[k - 1]?.time ?? from - LEAST_S) + LEAST_S, (this.list[k + 1]?.time ?? to + LEAST_S) - LEAST_S];
  }

  move(b, time) {
    const [lo, hi] = this.limits(b);
    b.time = Math.round(Math.min(Math.max(time, lo), hi) * 10) / 10;
    this.apply();
    this.plots.show(b.time);
  }

  grab(e, b) {
    if (e.button !== 0) return;
    e.preventDefault();
    b.element.focus();
    b.element.setPointerCapture(e.pointerId);
    this.before = this.snapshot();
  }

  drag(e, b) {
    if (!this.before) return;
    const { left } = this.frame.getBoundingClientRect();
    this.move(b, timeOf(this.plots.lay(), this.plots.view(), e.clientX - left));
  }

  let(b) {
    if (!this.before) return;
    const before = this.before;
    this.before = null;
    if (before.times[this.list.indexOf(b)] !== b.time) this.remember(before);
  }

  key(e, b) {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const step = e.shiftKey ? 0.2 : 1;
    const by = { ArrowRight: step, ArrowUp: step, ArrowLeft: -step, ArrowDown: -step, PageUp: 5, PageDown: -5 }[e.key];
    if (by === undefined) return;
    e.preventDefault();
    const before = this.snapshot();
    this.move(b, b.time + by);
    this.remember(before);
  }

  /** A stretch that is not to be judged; within another it is that one made longer. */
  leaveOut(fromS, toS) {
    const before = this.snapshot();
    const [a, z] = [Math.min(fromS, toS), Math.max(fromS, toS)];
    if (z - a < LEAST_S) return;
    const touching = this.plots.drill.leftOut.filter(s => s.startS <= z && s.endS >= a);
    const whole = { startS: Math.min(a, ...touching.map(s => s.startS)), endS: Math.max(z, ...touching.map(s => s.endS)) };
    this.plots.drill.leftOut = [...this.plots.drill.leftOut.filter(s => !touching.includes(s)), whole].sort((p, q) => p.startS - q.startS);
    this.apply();
    this.remember(before);
  }

  judgeAgain(k) {
    const before = this.snapshot();
    this.plots.drill.leftOut = this.plots.drill.leftOut.filter((_, i) => i !== k);
    this.apply();
    this.remember(before);
  }

  undo() {
    if (this.past.length) this.restore(this.past.pop());
    this.tell();
  }

  snapshot() {
    return { times: this.list.map(b => b.time), leftOut: this.plots.drill.leftOut };
  }

  restore({ times, leftOut }) {
    this.list.forEach((b, k) => { b.time = times[k]; });
    this.plots.drill.leftOut = leftOut;
    this.apply();
  }

  remember(before) {
    this.past.push(before);
    this.tell();
  }

  apply() {
    this.plots.drill.segments = this.shown.map(s => {
      const own = edge => this.list.find(b => b.index === s.index && b.edge === edge);
      const next = this.list.find(b => b.before === s.index);
      return { ...s, startS: own('start').time, endS: (own('end') ?? next).time };
    });
    this.plots.redraw();
  }

  tell() {
    const ms = this.plots.drill.msAt;
    this.changed({
      boundaries: this.list.filter(moved).map(b => ({ index: b.index, edge: b.edge, atMs: ms(b.time), engineMs: ms(b.engineS) })),
      leftOut: this.plots.drill.leftOut.map(s => ({ startMs: ms(s.startS), endMs: ms(s.endS) })),
      steps: this.past.length,
    });
  }
}

function moved(b) {
  return Math.abs(b.time - b.engineS) > SAME_S;
}

// Where one segment ends as the next begins there is one boundary; a start belongs to its own segment, an end stands alone.
function boundariesOf(segments, engine) {
  const list = [];
  segments.forEach((s, k) => {
    const found = engine.find(e => e.index === s.index) ?? s, last = segments[k - 1], next = segments[k + 1];
    const joined = last && Math.abs(s.startS - last.endS) < JOINED_S;
    list.push({ index: s.index, edge: 'start', time: s.startS, engineS: found.startS, before: joined ? last.index : null, name: `Start of segment ${s.index + 1}, ${s.name}` });
    if (!next || Math.abs(next.startS - s.endS) >= JOINED_S)
      list.push({ index: s.index, edge: 'end', time: s.endS, engineS: found.endS, before: null, name: `End of segment ${s.index + 1}, ${s.name}` });
  });
  return list;
}
