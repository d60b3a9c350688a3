namespace SchoolDrills.Web.Help;

/// <summary>A term of the trade or of these pages, and what it means here.</summary>
/// <param name="Slug">Its anchor, after <c>term-</c>; the same in every language.</param>
public sealed record GlossaryTerm(string Slug, string Word, string Meaning)
{
    /// <summary>In the order of the alphabet.</summary>
    public static IReadOnlyList<GlossaryTerm> All =>
        [
            .. new GlossaryTerm[]
            {
                new(
                    "assignment",
                    T["Assignment"],
                    T["A drill given to one student, with a due day and, if wanted, its own entry, aircraft and focus."]
                ),
                new(
                    "attempt",
                    T["Attempt"],
                    T["One flight of a drill, as recorded. It stays with the version of the drill it was flown against."]
                ),
                new("audit-trail", T["Audit trail"], T["Who did what, and when. Entries are added and never changed."]),
                new("bedford-scale", T["Bedford scale"], T["Ten steps by which a pilot says how much spare capacity the task left."]),
                new(
                    "briefing-card",
                    T["Briefing card"],
                    T["One sheet for the kneeboard: the drill drawn, its clock, its gates and the calls."]
                ),
                new("check", T["Check | glossary"], T["A flow check or checklist set on a drill, to be done within a window of time."]),
                new("cross-check", T["Cross-check"], T["The regular path of the eyes over the instruments; also called the scan."]),
                new(
                    "debrief",
                    T["Debrief"],
                    T["Going through a flight afterwards; here, the page with plan view, strips, segments and findings."]
                ),
                new("deviation", T["Deviation"], T["Actual less target: +80 ft is high, −10° is left of the heading."]),
                new(
                    "drill",
                    T["Drill"],
                    T["A timed pattern of straights, turns, climbs and descents, often with checks and load tasks on top."]
                ),
                new("entry", T["Entry"], T["The heading, altitude and airspeed at which a drill begins."]),
                new(
                    "finding",
                    T["Finding"],
                    T["Something an instructor would mention: a late roll-out, altitude that drifted, a forgotten reversal."]
                ),
                new("flow-check", T["Flow check"], T["Items done from memory in a fixed path around the cockpit; a checklist is read."]),
                new("gate", T["Gate | glossary"], T["A time on the drill's clock with the heading and altitude to be at."]),
                new(
                    "grade",
                    T["Grade"],
                    T["The instructor's judgement, in the school's own words. Signed, it is only amended, never edited."]
                ),
                new("half-rate", T["Half rate"], T["1.5° a second: 360° in four minutes."]),
                new("level", T["Level"], T["How much a drill asks of the pilot, from 1, one thing at a time, to 5, everything at once."]),
                new("load-rating", T["Load rating"], T["From 1 to 5: how loaded the student felt, noted on board or afterwards."]),
                new("load-task", T["Load task"], T["Something to do besides flying: a radio call, a question, a sum."]),
                new("mirrored", T["Mirrored"], T["Flown with every turn to the other side."]),
                new(
                    "partial-panel",
                    T["Partial panel"],
                    T["With some instruments covered, mostly attitude and heading; also called limited panel."]
                ),
                new("qnh", T["QNH"], T["The altimeter setting with which an altimeter reads altitude above mean sea level."]),
                new("racetrack", T["Racetrack"], T["Two straight legs joined by two half-circles, as in a hold."]),
                new("recording", T["Recording"], T["A file of time, position and altitude: a track."]),
                new("relief", T["Relief"], T["What brings the load down: asking for time, handing over, dropping what can wait."]),
                new(
                    "safety-pilot",
                    T["Safety pilot"],
                    T["A qualified pilot who looks out while another flies by instruments with the view restricted."]
                ),
                new(
                    "saturation",
                    T["Saturation"],
                    T["A stretch in which two or more quantities were out of tolerance together: where the load became too much."]
                ),
                new(
                    "segment",
                    T["Segment"],
                    T["One part of a drill: a hold, a turn, a climb, a descent, a change of speed, or some of them together."]
                ),
                new(
                    "self-assessment",
                    T["Self-assessment"],
                    T["The student's own verdict on each segment, given before the score is shown."]
                ),
                new("share-in-tolerance", T["Share in tolerance"], T["Time in tolerance as a share of the time measured."]),
                new(
                    "sigma",
                    T["Sigma"],
                    T["The uncertainty of a figure, one standard deviation: about two in three figures are nearer the truth than that."]
                ),
                new("stage", T["Stage"], T["A part of the school's training, with the drills to be met before the next."]),
                new("standard-rate", T["Standard rate"], T["3° a second: 360° in two minutes. Also called Rate 1."]),
                new("steep-turn", T["Steep turn"], T["A turn at 45° of bank or more, held by instruments."]),
                new(
                    "task-load-index",
                    T["Task load index"],
                    T["NASA's six scales of workload: mental, physical and time demand, performance, effort, frustration."]
                ),
                new(
                    "teardrop",
                    T["Teardrop"],
                    T["A course reversal: some degrees off the outbound course, a timed leg, then one turn back."]
                ),
                new("timed-turn", T["Timed turn"], T["A turn by the clock: at standard rate 10 seconds are 30°."]),
                new("tolerance", T["Tolerance"], T["How far a quantity may be off its target."]),
                new(
                    "tolerance-standard",
                    T["Tolerance standard"],
                    T["A set of tolerances with source and edition, such as a published test standard."]
                ),
                new(
                    "verdict",
                    T["Verdict"],
                    T["What the engine says about a quantity, a segment or a drill: met, close, not met or not measured."]
                ),
                new(
                    "vertical-s",
                    T["Vertical S"],
                    T["Climbs and descents at a steady rate, each a little shorter than the last, on a steady heading or in turns."]
                ),
                new("weak-spot", T["Weak spot"], T["A kind of segment and quantity that keeps failing, more than chance would explain."]),
                new("workload", T["Workload"], T["How much of the pilot's capacity is taken up by flying and everything on top of it."]),
            }.OrderBy(t => t.Word, StringComparer.CurrentCultureIgnoreCase),
        ];
}
