using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Corrections;

/// <summary>Corrections while they are being written, begun from those that hold.</summary>
public sealed class CorrectionDraft
{
    private const double NewStretchS = 15;

    private readonly Dictionary<int, ManualBoundary> moved = [];

    public CorrectionDraft(AttemptDetail attempt)
    {
        Engine = attempt.EngineScore ?? attempt.Score!;
        Revision = attempt.Revision;
        Run = Engine.Runs.FirstOrDefault(r => r.Scored)?.Index;
        if (attempt.StandingCorrection is not { } standing)
            return;
        foreach (var boundary in standing.Segments)
            moved[boundary.Index] = boundary;
        Excluded.AddRange(
            standing.Excluded.Select(s => new Stretch
            {
                FromUtc = s.StartUtc,
                ToUtc = s.EndUtc,
                Reason = s.Reason,
            })
        );
        Run = standing.Run ?? Run;
        (QnhHpa, WindFromDegTrue, WindKt) = (standing.QnhHpa, standing.WindFromDegTrue, standing.WindKt);
        Reason = standing.Reason ?? "";
    }

    /// <summary>The engine's own report, which the corrections are to.</summary>
    public ScoreReport Engine { get; }

    public int Revision { get; private set; }

    public List<Stretch> Excluded { get; } = [];

    public int? Run { get; set; }

    public double? QnhHpa { get; set; }

    public double? WindFromDegTrue { get; set; }

    public double? WindKt { get; set; }

    public string Reason { get; set; } = "";

    public DateTimeOffset? StartOf(SegmentReport segment) => moved.GetValueOrDefault(segment.Index)?.StartUtc ?? segment.StartUtc;

    public DateTimeOffset? EndOf(SegmentReport segment) => moved.GetValueOrDefault(segment.Index)?.EndUtc ?? segment.EndUtc;

    public bool IsMoved(SegmentReport segment) => moved.ContainsKey(segment.Index);

    /// <summary>Moves a start, or (null) takes the engine's again.</summary>
    public void MoveStart(SegmentReport segment, DateTimeOffset? at) =>
        Move(segment.Index, b => b with { StartUtc = at == segment.StartUtc ? null : at });

    /// <summary>Moves an end, or (null) takes the engine's again.</summary>
    public void MoveEnd(SegmentReport segment, DateTimeOffset? at) =>
        Move(segment.Index, b => b with { EndUtc = at == segment.EndUtc ? null : at });

    /// <summary>Takes the engine's times of a segment again.</summary>
    public void Reset(SegmentReport segment)
    {
        MoveStart(segment, null);
        MoveEnd(segment, null);
    }

    public void AddStretch()
    {
        var from = Excluded is [.., var last] ? last.ToUtc : Engine.StartUtc ?? Engine.Recording.StartUtc;
        Excluded.Add(new Stretch { FromUtc = from, ToUtc = from.AddSeconds(NewStretchS) });
    }

    public PutBoundaries ToPut() =>
        new(
            [.. moved.Values.OrderBy(b => b.Index)],
            [.. Excluded.Select(s => new ExcludedStretch(s.FromUtc, s.ToUtc, s.Reason.Trim()))],
            Run == Engine.Runs.FirstOrDefault(r => r.Scored)?.Index ? null : Run,
            QnhHpa,
            WindFromDegTrue,
            WindKt,
            string.IsNullOrWhiteSpace(Reason) ? null : Reason.Trim(),
            Revision
        );

    /// <summary>Somebody else corrected meanwhile: his are taken where nothing was written here, and sending then replaces both.</summary>
    public void GoOnFrom(AttemptDetail now)
    {
        Revision = now.Revision;
        if (now.StandingCorrection is not { } theirs)
            return;
        foreach (var boundary in theirs.Segments)
            moved.TryAdd(boundary.Index, boundary);
        Excluded.AddRange(
            theirs
                .Excluded.Where(t => Excluded.TrueForAll(s => s.FromUtc != t.StartUtc))
                .Select(t => new Stretch
                {
                    FromUtc = t.StartUtc,
                    ToUtc = t.EndUtc,
                    Reason = t.Reason,
                })
                .ToList()
        );
    }

    private void Move(int index, Func<ManualBoundary, ManualBoundary> change)
    {
        var boundary = change(moved.GetValueOrDefault(index) ?? new ManualBoundary(index));
        if (boundary is { StartUtc: null, EndUtc: null })
            moved.Remove(index);
        else
            moved[index] = boundary;
    }

    /// <summary>A stretch that is to count neither in nor out.</summary>
    public sealed class Stretch
    {
        public DateTimeOffset FromUtc { get; set; }

        public DateTimeOffset ToUtc { get; set; }

        public string Reason { get; set; } = "";
    }
}
