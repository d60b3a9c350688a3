namespace SchoolDrills.Engine.Drills;

/// <summary>A drill resolved for one entry: every segment with its clock times and the targets to hold at each second.</summary>
/// <param name="DurationS">Length of the whole drill, seconds.</param>
/// <param name="Segments">Segments in order, contiguous from 0 to <paramref name="DurationS"/>.</param>
/// <param name="Gates">Clock times with the heading and altitude to have then.</param>
/// <param name="Cues">An instructor's calls with their times.</param>
/// <param name="Checks">Flow checks and checklists with their time windows.</param>
/// <param name="LoadTasks">Load tasks with the time each is given.</param>
public sealed record DrillTimeline(
    double DurationS,
    IReadOnlyList<TimelineSegment> Segments,
    IReadOnlyList<Gate> Gates,
    IReadOnlyList<Cue> Cues,
    IReadOnlyList<TimedCheck> Checks,
    IReadOnlyList<TimedLoadTask> LoadTasks
)
{
    /// <summary>Resolves a template for an entry: repetitions expanded, mirrored and at half rate if the entry says so.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="entry">Heading, altitude and airspeed of the first segment.</param>
    /// <exception cref="ArgumentException">The template or the entry has <see cref="TemplateProblems"/>; the message is
    /// the first.</exception>
    public static DrillTimeline Resolve(DrillTemplate template, DrillEntry entry) =>
        TemplateProblems.Of(template, entry) is [var first, ..]
            ? throw new ArgumentException(first, nameof(template))
            : TimelineResolver.Resolve(template, entry);
}

/// <summary>A clock time with the heading and altitude to have then.</summary>
/// <param name="AtS">Seconds from the drill's start.</param>
/// <param name="HeadingMagDeg">Magnetic heading, degrees, (0, 360].</param>
/// <param name="AltitudeFt">Indicated altitude, feet.</param>
/// <param name="Label">Where in the drill this is, in an instructor's words.</param>
public sealed record Gate(double AtS, double HeadingMagDeg, double AltitudeFt, string Label);

/// <summary>An instructor's call by the clock.</summary>
/// <param name="AtS">Seconds from the drill's start.</param>
/// <param name="Text">The call.</param>
public sealed record Cue(double AtS, string Text);

/// <summary>A flow check or checklist with the window in which it is to be done.</summary>
/// <param name="Name">Short name.</param>
/// <param name="Kind"><c>flow</c> or <c>checklist</c>.</param>
/// <param name="Items">The items in order.</param>
/// <param name="FromS">Window opens, seconds from the drill's start.</param>
/// <param name="ToS">Window closes, seconds from the drill's start.</param>
/// <param name="SegmentIndex">The segment in which the window opens.</param>
public sealed record TimedCheck(string Name, string Kind, IReadOnlyList<string> Items, double FromS, double ToS, int SegmentIndex);

/// <summary>A task laid on top of the flying, with the time it is given.</summary>
/// <param name="Name">Short name.</param>
/// <param name="Script">The words the instructor says.</param>
/// <param name="ExpectedAnswer">The right answer where there is one.</param>
/// <param name="AtS">Given at, seconds from the drill's start.</param>
/// <param name="SegmentIndex">The segment in which it is given.</param>
public sealed record TimedLoadTask(string Name, string Script, string? ExpectedAnswer, double AtS, int SegmentIndex);
