// @ts-check
// Debrief plots: fetches the columns of one attempt and draws plan, strips and clock face under one cursor. Called by DebriefPlots.razor.
import { prepare } from './charts/columns.js';
import { drillOf } from './charts/drill.js';
import { Plots } from './charts/plots.js';
import { columnsOf, timelineOf } from './charts/track-data.js';

/**
 * @param {HTMLElement} root element that the drawings go into
 * @param {TrackSource} track
 * @param {PlotSource} source
 * @param {DotNetObject | null} page called when a segment is chosen and when corrections are pending
 */
export async function open(root, track, source, page) {
  const note = /** @type {HTMLElement} */ (root.querySelector('.note'));
  const failed = (/** @type {string} */ why) => {
    root.dataset.state = 'failed';
    note.textContent = why;
    return new NoPlots();
  };
  let columns, timeline;
  try {
    [columns, timeline] = await Promise.all([columnsOf(track), timelineOf(track.timelineUrl)]);
  } catch (error) {
    return failed(/** @type {Error} */ (error).message);
  }
  if (!columns.values.timeS?.length) return failed('The track holds no samples to draw.');
  const plots = new Plots(root, prepare(columns), drillOf(source, timeline, Date.parse(columns.epochUtc)), page);
  root.dataset.state = 'ready';
  note.textContent = '';
  plots.redraw();
  return plots;
}

/** Stands where there is nothing to draw, and takes what the page asks of plots. */
class NoPlots {
  select() {}
  goTo() {}
  adjust() {}
  setExcluding() {}
  compare() {}
  layOver() {
    return false;
  }
  undo() {}
  include() {}
  close() {}
}
