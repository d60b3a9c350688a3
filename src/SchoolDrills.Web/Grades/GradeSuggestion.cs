using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Grades;

/// <summary>Which word of the school's scale fits a verdict of the engine. Shown beside, never given by itself.</summary>
internal static class GradeSuggestion
{
    /// <returns>The word's slug; null where the school wants none, or the engine has no verdict.</returns>
    public static string? For(Verdict verdict, GradingSettings grading) =>
        !grading.SuggestGrades
            ? null
            : verdict switch
            {
                Verdict.Met => grading.Suggestions?.Met,
                Verdict.Close => grading.Suggestions?.Close,
                Verdict.NotMet => grading.Suggestions?.NotMet,
                _ => null,
            };
}
