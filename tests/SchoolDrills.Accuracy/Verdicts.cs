using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy;

/// <summary>Verdicts on recordings compared with those on the true state, by parameter.</summary>
internal sealed class Verdicts
{
    private readonly Dictionary<Parameter, List<(Verdict Truth, Verdict Measured)>> pairs = [];

    /// <summary>Stated probabilities of verdicts of the deciding parameters and whether they were true.</summary>
    public List<(double Stated, bool True)> Chances { get; } = [];

    /// <summary>Parameters in the order of the report.</summary>
    public IEnumerable<Parameter> Parameters => pairs.Keys.Order();

    /// <summary>The parameters that decide a segment.</summary>
    public static Parameter[] Deciding { get; } = [Parameter.Altitude, Parameter.Heading, Parameter.Airspeed];

    /// <summary>Compares every segment that was flown and found.</summary>
    public void Add(TruthFlight flight, FlownDrill truth, ScoreReport report, bool verbose)
    {
        foreach (var segment in report.Segments.Where(s => s.Status != SegmentStatus.Skipped && truth.Segments[s.Index] is not null))
        {
            foreach (var deviation in segment.Deviations)
            {
                var real =
                    deviation.Parameter == Parameter.Timing ? Judge.OnTiming(truth.ClockErrorS[segment.Index], deviation.Tolerance).Verdict
                    : truth.Deviations[segment.Index].FirstOrDefault(d => d.Parameter == deviation.Parameter) is { } measured
                        ? Judge.OnDeviation(measured, truth.Standard).Verdict
                    : Verdict.NotMeasured;
                if (real == Verdict.NotMeasured)
                    continue;
                if (!pairs.TryGetValue(deviation.Parameter, out var list))
                    pairs[deviation.Parameter] = list = [];
                list.Add((real, deviation.Verdict));
                if (deviation.Probability is { } stated && Deciding.Contains(deviation.Parameter))
                    Chances.Add((stated, real == deviation.Verdict));
                if (verbose && real != deviation.Verdict && deviation.Verdict != Verdict.NotMeasured)
                {
                    Console.WriteLine(
                        $"  {flight.Id}: segment {segment.Index} {deviation.Parameter} is {real}, judged "
                            + $"{deviation.Verdict}: {deviation.Why}"
                    );
                }
            }
        }
    }

    /// <summary>Adds the verdicts of another set.</summary>
    public void Absorb(Verdicts other)
    {
        Chances.AddRange(other.Chances);
        foreach (var (parameter, verdicts) in other.pairs)
        {
            if (!pairs.TryGetValue(parameter, out var list))
                pairs[parameter] = list = [];
            list.AddRange(verdicts);
        }
    }

    /// <summary>Verdicts given, those equal to the truth, those not given, and agreement beyond chance (kappa, Cohen 1960).</summary>
    public (int Judged, int Agreed, int Abstained, double Kappa) Of(params Parameter[] parameters)
    {
        var all = parameters.SelectMany(p => pairs.GetValueOrDefault(p) ?? []).ToList();
        var judged = all.Where(v => v.Measured != Verdict.NotMeasured).ToList();
        var agreed = judged.Count(v => v.Truth == v.Measured);
        double n = judged.Count;
        var chance = Enum.GetValues<Verdict>().Sum(v => judged.Count(j => j.Truth == v) / n * (judged.Count(j => j.Measured == v) / n));
        return (judged.Count, agreed, all.Count - judged.Count, chance < 1 ? ((agreed / n) - chance) / (1 - chance) : 1);
    }
}
