using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.SelfAssessments;

/// <summary>A student's own verdicts and loads, in the words of the form.</summary>
internal static class SelfAssessmentLabels
{
    /// <summary>In the order they are offered.</summary>
    public static readonly IReadOnlyList<(Verdict Verdict, string Word)> All =
    [
        (Verdict.Met, "within"),
        (Verdict.Close, "close"),
        (Verdict.NotMet, "outside"),
        (Verdict.NotMeasured, "can't tell"),
    ];

    /// <summary>1 to 5.</summary>
    public static readonly IReadOnlyList<(int Rating, string Word)> Loads =
    [
        (1, "easy"),
        (2, "light"),
        (3, "busy"),
        (4, "very busy"),
        (5, "overloaded"),
    ];

    public static string Of(Verdict verdict) => All.First(l => l.Verdict == verdict).Word;

    /// <summary>4 very busy.</summary>
    public static string OfLoad(int rating) => $"{rating} {Loads.First(l => l.Rating == rating).Word}";
}
