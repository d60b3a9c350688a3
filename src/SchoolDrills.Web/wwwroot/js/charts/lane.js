// Load and events: what was to be checked and asked when, what was noted on board, and when several quantities ran away together.
import { clock, fade } from './ink.js';
import { line } from './pen.js';

/** Rows of the lane: what was planned, what was noted, saturation; those with nothing in them are left out. */
export function laneRows(drill) {
  const rows = [];
  if (drill.planned.length) rows.push('planned');
  if (drill.events.length) rows.push('noted');
  if (drill.episodes.length) rows.push('together');
  return rows;
}

export function laneWords(drill) {
  const rated = drill.ratings.length ? `load rated ${drill.ratings.join(', ')} of 5` : 'load not rated';
  return drill.events.length ? rated : `${rated}; nothing noted on board`;
}

export function drawLane(g, drill, lay, x, ink, hatch) {
  const { lane } = lay;
  g.textAlign = 'left';
  g.font = ink.font(12, 600);
  g.fillStyle = ink.ink;
  g.fillText('Load and events', lay.left, lane.head + 11);
  const title = g.measureText('Load and events  ').width;
  g.font = ink.font(11.5);
  g.fillStyle = ink.muted;
  if (title + g.measureText(laneWords(drill)).width < lay.right - lay.left) g.fillText(laneWords(drill), lay.left + title, lane.head + 11);
  g.strokeStyle = ink.hairline;
  g.lineWidth = 1;
  line(g, lay.left, Math.round(lane.bottom) + 0.5, lay.right, Math.round(lane.bottom) + 0.5);
  const rows = laneRows(drill);
  g.save();
  g.beginPath();
  g.rect(lay.left, lane.top - 2, lay.right - lay.left, lane.height + 4);
  g.clip();
  rows.forEach((row, k) => {
    const y = lane.top + k * lay.laneRow + lay.laneRow / 2;
    if (row === 'planned') drill.planned.forEach((p, i) => planned(g, p, drill.planned[i + 1], x, y, ink));
    if (row === 'noted') noted(g, drill.events, x, y, ink);
    if (row === 'together') for (const e of drill.episodes) together(g, e, x, y, ink, hatch);
  });
  g.restore();
  if (!lay.narrow) rows.forEach((row, k) => side(g, row, lay, lane.top + k * lay.laneRow + lay.laneRow / 2, ink));
}

const SIDES = { planned: 'asked', noted: 'noted', together: 'together' };

function side(g, row, lay, y, ink) {
  g.font = ink.font(10);
  g.fillStyle = ink.muted;
  g.textAlign = 'right';
  g.fillText(SIDES[row], lay.left - 4, y + 3.5);
}

// A check is a window, open at both ends; a load task a lozenge where it is given.
function planned(g, p, next, x, y, ink) {
  const a = x(p.fromS), b = x(p.toS);
  g.strokeStyle = g.fillStyle = ink.accent;
  g.lineWidth = 1.2;
  g.beginPath();
  if (p.kind === 'check') {
    fade(g, 0.12, () => g.fillRect(a, y - 5, Math.max(2, b - a), 10));
    g.moveTo(a, y - 5);
    g.lineTo(a, y + 5);
    g.moveTo(b, y - 5);
    g.lineTo(b, y + 5);
    g.stroke();
  } else {
    lozenge(g, a, y, 4.5);
    g.stroke();
  }
  label(g, p.name, b + (p.kind === 'check' ? 4 : 8), next ? x(next.fromS) - 8 : Infinity, y, ink);
}

function label(g, text, from, to, y, ink) {
  g.font = ink.font(10.5);
  g.fillStyle = ink.muted;
  g.textAlign = 'left';
  if (g.measureText(text).width <= to - from) g.fillText(text, from, y + 3.5);
}

// Ticked: a tick. Load task: a filled lozenge. Relief: a triangle pointing down. Load rating: its number. Anything else: a short bar.
function noted(g, events, x, y, ink) {
  for (const e of events) {
    const at = x(e.atS);
    g.strokeStyle = g.fillStyle = ink.ink;
    g.lineWidth = 1.6;
    g.beginPath();
    if (e.kind === 'check') {
      g.moveTo(at - 4, y);
      g.lineTo(at - 1, y + 4);
      g.lineTo(at + 5, y - 5);
      g.stroke();
    } else if (e.kind.startsWith('load-task')) {
      lozenge(g, at, y, 4.5);
      g.fill();
    } else if (e.kind === 'relief') {
      g.moveTo(at - 5, y - 4);
      g.lineTo(at + 5, y - 4);
      g.lineTo(at, y + 5);
      g.fill();
    } else if (e.kind === 'load-rating') {
      g.font = ink.font(11.5, 700);
      g.textAlign = 'center';
      g.fillText(e.detail ?? '?', at, y + 4);
    } else {
      line(g, at, y - 5, at, y + 5);
    }
  }
}

function together(g, e, x, y, ink, hatch) {
  const a = x(e.startS), b = Math.max(x(e.endS), a + 3);
  g.fillStyle = ink['not-met'];
  fade(g, 0.14, () => g.fillRect(a, y - 5, b - a, 10));
  g.fillStyle = hatch;
  g.fillRect(a, y - 5, b - a, 10);
  g.strokeStyle = ink['not-met'];
  g.lineWidth = 1;
  g.strokeRect(a, y - 5, b - a, 10);
}

function lozenge(g, x, y, r) {
  g.moveTo(x, y - r);
  g.lineTo(x + r, y);
  g.lineTo(x, y + r);
  g.lineTo(x - r, y);
  g.closePath();
}

/** What stands in the lane at a time, in words. */
export function laneAt(drill, time) {
  const words = [];
  for (const p of drill.planned) {
    if (p.kind === 'check' && time >= p.fromS && time <= p.toS) words.push(`${p.name} due by ${clock(drill.clockAt(p.toS))}`);
    if (p.kind !== 'check' && time >= p.fromS && time < p.fromS + 10) words.push(`${p.name} given`);
  }
  for (const e of drill.events) if (time >= e.atS && time < e.atS + 5) words.push(`${e.kind.replace('-', ' ')}${e.detail ? `: ${e.detail}` : ''}`);
  for (const e of drill.episodes) if (time >= e.startS && time < e.endS) words.push(`out together: ${e.what}`);
  return words;
}
