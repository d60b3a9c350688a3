using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Start;

/// <summary>The steps of the guide in words.</summary>
internal static class StartWords
{
    public static string Title(StartStep step) =>
        step.Slug switch
        {
            StartSteps.School => T["The school"],
            StartSteps.People => T["People"],
            StartSteps.Drills => T["Drills to start with"],
            StartSteps.Assignment => T["The first assignment"],
            StartSteps.Recording => T["A recording to try"],
            _ => step.Slug,
        };

    public static string State(StartStep step) =>
        step switch
        {
            { Done: true, Slug: StartSteps.People } => T["done: {0}", Figures.Count(step.Count, "student", "students")],
            { Done: true, Slug: StartSteps.Drills } => T["done: {0} published", Figures.Count(step.Count, "drill", "drills")],
            { Done: true, Slug: StartSteps.Assignment } => T["done: {0}", Figures.Count(step.Count, "assignment", "assignments")],
            { Done: true } => T["done | a step"],
            { Skipped: true } => T["skipped"],
            _ => T["to do | a step"],
        };

    /// <summary>The first step that is left, or null.</summary>
    public static StartStep? Open(SchoolStart guide) => guide.Steps.FirstOrDefault(s => !s.Done && !s.Skipped);

    public static string Next(SchoolStart guide) => Open(guide) is { } step ? T["Next: {0}", Lower(Title(step))] : T["See the steps"];

    private static string Lower(string title) => char.ToLowerInvariant(title[0]) + title[1..];
}
