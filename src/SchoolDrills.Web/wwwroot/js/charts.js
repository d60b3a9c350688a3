// Debrief plots: fetches the columns of one attempt and draws plan and strips with one cursor. Called by DebriefPlots.razor.
import { indexAt, nearestTo, prepare } from './charts/columns.js';
import { clock, figure, readInk } from './charts/ink.js';
import { drawPlan, drawPlanCursor, layPlan, sampleNear } from './charts/plan.js';
import { drawStripCursor, drawStrips, layStrips, timeOf } from './charts/strips.js';

/**
 * @param root element that the drawings go into
 * @param source {url} to fetch, or {stream} with the columns as JSON
 * @param drill {segments: [{index, name, verdict, startMs, endMs}], episodes: [{startMs, endMs}], wind}
 * @param page .NET object told of a chosen segment
 */
export async function open(root, source, drill, page) {
  const plots = new Plots(root, drill, page);
  try {
    plots.show(await columnsOf(source));
  } catch (error) {
    plots.fail(error.message);
  }
  return plots;
}

async function columnsOf({ url, stream }) {
  if (stream) return JSON.parse(new TextDecoder().decode(await stream.arrayBuffer()));
  const response = await fetch(url, { headers: { Accept: 'application/json' }, credentials: 'same-origin' });
  if (response.ok) return response.json();
  const problem = await response.json().catch(() => null);
  throw new Error(problem?.detail ?? problem?.title ?? `The track could not be fetched (the server answered ${response.status}). Reload the page to try again.`);
}

class Plots {
  constructor(root, drill, page) {
    Object.assign(this, { root, drill, page, selected: null, at: -1, spoken: 0, listening: new AbortController() });
    this.plan = root.querySelector('.plan');
    this.strips = root.querySelector('.strips');
    this.readout = root.querySelector('.readout');
    this.note = root.querySelector('.note');
    [this.planBase, this.planTop] = [canvas(this.plan), canvas(this.plan)];
    [this.stripBase, this.stripTop] = [canvas(this.strips), canvas(this.strips)];
  }

  fail(sentence) {
    this.note.textContent = sentence;
    this.root.dataset.state = 'failed';
  }

  show(columns) {
    if (!columns.timeS?.length) return this.fail('The track holds no samples to draw.');
    const epoch = Date.parse(columns.epochUtc), since = ms => (ms - epoch) / 1000;
    const timed = s => ({ ...s, startS: since(s.startMs), endS: since(s.endMs) });
    this.flight = prepare(columns);
    this.segments = this.drill.segments.map(timed);
    this.episodes = this.drill.episodes.map(timed);
    this.flightView = { from: this.flight.t[0], to: this.flight.t.at(-1) };
    this.drillSpan = this.segments.length
      ? { from: Math.min(...this.segments.map(s => s.startS)), to: Math.max(...this.segments.map(s => s.endS)) } : this.flightView;
    this.view = this.home = this.padded(this.drillSpan);
    this.at = indexAt(this.flight.t, this.drillSpan.from);
    this.root.dataset.state = 'ready';
    this.note.textContent = '';
    this.listen();
    this.redraw();
    if (this.wished !== undefined) this.select(this.wished);
  }

  padded({ from, to }) {
    const pad = Math.max(2, (to - from) * 0.02);
    return { from: Math.max(this.flightView.from, from - pad), to: Math.min(this.flightView.to, to + pad) };
  }

