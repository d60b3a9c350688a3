// @ts-check
// The cursor for those who listen: a slider over time whose value is what the strips show there.
import { clock, figure } from './format.js';
import { segmentAt } from './drill.js';

/**
 * @param {Flight} flight
 * @param {Drill} drill
 * @param {View} view
 * @param {number} time
 * @param {number} sample
 * @param {string} words what stands beside the clock
 */
export function ariaValues(flight, drill, view, time, sample, words) {
  /** @param {number} t */
  const reading = t => Math.round(drill.clockAt(t));
  const parts = [clock(drill.clockAt(time)), segmentAt(drill.segments, time) ? `segment ${words}` : 'outside the drill'];
  for (const { name, unit, value, target, outside } of flight.strips) {
    if (!Number.isFinite(value[sample])) continue;
    const aim = Number.isFinite(target[sample]) ? `, target ${figure(target[sample], unit)}` : '';
    parts.push(`${name} ${figure(value[sample], unit)}${aim}${outside[sample] ? ', outside tolerance' : ''}`);
  }
  return {
    valuemin: String(reading(view.from)),
    valuemax: String(reading(view.to)),
    valuenow: String(reading(time)),
    valuetext: parts.join('; '),
  };
}
