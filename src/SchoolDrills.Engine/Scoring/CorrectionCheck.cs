namespace SchoolDrills.Engine.Scoring;

/// <summary>Checks an instructor's corrections before the attempt is re-scored with them.</summary>
public static class CorrectionCheck
{
    /// <summary>Why corrections cannot be made, in one sentence; null where they can.</summary>
    /// <param name="corrections">What the instructor corrected.</param>
    /// <param name="report">The engine's own report on the recording, without corrections.</param>
    public static string? Problem(ManualCorrections corrections, ScoreReport report)
    {
        try
        {
            if (corrections.IsEmpty)
                return null;
            if (!report.Found)
                throw new CorrectionRefusedException("The drill was not found in this recording, so there is nothing to correct.");
            ManualBoundaries.Check(corrections, report.Recording.StartUtc, report.Recording.EndUtc, report.Runs.Count);
            // The segments of a run other than the scored one are not in this report: they are checked when it is scored.
            if (corrections.Run is { } run && report.Runs.Any(r => r.Index == run && !r.Scored))
                return null;
            ManualBoundaries.Move(
                [.. report.Segments.Select(s => new ManualBoundaries.Span(s.Name, s.StartUtc, s.EndUtc))],
                corrections.Boundaries ?? [],
                report.Recording.StartUtc,
                report.Recording.EndUtc
            );
            return null;
        }
        catch (CorrectionRefusedException refused)
        {
            return refused.Message;
        }
    }
}
