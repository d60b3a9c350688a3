// What should be happening at this second: a minute dial on whose rim the next minute's changes wait for the hand, and the numbers
// to hold beside those that were flown.
import { askedAt, segmentAt } from './drill.js';
import { clock, figure } from './ink.js';
import { valueAt } from './columns.js';

const SVG = 'http://www.w3.org/2000/svg';

const ROWS = [
  { parameter: 'heading', asked: 'headingMagDeg' }, { parameter: 'altitude', asked: 'altitudeFt' },
  { parameter: 'turn-rate', asked: 'turnRateDegPerS' }, { parameter: 'vertical-speed', asked: 'verticalSpeedFpm' }, { parameter: 'airspeed', asked: 'airspeedKt' },
];

export class Face {
  constructor(root, flight, drill) {
    Object.assign(this, { root, flight, drill });
    this.dial = root.querySelector('svg');
    this.parts = Object.fromEntries(['phase', 'left', 'gate', 'cue', 'flown', 'reading'].map(name => [name, root.querySelector(`[data-face="${name}"]`)]));
    this.rows = ROWS.map(row => ({ ...row, strip: flight.strips.find(s => s.parameter === row.parameter), cells: root.querySelectorAll(`[data-row="${row.parameter}"] td`), line: root.querySelector(`[data-row="${row.parameter}"]`) }));
    this.rim = this.dial.querySelector('.rim');
    this.hand = this.dial.querySelector('.hand');
    this.arc = this.dial.querySelector('.arc');
    root.hidden = !drill.timeline;
  }

  show(time, at) {
    if (this.root.hidden) return;
    const clockS = this.drill.clockAt(time), asked = askedAt(this.drill.timeline, clockS);
    const second = ((clockS % 60) + 60) % 60;
    this.hand.setAttribute('transform', `rotate(${(second * 6).toFixed(1)} 60 60)`);
    text(this.parts.reading, clock(clockS));
    this.waiting(clockS, asked);
    this.words(time, clockS, asked);
    for (const row of this.rows) this.numbers(row, asked, time, at);
  }

  // The arc is what is left of the segment, a minute at most; the marks are the gates and calls that the hand will meet next.
  waiting(clockS, asked) {
    const left = asked?.segment ? Math.min(asked.segment.endS - clockS, 59.9) : 0;
    this.arc.setAttribute('d', left > 0.05 ? sector(clockS, clockS + left, 50) : '');
    const key = asked ? this.drill.timeline.gates.concat(this.drill.timeline.cues).filter(m => m.atS > clockS && m.atS <= clockS + 60).map(m => m.atS).join() : '';
    if (key === this.shown) return;
    this.shown = key;
    this.rim.replaceChildren(...this.drill.timeline.cues.filter(c => c.atS > clockS && c.atS <= clockS + 60).map(c => mark(c.atS, 44, 50, 'call')),
      ...this.drill.timeline.gates.filter(c => c.atS > clockS && c.atS <= clockS + 60).map(c => mark(c.atS, 40, 55, 'gate')));
  }

  words(time, clockS, asked) {
    const { phase, left, gate, cue, flown } = this.parts;
    const due = asked?.segment, was = segmentAt(this.drill.segments, time);
    text(phase, due ? `${due.index + 1} ${due.name}` : clockS < 0 ? 'before the drill' : 'after the drill');
    text(left, due ? `${clock(Math.ceil(due.endS - clockS))} left` : '');
    text(gate, asked?.gate ? asked.gate.label : 'none');
    text(cue, asked?.cue ? `${clock(asked.cue.atS)}  ${asked.cue.text}` : 'none');
    text(flown, was && due && was.index !== due.index ? `Flown at this second: ${was.index + 1} ${was.name}, ${was.index < due.index ? 'behind' : 'ahead of'} the clock.` : '');
  }

  numbers({ asked: name, strip, cells, line }, asked, time, at) {
    const should = asked?.segment ? asked[name] : NaN;
    const is = strip.empty ? NaN : valueAt(this.flight, strip.value, time);
    let off = is - should;
    if (strip.angle) off -= 360 * Math.round(off / 360);
    text(cells[0], figure(should, strip.unit));
    text(cells[1], figure(is, strip.unit));
    text(cells[2], Number.isFinite(off) ? figure(off, strip.unit, true) : '');
    line.classList.toggle('out', Math.abs(off) > strip.band[at]);
  }
}

// A text node is touched only where it changes, sixty times a second being otherwise much.
function text(element, words) {
  if (element.textContent !== words) element.textContent = words;
}

function on(clockS, radius) {
  const angle = clockS * Math.PI / 30;
  return `${(60 + radius * Math.sin(angle)).toFixed(2)} ${(60 - radius * Math.cos(angle)).toFixed(2)}`;
}

function sector(fromS, toS, radius) {
  return `M${on(fromS, radius)}A${radius} ${radius} 0 ${toS - fromS > 30 ? 1 : 0} 1 ${on(toS, radius)}`;
}

function mark(clockS, from, to, kind) {
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('d', `M${on(clockS, from)}L${on(clockS, to)}`);
  path.setAttribute('class', kind);
  return path;
}