  listen() {
    const on = (target, type, act, options = {}) => target.addEventListener(type, act, { signal: this.listening.signal, ...options });
    const redraw = () => this.redraw();
    this.watch = [new ResizeObserver(redraw), new MutationObserver(redraw)];
    this.watch[0].observe(this.root);
    this.watch[1].observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
    for (const query of ['(prefers-color-scheme: dark)', 'print']) on(matchMedia(query), 'change', redraw);
    on(this.strips, 'pointermove', e => this.drag ? this.dragTo(e) : this.cursor(this.sampleAt(e)));
    on(this.strips, 'pointerdown', e => this.dragFrom(e));
    on(this.strips, 'pointerup', e => this.dragEnd(e));
    on(this.strips, 'pointercancel', () => { this.drag = null; });
    on(this.strips, 'dblclick', () => this.zoom(this.home));
    on(this.strips, 'wheel', e => {
      if (!e.ctrlKey && !e.metaKey) return;
      e.preventDefault();
      this.scaleBy(e.deltaY > 0 ? 1.25 : 0.8, timeOf(this.stripLay, this.view, this.inside(e).x));
    }, { passive: false });
    on(this.strips, 'keydown', e => this.key(e));
    on(this.plan, 'pointermove', e => this.cursor(this.planSample(e)));
    on(this.plan, 'click', e => this.choose(this.planSample(e)));
    for (const button of this.root.querySelectorAll('button[data-zoom]')) on(button, 'click', () => this.command(button.dataset.zoom));
  }

  redraw() {
    const width = this.strips.clientWidth, planWidth = this.plan.clientWidth;
    if (!this.flight || !width || !planWidth) return;
    this.ink = readInk(this.root);
    this.stripLay = layStrips(this.flight, width);
    const planHeight = Math.round(planWidth < width ? Math.min(planWidth * 1.15, this.stripLay.height) : Math.min(planWidth * 0.95, 560));
    this.planLay = layPlan(this.flight, planWidth, planHeight, this.drillSpan, this.view);
    size(this.strips, this.stripLay.height);
    size(this.plan, planHeight);
    drawStrips(this.stripBase, this.flight, this.stripLay, this.view, this.ink, this.segments, this.selected, this.episodes);
    drawPlan(this.planBase, this.flight, this.planLay, this.ink, this.segments, this.selected, this.drill.wind);
    this.cursor(this.at);
  }

  cursor(at) {
    if (at < 0) return;
    this.at = at;
    drawStripCursor(this.stripTop, this.flight, this.stripLay, this.view, this.ink, at);
    drawPlanCursor(this.planTop, this.flight, this.planLay, this.ink, at);
    const time = this.flight.t[at], segment = this.segmentAt(time);
    this.readout.textContent = `${clock(time)}  ${segment ? `${segment.index + 1} ${segment.name}` : 'outside the drill'}`;
    this.strips.setAttribute('aria-valuemin', Math.round(this.view.from));
    this.strips.setAttribute('aria-valuemax', Math.round(this.view.to));
    this.strips.setAttribute('aria-valuenow', Math.round(time));
    this.strips.setAttribute('aria-valuetext', this.inWords(at, segment));
  }

  inWords(at, segment) {
    const parts = [clock(this.flight.t[at]), segment ? `segment ${segment.index + 1}, ${segment.name}` : 'outside the drill'];
    for (const s of this.flight.strips) {
      if (!Number.isFinite(s.value[at])) continue;
      const target = Number.isFinite(s.target[at]) ? `, target ${figure(s.target[at], s.unit)}` : '';
      parts.push(`${s.name} ${figure(s.value[at], s.unit)}${target}${s.outside[at] ? ', outside tolerance' : ''}`);
    }
    return parts.join('; ');
  }

  segmentAt(time) {
    return this.segments.find(s => time >= s.startS && time < s.endS);
  }

  /** Told by the page: highlights a segment and zooms to it; null shows the whole drill again. */
  select(index) {
    this.wished = index;
    if (!this.flight) return;
    this.selected = index ?? null;
    const segment = this.segments.find(s => s.index === index);
    if (segment) this.at = nearestTo(this.flight.t, segment.startS);
    if (segment) this.zoom(this.around(segment)); else this.zoom(this.home);
  }

  around({ startS, endS }) {
    const pad = Math.max(6, (endS - startS) * 0.15);
    return { from: Math.max(this.flightView.from, startS - pad), to: Math.min(this.flightView.to, endS + pad) };
  }

  choose(at) {
    if (at < 0) return;
    this.cursor(at);
    const segment = this.segmentAt(this.flight.t[at]);
    if (segment) this.page?.invokeMethodAsync('Choose', segment.index === this.selected ? null : segment.index);
  }

