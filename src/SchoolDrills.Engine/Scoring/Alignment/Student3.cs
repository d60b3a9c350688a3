namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Student's t distribution with three degrees of freedom, of scale one: deviations of pilots are mostly small and sometimes large.
/// </summary>
internal static class Student3
{
    /// <summary>Logarithm of the density.</summary>
    public static double LogDensity(double z) => ReadingModel.LogStudent3Peak + LogRelative(z);

    /// <summary>Logarithm of the density beside that at zero.</summary>
    public static double LogRelative(double z) => -2 * Math.Log(1 + (z * z / 3));

    /// <summary>The density beside that at zero.</summary>
    public static double Relative(double z) => 1 / ((1 + (z * z / 3)) * (1 + (z * z / 3)));
}
