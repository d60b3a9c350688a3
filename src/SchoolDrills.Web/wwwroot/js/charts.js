// Debrief plots: fetches the columns of one attempt and draws plan, strips and clock face under one cursor. Called by DebriefPlots.razor.
import { Boundaries } from './charts/boundaries.js';
import { indexAt, nearestTo, prepare } from './charts/columns.js';
import { drawStripCursor } from './charts/cursor.js';
import { drillOf, segmentAt } from './charts/drill.js';
import { Face } from './charts/face.js';
import { columnsOf, timelineOf } from './charts/fetch.js';
import { listen } from './charts/gestures.js';
import { clock, readInk } from './charts/ink.js';
import { laneAt, laneRows } from './charts/lane.js';
import { layStrips, xOf } from './charts/layout.js';
import { drawPlan, drawPlanCursor, layPlan } from './charts/plan.js';
import { Playback } from './charts/playback.js';
import { spoken } from './charts/spoken.js';
import { drawStrips, leftOut } from './charts/strips.js';

/**
 * @param root element that the drawings go into
 * @param source {url, keptAs, timelineUrl}: where columns and drill are fetched, or under which name a preview's columns wait
 * @param told what the report says of segments, findings, events …, times in milliseconds since 1970
 * @param page .NET object told of a chosen segment and of pending corrections
 */
export async function open(root, source, told, page) {
  const plots = new Plots(root, told, page);
  try {
    const [columns, timeline] = await Promise.all([columnsOf(source), timelineOf(source.timelineUrl)]);
    plots.start(columns, timeline);
  } catch (error) {
    plots.fail(error.message);
  }
  return plots;
}

class Plots {
  constructor(root, told, page) {
    Object.assign(this, { root, told, page, selected: null, comparing: false, leaving: false, listening: new AbortController() });
    for (const name of ['plan', 'strips', 'readout', 'note']) this[name] = root.querySelector(`.${name}`);
    [this.planBase, this.planTop] = [canvas(this.plan), canvas(this.plan)];
    [this.stripBase, this.stripTop] = [canvas(this.strips), canvas(this.strips)];
  }

  fail(sentence) {
    this.note.textContent = sentence;
    this.root.dataset.state = 'failed';
  }

  start(columns, timeline) {
    if (!columns.timeS?.length) return this.fail('The track holds no samples to draw.');
    this.flight = prepare(columns);
    this.drill = drillOf(this.told, timeline, Date.parse(columns.epochUtc));
    this.whole = { from: this.flight.t[0], to: this.flight.t.at(-1) };
    const { segments } = this.drill;
    this.drillSpan = segments.length ? { from: Math.min(...segments.map(s => s.startS)), to: Math.max(...segments.map(s => s.endS)) } : this.whole;
    this.view = this.home = this.padded(this.drillSpan, 2, 0.02);
    this.time = this.firstFrom(this.drillSpan.from);
    this.face = new Face(this.root.querySelector('.face'), this.flight, this.drill);
    this.playback = new Playback({
      now: () => this.time,
      end: () => this.time < this.drillSpan.to ? this.drillSpan.to : this.whole.to,
      show: time => this.moveTo(time),
      changed: () => this.showPlayback(),
    });
    this.root.dataset.state = 'ready';
    this.note.textContent = '';
    this.listen();
    this.redraw();
    if (this.wished !== undefined) this.select(this.wished);
    if (this.wantsAdjusting) this.adjust(true);
  }

  // The first sample of a stretch, so that its own targets are shown and not those of the one before.
  firstFrom(time) {
    const { t } = this.flight, i = indexAt(t, time);
    return t[t[i] < time && i + 1 < t.length ? i + 1 : i];
  }

  padded({ from, to }, least, share) {
    const pad = Math.max(least, (to - from) * share);
    return { from: Math.max(this.whole.from, from - pad), to: Math.min(this.whole.to, to + pad) };
  }

