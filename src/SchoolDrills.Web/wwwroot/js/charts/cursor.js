// The cursor's layer over the strips: one line through all of them, the values at it beside each title.
import { clearCanvas, clock, figure } from './ink.js';
import { RAIL, xOf } from './layout.js';
import { upright } from './pen.js';

export function drawStripCursor(canvas, flight, drill, lay, view, ink, time, at) {
  const g = clearCanvas(canvas, lay.width, lay.height);
  const px = xOf(lay, view, time);
  if (px >= lay.left - 1 && px <= lay.right + 1) {
    g.strokeStyle = ink.ink;
    g.lineWidth = 1;
    upright(g, px, RAIL - 8, lay.axis);
    tab(g, lay, ink, px, clock(drill.clockAt(time)));
  }
  flight.strips.forEach((strip, k) => {
    if (!strip.empty) values(g, strip, lay.boxes[k], lay, ink, at);
  });
  return g;
}

function tab(g, lay, ink, px, text) {
  g.font = ink.font(11.5, 600);
  const half = g.measureText(text).width / 2 + 5;
  const middle = Math.min(Math.max(px, lay.left + half), lay.right - half);
  g.fillStyle = ink.paper;
  g.fillRect(middle - half - 16, lay.axis + 5, half * 2 + 32, 17);
  g.fillStyle = ink.ink;
  g.fillRect(middle - half, lay.axis + 5, half * 2, 17);
  g.fillStyle = ink.paper;
  g.textAlign = 'center';
  g.fillText(text, middle, lay.axis + 17.5);
}

// Beside the title what there is room for: value, deviation, target, in this order of worth.
function values(g, strip, box, lay, ink, at) {
  const out = strip.outside[at], off = strip.value[at] - strip.target[at];
  const parts = [[figure(strip.value[at], strip.unit), ink.ink, 600]];
  if (Number.isFinite(strip.target[at])) {
    parts.push([`target ${figure(strip.target[at], strip.unit)}`, ink.muted, 400]);
    if (Number.isFinite(off)) parts.push([figure(off, strip.unit, true) + (out ? ' outside' : ''), out ? ink['not-met'] : ink.muted, out ? 600 : 400]);
  }
  g.textAlign = 'right';
  g.font = ink.font(11.5, 600);
  const room = lay.right - lay.left - g.measureText(`${strip.name}  `).width;
  if (parts.length === 3 && parts.reduce((sum, p) => sum + g.measureText(p[0]).width + 12, 0) > room) parts.splice(1, 1);
  let right = lay.right;
  for (const [text, colour, weight] of parts.reverse()) {
    g.font = ink.font(11.5, weight);
    g.fillStyle = colour;
    g.fillText(text, right, box.head + 11);
    right -= g.measureText(text).width + 12;
  }
}
