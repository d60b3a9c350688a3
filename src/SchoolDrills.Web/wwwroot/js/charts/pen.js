// Strokes that all drawings share.

export function line(g, x1, y1, x2, y2) {
  g.beginPath();
  g.moveTo(x1, y1);
  g.lineTo(x2, y2);
  g.stroke();
}

export function stroke(g, points, x, y) {
  g.beginPath();
  points.forEach((p, k) => k === 0 ? g.moveTo(x(p), y(p)) : g.lineTo(x(p), y(p)));
  g.stroke();
}

export function area(g, points, x, upper, lower) {
  g.beginPath();
  points.forEach((p, k) => k === 0 ? g.moveTo(x(p), upper(p)) : g.lineTo(x(p), upper(p)));
  for (let k = points.length - 1; k >= 0; k--) g.lineTo(x(points[k]), lower(points[k]));
  g.fill();
}

/** A vertical hairline on whole pixels. */
export function upright(g, x, from, to) {
  line(g, Math.round(x) + 0.5, from, Math.round(x) + 0.5, to);
}

/** Letter of a finding on paper ground, as it stands in the list of findings. */
export function letterTag(g, ink, letter, x, y) {
  g.font = ink.font(10.5, 700);
  g.textAlign = 'center';
  g.fillStyle = ink.paper;
  g.strokeStyle = ink['not-met'];
  g.lineWidth = 1.2;
  g.beginPath();
  g.rect(x - 6.5, y - 7, 13, 14);
  g.fill();
  g.stroke();
  g.fillStyle = ink['not-met'];
  g.fillText(letter, x, y + 4);
}

/** Text with a border of paper, to be read over lines. */
export function haloed(g, ink, text, x, y, colour) {
  g.strokeStyle = ink.paper;
  g.lineWidth = 3.5;
  g.strokeText(text, x, y);
  g.fillStyle = colour;
  g.fillText(text, x, y);
}