  listen() {
    const on = (target, type, act, options = {}) => target.addEventListener(type, act, { signal: this.listening.signal, ...options });
    const redraw = () => this.redraw();
    this.watch = [new ResizeObserver(redraw), new MutationObserver(redraw)];
    this.watch[0].observe(this.root);
    this.watch[1].observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
    for (const query of ['(prefers-color-scheme: dark)', 'print']) on(matchMedia(query), 'change', redraw);
    for (const button of this.root.querySelectorAll('button[data-zoom]')) on(button, 'click', () => this.command(button.dataset.zoom));
    for (const button of this.root.querySelectorAll('button[data-speed]')) on(button, 'click', () => this.playback.setSpeed(Number(button.dataset.speed)));
    on(this.root.querySelector('button[data-play]'), 'click', () => this.playback.toggle());
    listen(this, on);
    this.showPlayback();
  }

  showPlayback() {
    const { playing, speed } = this.playback, play = this.root.querySelector('button[data-play]');
    this.root.dataset.playing = playing;
    play.setAttribute('aria-label', playing ? 'Pause' : 'Play');
    play.dataset.play = playing ? 'pause' : 'play';
    for (const button of this.root.querySelectorAll('button[data-speed]')) button.setAttribute('aria-pressed', Number(button.dataset.speed) === speed);
    if (!playing) this.tellTime();
  }

  redraw() {
    const width = this.strips.clientWidth, planWidth = this.plan.clientWidth;
    if (!this.flight || !width || !planWidth) return;
    this.ink = readInk(this.root);
    this.stripLay = layStrips(this.flight, width, laneRows(this.drill).length);
    const planHeight = Math.round(planWidth < width ? Math.min(planWidth * 1.02, 560) : Math.min(planWidth * 0.95, 560));
    this.planLay = layPlan(this.flight, planWidth, planHeight, this.drillSpan, this.view);
    size(this.strips, this.stripLay.height);
    size(this.plan, planHeight);
    drawStrips(this.stripBase, this.flight, this.drill, this.stripLay, this.view, this.ink, this.selected, this.comparing);
    drawPlan(this.planBase, this.flight, this.drill, this.planLay, this.ink, this.selected);
    this.boundaries?.place();
    this.show(this.time);
  }

  /** Moves the cursor; the drawings beneath it stay as they are. */
  show(time) {
    const at = nearestTo(this.flight.t, time);
    this.time = time;
    const g = drawStripCursor(this.stripTop, this.flight, this.drill, this.stripLay, this.view, this.ink, time, at);
    if (this.stretchFrom !== undefined) leftOut(g, { startS: Math.min(this.stretchFrom, time), endS: Math.max(this.stretchFrom, time) }, t => xOf(this.stripLay, this.view, t), this.stripLay, this.ink);
    drawPlanCursor(this.planTop, this.flight, this.drill, this.planLay, this.ink, time, at);
    this.face.show(time, at);
    const segment = segmentAt(this.drill.segments, time);
    const words = [segment ? `${segment.index + 1} ${segment.name}` : 'outside the drill', ...laneAt(this.drill, time)].join('; ');
    const readout = `${clock(this.drill.clockAt(time))}  ${words}`;
    if (readout !== this.readout.textContent) this.readout.textContent = readout;
    if (!this.playback.playing) this.tellTime(at, segment, words);
  }

  // To those who listen the cursor is a slider; while it runs by itself it is silent.
  tellTime(at = nearestTo(this.flight.t, this.time), segment = segmentAt(this.drill.segments, this.time), words = segment ? `${segment.index + 1} ${segment.name}` : '') {
    const told = spoken(this.flight, this.drill, this.view, this.time, at, segment, words);
    for (const [name, value] of Object.entries(told)) this.strips.setAttribute(`aria-${name}`, value);
  }

  /** Told by the page: highlights a segment and zooms to it; null shows the whole drill again. */
  select(index) {
    this.wished = index;
    if (!this.flight) return;
    this.selected = index ?? null;
    const segment = this.drill.segments.find(s => s.index === index);
    if (segment) this.time = this.firstFrom(segment.startS);
    this.zoom(segment ? this.padded({ from: segment.startS, to: segment.endS }, 6, 0.15) : this.home);
  }

