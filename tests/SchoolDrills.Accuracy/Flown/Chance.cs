namespace SchoolDrills.Accuracy.Flown;

/// <summary>What is drawn by lot, from a seeded <see cref="Random"/>, so that a flight is the same each time.</summary>
internal static class Chance
{
    public static double Gaussian(this Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    public static double Between(this Random random, double from, double to) => from + ((to - from) * random.NextDouble());

    /// <summary>A waiting time: short ones often, long ones seldom.</summary>
    public static double Wait(this Random random, double mean) => -mean * Math.Log(1 - random.NextDouble());

    public static bool Happens(this Random random, double probability) => random.NextDouble() < probability;

    public static double Sign(this Random random) => random.Happens(0.5) ? 1 : -1;

    public static T One<T>(this Random random, IReadOnlyList<T> of) => of[random.Next(of.Count)];

    /// <summary>One of several, each as often as its share.</summary>
    public static T One<T>(this Random random, IReadOnlyList<T> of, Func<T, double> share)
    {
        var left = random.NextDouble() * of.Sum(share);
        return of.FirstOrDefault(one => (left -= share(one)) < 0, of[^1]);
    }
}

/// <summary>A first-order Gauss–Markov process: an error that wanders.</summary>
internal sealed class Wander(Random random, double sigma, double timeS)
{
    private double value = random.Gaussian();

    public double Step(double dtS)
    {
        var keep = Math.Exp(-dtS / timeS);
        value = (keep * value) + (Math.Sqrt(1 - (keep * keep)) * random.Gaussian());
        return sigma * value;
    }
}
