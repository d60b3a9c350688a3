namespace SchoolDrills.Contracts;

/// <summary>How far a new school has come towards its first graded drill. Steps are done by what the school has, not by clicks.</summary>
/// <param name="Dismissed">A chief does not want to be reminded.</param>
/// <param name="HasSampleDrill">The school has published the drill of the sample recording.</param>
public sealed record SchoolStart(IReadOnlyList<StartStep> Steps, bool Dismissed, bool HasSampleDrill)
{
    /// <summary>The drill of the sample recording.</summary>
    public const string SampleDrill = "box-circles";

    /// <summary>Nothing is left to do.</summary>
    public bool Finished => Steps.All(s => s.Done || s.Skipped);
}

/// <summary>One step.</summary>
/// <param name="Slug">One of <see cref="StartSteps"/>.</param>
/// <param name="Count">People, drills or assignments that there are; 0 for the other steps.</param>
public sealed record StartStep(string Slug, bool Done, bool Skipped, int Count = 0);

/// <summary>The steps, as they stand on the wire and in their order.</summary>
public static class StartSteps
{
    public const string School = "school",
        People = "people",
        Drills = "drills",
        Assignment = "assignment",
        Recording = "recording";

    public static readonly IReadOnlyList<string> All = [School, People, Drills, Assignment, Recording];
}

/// <summary>Skips steps or puts the guide away; what is not sent stays as it is.</summary>
/// <param name="Skipped">All steps that are skipped.</param>
public sealed record SaveSchoolStart(IReadOnlyList<string>? Skipped = null, bool? Dismissed = null);
