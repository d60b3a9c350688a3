using SchoolDrills.Engine.LoadScales;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.SelfAssessments;

/// <summary>A student's own verdicts and loads, in the words of the form.</summary>
internal static class SelfAssessmentLabels
{
    /// <summary>In the order they are offered.</summary>
    public static readonly IReadOnlyList<(Verdict Verdict, string Word)> All =
    [
        (Verdict.Met, "met"),
        (Verdict.Close, "close"),
        (Verdict.NotMet, "not met"),
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

    /// <summary>Spare capacity, from 1.</summary>
    private static readonly string[] Bedford =
    [
        "almost nothing to do",
        "little to do",
        "room for everything else I wanted to do",
        "too little room to do more with ease",
        "further tasks got less attention than they need",
        "hardly any attention left for further tasks",
        "no room to speak of, yet the drill was never in doubt",
        "at the limit, hard to keep up",
        "beyond the limit, in doubt whether I could keep up",
        "gave up",
    ];

    /// <summary>The six scales with what their ends are.</summary>
    public static readonly IReadOnlyList<(string Name, string Question, string Low, string High)> TaskLoadScales =
    [
        ("mental", "How much did you have to think, look and decide?", "very little", "very much"),
        ("physical", "How much work was it for the hands and the body?", "very little", "very much"),
        ("time", "How hurried were you?", "not at all", "very"),
        ("performance", "How well did you do what was asked?", "perfectly", "failed"),
        ("effort", "How hard did you have to work for it?", "not at all", "very"),
        ("frustration", "How tense, annoyed or discouraged were you?", "not at all", "very"),
    ];

    public static IEnumerable<(string Name, int Rating)> Of(TaskLoad load) =>
        TaskLoadScales
            .Select(s => s.Name)
            .Zip([load.Mental, load.Physical, load.Temporal, load.Performance, load.Effort, load.Frustration]);

    /// <summary>Spare capacity, 1 to 10, in words.</summary>
    public static string OfBedford(int rating) => Bedford[rating - 1];

    public static string Of(Verdict verdict) => All.First(l => l.Verdict == verdict).Word;

    /// <summary>4 very busy.</summary>
    public static string OfLoad(int rating) => $"{rating} {Loads.First(l => l.Rating == rating).Word}";
}
