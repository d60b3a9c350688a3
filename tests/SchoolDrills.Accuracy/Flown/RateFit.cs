using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>Scatter about held rates, and which share of the planned rate is held: each fitted by what the other makes likeliest.</summary>
/// <param name="firstScale">Scale to begin with.</param>
internal sealed class RateFit(double firstScale)
{
    private readonly List<(double[] Values, double Planned, (double Rate, double Probability)[] Choices, double Widens)> segments = [];
    private List<(double[] Errors, double Rate)> fitted = [];

    public double Scale { get; private set; } = firstScale;

    public int Count => segments.Sum(s => s.Values.Length);

    /// <summary>Segments in which a rate other than zero is planned.</summary>
    public int Maneuvers => segments.Count(s => s.Planned != 0);

    public int Level => segments.Count - Maneuvers;

    /// <summary>Adds the rates of a segment.</summary>
    /// <param name="values">Step by step.</param>
    /// <param name="planned">The planned rate.</param>
    /// <param name="drifts">What may be held where none is planned, with how often.</param>
    /// <param name="widens">By how much the scale is wider than that about no rate.</param>
    public void Add(double[] values, double planned, (double Rate, double Probability)[] drifts, double widens)
    {
        if (values.Length == 0)
            return;
        var choices = planned == 0 ? drifts : Array.ConvertAll(ReadingModel.Rates, r => (planned * r.Share, r.Probability));
        segments.Add((values, planned, choices, widens));
    }

    public void Fit()
    {
        for (var i = 0; i < 4; i++)
        {
            fitted = segments.ConvertAll(s =>
            {
                var rate = s.Choices.MaxBy(c => Math.Log(c.Probability) + LogLikelihood(s.Values, c.Rate, Scale * s.Widens)).Rate;
                return (Array.ConvertAll(s.Values, v => (v - rate) / s.Widens), rate);
            });
            Scale = Likelihood.StudentScale([.. fitted.SelectMany(f => f.Errors)], 20 * Scale);
        }
    }

    /// <summary>Segments in which this share of the planned rate was held.</summary>
    public int Chosen(double share) => segments.Zip(fitted).Count(s => s.First.Planned != 0 && s.Second.Rate == s.First.Planned * share);

    /// <summary>Level segments in which this rate was held.</summary>
    public int Drifted(double rate) => segments.Zip(fitted).Count(s => s.First.Planned == 0 && s.Second.Rate == rate);

    public double CorrelationS(double stepS) => Likelihood.CorrelationS(fitted.ConvertAll(f => f.Errors), Scale, stepS);

    private static double LogLikelihood(double[] values, double rate, double scale) =>
        values.Sum(v => Student3.LogDensity((v - rate) / scale)) / ReadingModel.CorrelationS;
}
