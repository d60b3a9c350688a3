// What stands about the plan: north, wind, scale, legend, and the shapes of the aeroplane and of direction.
import { roundStepBelow } from './ink.js';
import { haloed } from './pen.js';

const METRES_PER_NM = 1852;

/** A small arrow head that shows which way the path was flown. */
export function tip(g, px, py, d, colour) {
  shape(g, px, py, d, [[6, 0], [-4, -4], [-2, 0], [-4, 4]], () => {
    g.fillStyle = colour;
    g.fill();
  });
}

/** The aeroplane. */
export function dart(g, px, py, d, ink) {
  shape(g, px, py, d, [[11, 0], [-7, -7], [-3, 0], [-7, 7]], () => {
    g.fillStyle = ink.ink;
    g.strokeStyle = ink.paper;
    g.lineWidth = 2;
    g.stroke();
    g.fill();
  });
}

function shape(g, px, py, d, points, paint) {
  g.save();
  g.translate(px, py);
  g.rotate(Math.atan2(-d.y, d.x));
  g.beginPath();
  points.forEach(([x, y], k) => k === 0 ? g.moveTo(x, y) : g.lineTo(x, y));
  g.closePath();
  paint();
  g.restore();
}

export function compass(g, lay, ink, wind) {
  const north = { x: lay.width - 16, y: 30 };
  g.strokeStyle = g.fillStyle = ink.muted;
  g.lineWidth = 1;
  g.beginPath();
  g.moveTo(north.x, north.y + 12);
  g.lineTo(north.x, north.y - 10);
  g.moveTo(north.x - 3.5, north.y - 4);
  g.lineTo(north.x, north.y - 11);
  g.lineTo(north.x + 3.5, north.y - 4);
  g.stroke();
  g.font = ink.font(11);
  g.textAlign = 'center';
  g.fillText('N', north.x, north.y - 15);
  g.textAlign = 'left';
  if (!known(wind)) {
    g.fillText('wind not known', 4, 14);
    return;
  }
  g.save();
  g.translate(18, 20);
  g.rotate((wind.fromDegTrue + 180) * Math.PI / 180);
  g.strokeStyle = ink.ink;
  g.lineWidth = 1.5;
  g.beginPath();
  g.moveTo(0, 13);
  g.lineTo(0, -13);
  g.moveTo(-4.5, -6);
  g.lineTo(0, -13);
  g.lineTo(4.5, -6);
  g.stroke();
  g.restore();
  const from = String(Math.round(wind.fromDegTrue) % 360 || 360).padStart(3, '0');
  g.fillStyle = ink.ink;
  haloed(g, ink, `wind ${from}° true`, 40, 17, ink.ink);
  haloed(g, ink, `${Math.round(wind.speedKt)} kt`, 40, 31, ink.ink);
}

function known(wind) {
  return Number.isFinite(wind?.fromDegTrue) && Number.isFinite(wind?.speedKt);
}

export function scaleBar(g, lay, ink) {
  const most = Math.min(120, lay.width * 0.3) / lay.scale / METRES_PER_NM;
  const nm = roundStepBelow(most);
  const length = nm * METRES_PER_NM * lay.scale, y = lay.height - 8.5, right = lay.width - 6;
  g.strokeStyle = ink.muted;
  g.lineWidth = 1;
  g.beginPath();
  g.moveTo(right - length, y - 4);
  g.lineTo(right - length, y);
  g.lineTo(right, y);
  g.lineTo(right, y - 4);
  g.stroke();
  g.font = ink.font(11);
  g.textAlign = 'right';
  haloed(g, ink, `${Number(nm.toPrecision(2))} NM`, right - length - 6, y + 1, ink.muted);
}

export function legend(g, flight, lay, ink, wind) {
  if (flight.nominalEast.length === 0) return;
  const y = lay.height - 11;
  const sample = (x, colour, width, dash) => {
    g.strokeStyle = colour;
    g.lineWidth = width;
    g.setLineDash(dash);
    g.beginPath();
    g.moveTo(x, y);
    g.lineTo(x + 20, y);
    g.stroke();
    g.setLineDash([]);
  };
  g.font = ink.font(11);
  g.textAlign = 'left';
  sample(4, ink.met, 1.7, []);
  haloed(g, ink, 'flown', 29, y + 4, ink.muted);
  sample(68, ink.accent, 1, [5, 3]);
  const asked = lay.width < 340 ? 'asked' : known(wind) ? 'asked, in this wind' : 'asked, in still air';
  haloed(g, ink, asked, 93, y + 4, ink.muted);
}
