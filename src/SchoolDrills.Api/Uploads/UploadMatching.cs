using System.Diagnostics;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.Schools;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Uploads;

/// <summary>
/// What a pending recording is of: the engine looks for the drill it was sent for, else for those of the person's open work.
/// </summary>
internal static class UploadMatching
{
    /// <summary>Drills that are looked for at most, those due first.</summary>
    private const int MostDrills = 6;

    /// <summary>How long the rest of the catalogue is looked through.</summary>
    private static readonly TimeSpan LongestLook = TimeSpan.FromSeconds(8);

    /// <summary>Students whose open work an instructor's recording is held against.</summary>
    private const int MostAssignments = 60;

    /// <returns>Null where the assignment is not there or not theirs to see.</returns>
    public static async Task<UploadCheck?> CheckAsync(
        PendingTrack pending,
        Guid? assignmentId,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        CancellationToken ct
    )
    {
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        var asked = assignmentId is { } id ? await OpenAsync(db, a => a.VisibleTo(me).Where(x => x.Id == id), ct) : [];
        if (assignmentId is not null && asked.Count == 0)
            return null;
        var studentId =
            asked is [var one] ? one.StudentId
            : me.IsStaff ? (Guid?)null
            : me.Id;
        var (track, _, problem) = await reading.ReadAsync(pending.Form(pending.Meta), ct);
        if (track is null)
            return new UploadCheck(pending.View(), [problem!.ProblemDetails.Detail!], []);

        var flight = ReconstructedFlight.Of(track, new ScoringOptions());
        var cautions = new List<string>();
        if (asked is [var wanted])
        {
            if (DayCaution(pending, wanted, school) is { } day)
                cautions.Add(day);
            var found = await LookAsync(flight, [wanted], school, db, ct);
            if (found.Count > 0)
                return new UploadCheck(pending.View(), cautions, found);
        }

        var others = await OpenAsync(
            db,
            a => a.VisibleTo(me).Where(x => x.Id != assignmentId && (studentId == null || x.StudentId == studentId)),
            ct
        );
        var matches = await LookAsync(flight, others, school, db, ct);
        var likely = matches.Count > 0 ? null : await RecognizeAsync(flight, db, ct);
        if (asked is [var sought])
            cautions.Add(NotFound(sought.DrillVersion.Template.Title, matches, likely, pending, school));
        else if (matches.Count == 0)
            cautions.Add(NoneFound(others.Count > 0, likely, pending, school));
        return new UploadCheck(pending.View(), cautions, matches, likely?.Slug);
    }

    private static async Task<List<Assignment>> OpenAsync(
        SchoolDrillsDbContext db,
        Func<IQueryable<Assignment>, IQueryable<Assignment>> whose,
        CancellationToken ct
    ) =>
        await whose(db.Assignments.AsNoTracking().Include(a => a.DrillVersion).Include(a => a.Student).Where(a => a.CancelledAtUtc == null))
            .OrderBy(a => a.Attempts.Any())
            .ThenBy(a => a.DueOn == null)
            .ThenBy(a => a.DueOn)
            .ThenByDescending(a => a.AssignedAtUtc)
            .Take(MostAssignments)
            .ToListAsync(ct);

    /// <summary>
    /// Assignments whose drill is in the recording: those still to be flown first, then those flown or assigned later; among equals the
    /// longer drill, then the surer.
    /// </summary>
    private static async Task<List<UploadMatch>> LookAsync(
        ReconstructedFlight? flight,
        IReadOnlyList<Assignment> work,
        School school,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (flight is null)
            return [];
        var drills = work.GroupBy(a => (a.DrillVersionId, a.Overrides)).Take(MostDrills).ToList();
        var slugs = drills.ConvertAll(d => AttemptScoring.StandardSlug(d.First().DrillVersion.Template, d.Key.Overrides));
        var standards = await db
            .Standards.AsNoTracking()
            .Where(s => slugs.Contains(s.Slug))
            .ToDictionaryAsync(s => s.Slug, s => s.Standard, ct);
        var matches = new List<UploadMatch>();
        foreach (var (drill, slug) in drills.Zip(slugs))
        {
            ct.ThrowIfCancellationRequested();
            if (!standards.TryGetValue(slug, out var standard))
                continue;
            var template = drill.First().DrillVersion.Template;
            var options = AttemptScoring.Options(new AttemptMeta(), drill.Key.Overrides);
            var found = DrillFinder.Find(flight, template, options);
            if (!found.IsFound)
                continue;
            var report = AttemptScorer.Score(flight, found, standard, options).Scored.Report;
            if (report is not { StartUtc: { } start, EndUtc: { } end })
                continue;
            matches.AddRange(
                drill.Select(a => new UploadMatch(
                    a.Id,
                    a.StudentId,
                    a.Student.DisplayName,
                    a.DrillVersion.Slug,
                    template.Title,
                    a.DueOn,
                    report.Confidence,
                    start,
                    end
                )
                {
                    Flown = a.Flown,
                    AssignedLater = IsBefore(start, a, school),
                })
            );
        }

        // A part of a drill is found in the whole of it as surely: the longer one explains more of the flight.
        return matches
            .OrderBy(m => m.Flown || m.AssignedLater)
            .ThenByDescending(m => m.EndUtc - m.StartUtc)
            .ThenByDescending(m => m.Confidence)
            .ToList();
    }

