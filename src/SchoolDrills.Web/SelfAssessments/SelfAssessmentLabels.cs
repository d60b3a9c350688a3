using SchoolDrills.Engine.LoadScales;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.SelfAssessments;

/// <summary>A student's own verdicts and loads, in the words of the form.</summary>
internal static class SelfAssessmentLabels
{
    /// <summary>In the order they are offered.</summary>
    public static IReadOnlyList<(Verdict Verdict, string Word)> All =>
        [
            (Verdict.Met, T["met"]),
            (Verdict.Close, T["close | in a sentence"]),
            (Verdict.NotMet, T["not met"]),
            (Verdict.NotMeasured, T["can't tell"]),
        ];

    /// <summary>1 to 5.</summary>
    public static IReadOnlyList<(int Rating, string Word)> Loads =>
        [(1, T["easy"]), (2, T["light"]), (3, T["busy"]), (4, T["very busy"]), (5, T["overloaded"])];

    /// <summary>Spare capacity, from 1.</summary>
    private static string[] Bedford =>
        [
            T["almost nothing to do"],
            T["little to do"],
            T["room for everything else I wanted to do"],
            T["too little room to do more with ease"],
            T["further tasks got less attention than they need"],
            T["hardly any attention left for further tasks"],
            T["no room to speak of, yet the drill was never in doubt"],
            T["at the limit, hard to keep up"],
            T["beyond the limit, in doubt whether I could keep up"],
            T["gave up"],
        ];

    /// <summary>The six scales with what their ends are.</summary>
    public static IReadOnlyList<(string Name, string Question, string Low, string High)> TaskLoadScales =>
        [
            (T["mental"], T["How much did you have to think, look and decide?"], T["very little"], T["very much"]),
            (T["physical"], T["How much work was it for the hands and the body?"], T["very little"], T["very much"]),
            (T["time"], T["How hurried were you?"], T["not at all"], T["very"]),
            (T["performance"], T["How well did you do what was asked?"], T["perfectly"], T["failed"]),
            (T["effort"], T["How hard did you have to work for it?"], T["not at all"], T["very"]),
            (T["frustration"], T["How tense, annoyed or discouraged were you?"], T["not at all"], T["very"]),
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
