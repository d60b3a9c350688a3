// The cursor for those who listen: a slider over time whose value is what the strips show there.
import { clock, figure } from './ink.js';

export function spoken(flight, drill, view, time, at, segment, words) {
  const reading = t => Math.round(drill.clockAt(t));
  const parts = [clock(drill.clockAt(time)), segment ? `segment ${words}` : 'outside the drill'];
  for (const s of flight.strips) {
    if (!Number.isFinite(s.value[at])) continue;
    const target = Number.isFinite(s.target[at]) ? `, target ${figure(s.target[at], s.unit)}` : '';
    parts.push(`${s.name} ${figure(s.value[at], s.unit)}${target}${s.outside[at] ? ', outside tolerance' : ''}`);
  }
  return { valuemin: reading(view.from), valuemax: reading(view.to), valuenow: reading(time), valuetext: parts.join('; ') };
}