    /// <summary>The drill of the catalogue that explains most of the flight, as far as can be looked in the time a person waits.</summary>
    private static async Task<DrillTemplate?> RecognizeAsync(ReconstructedFlight? flight, SchoolDrillsDbContext db, CancellationToken ct)
    {
        if (flight is null)
            return null;
        var drills = await db
            .DrillVersions.AsNoTracking()
            .Where(d => d.State == DrillState.Published)
            .Select(d => d.Template)
            .ToListAsync(ct);
        var recordedS = flight.State.TimeS[^1] - flight.State.TimeS[0];
        var patience = Stopwatch.StartNew();
        return drills
            .GroupBy(t => t.Slug)
            .Select(g => g.MaxBy(t => t.Version)!)
            .Select(t => (Template: t, DrillTimeline.Resolve(t, t.Entry).DurationS))
            // The longest first: a part of a drill is found in the whole of it as surely.
            .Where(d => d.DurationS <= recordedS)
            .OrderByDescending(d => d.DurationS)
            .ThenBy(d => d.Template.Slug, StringComparer.Ordinal)
            .TakeWhile(_ => patience.Elapsed < LongestLook && !ct.IsCancellationRequested)
            .FirstOrDefault(d => DrillFinder.Find(flight, d.Template, new ScoringOptions()).IsFound)
            .Template;
    }

    private static string? DayCaution(PendingTrack pending, Assignment wanted, School school) =>
        IsBefore(pending.StartUtc, wanted, school)
            ? $"It was recorded on {Day(school.DayOf(pending.StartUtc))}, before the drill was assigned on "
                + $"{Day(school.DayOf(wanted.AssignedAtUtc))}: is it the right file?"
            : null;

    private static bool IsBefore(DateTimeOffset flownUtc, Assignment wanted, School school) =>
        school.DayOf(flownUtc) < school.DayOf(wanted.AssignedAtUtc);

    private static string NoneFound(bool hasWork, DrillTemplate? likely, PendingTrack pending, School school)
    {
        var found = likely is null ? "choose the drill that was flown" : $"it looks like {likely.Title}; choose what was flown";
        return hasWork
            ? $"None of the assigned drills was found in it ({Span(pending, school)}): {found}, or another recording."
            : $"There is no open assignment it could be for: {found}, and it is kept as a free attempt.";
    }

    private static string NotFound(string title, List<UploadMatch> others, DrillTemplate? likely, PendingTrack pending, School school) =>
        others is [var other, ..]
            ? $"{title} was not found in it, but {other.DrillTitle} was, from {school.Clock(other.StartUtc)} to "
                + $"{school.Clock(other.EndUtc)}: use it for that one, or choose another recording."
        : likely is not null
            ? $"{title} was not found in it; it looks like {likely.Title}: choose another recording, or keep it "
                + "as a free attempt under Upload."
        : $"{title} was not found in it. It runs {Span(pending, school)}: choose another recording, or use it "
            + "all the same and let your instructor look.";

    private static string Span(PendingTrack pending, School school) =>
        $"from {school.Clock(pending.StartUtc)} to {school.Clock(pending.EndUtc)} on {Day(school.DayOf(pending.StartUtc))}";

    private static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);
}
