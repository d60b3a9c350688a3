namespace SchoolDrills.Web.Help;

/// <summary>A term of the trade or of these pages, and what it means here.</summary>
public sealed record GlossaryTerm(string Word, string Meaning)
{
    /// <summary>In the order of the alphabet.</summary>
    public static IReadOnlyList<GlossaryTerm> All { get; } =
    [
        .. new GlossaryTerm[]
        {
            new("Assignment", "A drill given to one student, with a due day and, if wanted, its own entry, aircraft and focus."),
            new("Attempt", "One flight at a drill, told by its recording. It keeps the version of the drill it was flown against."),
            new("Audit trail", "Who did what, and when. Entries are added and never changed."),
            new("Bedford scale", "Ten steps by which a pilot says how much spare capacity was left beside the task."),
            new("Briefing card", "One sheet for the kneeboard: the drill drawn, its clock, its gates and the calls."),
            new("Check", "A flow check or checklist laid on a drill, to be done within a window of time."),
            new("Cross-check", "The eyes' regular way over the instruments; also called the scan."),
            new("Debrief", "Going through a flight afterwards; here, the page with plan view, strips, segments and findings."),
            new("Deviation", "Actual less target: +80 ft is high, −10° is left of the heading."),
            new("Drill", "A timed pattern of straights, turns, climbs and descents, often with checks and load tasks on top."),
            new("Entry", "Heading, altitude and airspeed from which a drill is begun."),
            new("Finding", "Something an instructor would mention: a late roll-out, altitude that drifted, a forgotten reversal."),
            new("Flow check", "Items done from memory in a fixed way around the cockpit; a checklist is read."),
            new("Gate", "A time on the drill's clock with the heading and altitude to be at."),
            new("Grade", "The instructor's judgement, in the school's own words. Signed, it is only amended, never edited."),
            new("Half rate", "1.5° a second: 360° in four minutes."),
            new("Level", "How much a drill asks, from 1, one thing at a time, to 5, everything at once."),
            new("Load rating", "From 1 to 5: how loaded the student felt, noted on board or afterwards."),
            new("Load task", "Something to do besides flying: a radio call, a question, a sum."),
            new("Mirrored", "Flown with every turn to the other side."),
            new("Partial panel", "With some instruments covered, mostly attitude and heading; also called limited panel."),
            new("QNH", "The altimeter setting with which an altimeter reads altitude above mean sea level."),
            new("Racetrack", "Two straight legs joined by two half-circles, as in a hold."),
            new("Recording", "A file of time, position and altitude: a track."),
            new("Relief", "What brings the load down: asking for time, handing over, dropping what can wait."),
            new("Safety pilot", "A qualified pilot who looks out while another flies by instruments with the view restricted."),
            new("Saturation", "A stretch in which two or more quantities were out of tolerance together: where the load became too much."),
            new("Segment", "One part of a drill: a hold, a turn, a climb, a descent, a change of speed, or some of them together."),
            new("Self-assessment", "The student's own verdict on each segment, given before the score is shown."),
            new("Share in tolerance", "Time in tolerance as a part of the time that was measured."),
            new("Sigma", "The uncertainty of a figure, one standard deviation: about two in three are nearer to the truth than that."),
            new("Stage", "A part of the school's training, with the drills that are to be met before the next."),
            new("Standard rate", "3° a second: 360° in two minutes. Also called Rate 1."),
            new("Steep turn", "A turn at 45° of bank or more, held by instruments."),
            new("Task load index", "NASA's six scales of workload: mental, physical and time demand, performance, effort, frustration."),
            new("Teardrop", "A course reversal: some degrees off the outbound course, a timed leg, then one turn back."),
            new("Timed turn", "A turn by the clock: at standard rate 10 seconds are 30°."),
            new("Tolerance", "How far a quantity may be off its target."),
            new("Tolerance standard", "A set of tolerances with source and edition, such as a published test standard."),
            new("Verdict", "What the engine says of a quantity, a segment or a drill: met, close, not met or not measured."),
            new(
                "Vertical S",
                "Climbs and descents at a steady rate, each a little shorter than the last, on a steady heading or in turns."
            ),
            new("Weak spot", "A kind of segment and quantity that keeps failing, more than chance would explain."),
            new("Workload", "How much of the pilot's capacity flying and everything on top of it take."),
        }.OrderBy(t => t.Word, StringComparer.OrdinalIgnoreCase),
    ];

    /// <summary>Its anchor, after <c>term-</c>.</summary>
    public string Slug => Word.ToLowerInvariant().Replace(' ', '-');
}