  /** Told by the page: shows a moment, in milliseconds since 1970. */
  goTo(ms) {
    if (!this.flight) return;
    this.moveTo(Math.min(Math.max((ms - this.drill.msAt(0)) / 1000, this.whole.from), this.whole.to));
    this.root.scrollIntoView({ block: 'nearest' });
  }

  choose(time) {
    this.show(time);
    const segment = segmentAt(this.drill.segments, time);
    if (segment) this.page?.invokeMethodAsync('Choose', segment.index === this.selected ? null : segment.index);
  }

  zoom(view) {
    const { whole } = this, least = Math.min(5, whole.to - whole.from);
    const span = Math.min(Math.max(view.to - view.from, least), whole.to - whole.from);
    const from = Math.min(Math.max(view.from, whole.from), whole.to - span);
    this.view = { from, to: from + span };
    this.redraw();
  }

  scaleBy(factor, about = this.time) {
    const middle = Math.min(Math.max(about, this.view.from), this.view.to);
    this.zoom({ from: middle - (middle - this.view.from) * factor, to: middle + (this.view.to - middle) * factor });
  }

  command(word) {
    if (word === 'in') this.scaleBy(0.5);
    if (word === 'out') this.scaleBy(2);
    if (word === 'drill') this.zoom(this.home);
    if (word === 'flight') this.zoom(this.whole);
  }

  // A cursor that leaves the view takes it along.
  moveTo(time) {
    const span = this.view.to - this.view.from;
    this.time = time;
    if (time < this.view.from) this.zoom({ from: time - span * 0.1, to: time + span * 0.9 });
    else if (time > this.view.to) this.zoom({ from: time - span * 0.1, to: time + span * 0.9 });
    else this.show(time);
  }

  drawSweep(from, to) {
    const g = this.stripTop.getContext('2d');
    g.fillStyle = this.leaving ? this.ink.muted : this.ink.accent;
    g.globalAlpha = 0.14;
    g.fillRect(Math.min(from, to), 0, Math.abs(to - from), this.stripLay.axis);
    g.globalAlpha = 1;
  }

  /** Told by the page: handles on the boundaries, or none; what was pending is dropped with them. */
  adjust(on) {
    this.wantsAdjusting = on;
    if (!this.flight || on === Boolean(this.boundaries)) return;
    if (!on) {
      this.boundaries.close();
      this.boundaries = null;
      this.leaving = false;
      this.stretchFrom = undefined;
      return this.redraw();
    }
    this.boundaries = new Boundaries(this.root.querySelector('.handles'), {
      drill: this.drill, whole: this.whole, lay: () => this.stripLay, view: () => this.view, redraw: () => this.redraw(), show: time => this.moveTo(time),
    }, pending => this.page?.invokeMethodAsync('Adjusted', pending));
    this.boundaries.open();
    this.redraw();
  }

  undo() { this.boundaries?.undo(); }

  judgeAgain(k) { this.boundaries?.judgeAgain(k); }

  leaveOut(from, to) { this.boundaries?.leaveOut(from, to); }

  /** Told by the page: a drag across the strips leaves that stretch out instead of zooming to it. */
  setLeaving(on) { this.leaving = on; }

  // By keyboard: once where the stretch begins, once where it ends.
  markStretch() {
    if (!this.boundaries) return;
    if (this.stretchFrom === undefined) {
      this.stretchFrom = this.time;
    } else {
      const from = this.stretchFrom;
      this.stretchFrom = undefined;
      this.leaveOut(from, this.time);
    }
    this.show(this.time);
  }

  compare(on) {
    this.comparing = on;
    this.redraw();
  }

  close() {
    this.playback?.stop();
    this.listening.abort();
    this.watch?.forEach(w => w.disconnect());
    for (const each of this.root.querySelectorAll(':is(.plan, .strips) > canvas')) each.remove();
  }
}

function canvas(parent) {
  const element = document.createElement('canvas');
  element.setAttribute('aria-hidden', 'true');
  parent.append(element);
  return element;
}

function size(parent, height) {
  if (parent.dataset.height === String(height)) return;
  parent.dataset.height = height;
  parent.style.height = `${height}px`;
}