  zoom(view) {
    const whole = this.flightView, least = Math.min(5, whole.to - whole.from);
    const span = Math.min(Math.max(view.to - view.from, least), whole.to - whole.from);
    const from = Math.min(Math.max(view.from, whole.from), whole.to - span);
    this.view = { from, to: from + span };
    this.redraw();
  }

  scaleBy(factor, about = this.flight.t[this.at]) {
    const middle = Math.min(Math.max(about, this.view.from), this.view.to);
    this.zoom({ from: middle - (middle - this.view.from) * factor, to: middle + (this.view.to - middle) * factor });
  }

  command(word) {
    if (word === 'in') this.scaleBy(0.5);
    if (word === 'out') this.scaleBy(2);
    if (word === 'drill') this.zoom(this.home);
    if (word === 'flight') this.zoom(this.flightView);
  }

  key(e) {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const { t } = this.flight, step = (this.view.to - this.view.from) / (e.shiftKey ? 10 : 100);
    const moves = {
      ArrowRight: () => Math.max(this.at + 1, nearestTo(t, t[this.at] + step)),
      ArrowLeft: () => Math.min(this.at - 1, nearestTo(t, t[this.at] - step)),
      Home: () => indexAt(t, this.view.from) + (t[indexAt(t, this.view.from)] < this.view.from ? 1 : 0),
      End: () => indexAt(t, this.view.to),
    };
    const zooms = { '+': 'in', '=': 'in', '-': 'out', 0: 'drill' };
    if (moves[e.key]) this.moveTo(Math.min(Math.max(moves[e.key](), 0), t.length - 1));
    else if (zooms[e.key]) this.command(zooms[e.key]);
    else if (e.key === 'Enter') this.choose(this.at);
    else return;
    e.preventDefault();
  }

  // A cursor that leaves the view takes it along.
  moveTo(at) {
    const time = this.flight.t[at], span = this.view.to - this.view.from;
    this.at = at;
    if (time < this.view.from) this.zoom({ from: time - span * 0.1, to: time + span * 0.9 });
    else if (time > this.view.to) this.zoom({ from: time - span * 0.9, to: time + span * 0.1 });
    else this.cursor(at);
  }

  inside(e) {
    const box = e.currentTarget.getBoundingClientRect();
    return { x: e.clientX - box.left, y: e.clientY - box.top };
  }

  sampleAt(e) {
    const time = timeOf(this.stripLay, this.view, this.inside(e).x);
    return nearestTo(this.flight.t, Math.min(Math.max(time, this.view.from), this.view.to));
  }

  planSample(e) {
    const { x, y } = this.inside(e);
    return sampleNear(this.flight, this.planLay, x, y, this.planLay.from, this.planLay.to);
  }

  // With a mouse a drag across the strips zooms to what was swept; a click on the rail above them chooses the segment.
  dragFrom(e) {
    this.cursor(this.sampleAt(e));
    if (e.pointerType !== 'mouse' || e.button !== 0) return;
    this.strips.setPointerCapture(e.pointerId);
    this.drag = { x: this.inside(e).x };
  }

  dragTo(e) {
    const x = this.inside(e).x;
    this.cursor(this.sampleAt(e));
    if (Math.abs(x - this.drag.x) < 6) return;
    const g = this.stripTop.getContext('2d');
    g.fillStyle = this.ink.accent;
    g.globalAlpha = 0.12;
    g.fillRect(Math.min(x, this.drag.x), 0, Math.abs(x - this.drag.x), this.stripLay.axis);
    g.globalAlpha = 1;
  }

  dragEnd(e) {
    const { x, y } = this.inside(e), from = this.drag?.x;
    this.drag = null;
    if (from !== undefined && Math.abs(x - from) >= 6) {
      const [a, b] = [from, x].map(v => timeOf(this.stripLay, this.view, v)).sort((p, q) => p - q);
      this.zoom({ from: a, to: b });
    } else if (y < 32) {
      this.choose(this.sampleAt(e));
    }
  }

  close() {
    this.listening.abort();
    this.watch?.forEach(w => w.disconnect());
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
