using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Start;

/// <summary>The steps of the guide in words.</summary>
internal static class StartWords
{
    public static string Title(StartStep step) =>
        step.Slug switch
        {
            StartSteps.School => "The school",
            StartSteps.People => "People",
            StartSteps.Drills => "Drills to start with",
            StartSteps.Assignment => "The first assignment",
            StartSteps.Recording => "A recording to try",
            _ => step.Slug,
        };

    public static string State(StartStep step) =>
        step switch
        {
            { Done: true, Slug: StartSteps.People } => $"done: {Figures.Count(step.Count, "student", "students")}",
            { Done: true, Slug: StartSteps.Drills } => $"done: {Figures.Count(step.Count, "drill", "drills")} published",
            { Done: true, Slug: StartSteps.Assignment } => $"done: {Figures.Count(step.Count, "assignment", "assignments")}",
            { Done: true } => "done",
            { Skipped: true } => "skipped",
            _ => "to do",
        };

    /// <summary>The first step that is left, or null.</summary>
    public static StartStep? Open(SchoolStart guide) => guide.Steps.FirstOrDefault(s => !s.Done && !s.Skipped);

    public static string Next(SchoolStart guide) => Open(guide) is { } step ? $"Next: {Lower(Title(step))}" : "See the steps";

    private static string Lower(string title) => char.ToLowerInvariant(title[0]) + title[1..];
}
