using FsCheck;
using FsCheck.Fluent;

namespace SchoolDrills.Engine.Tests.Flight;

/// <summary>Quantities drawn for properties, evenly and finely between two limits.</summary>
internal static class Draw
{
    /// <summary>Where every property starts, so that a run is the same as the last.</summary>
    public const string Seed = "20250101,7";

    private const int Steps = 1_000_000;

    public static Gen<double> Between(double least, double most) =>
        Gen.Choose(0, Steps).Select(step => least + ((most - least) * step / Steps));

    public static Property Always<T>(Gen<T> quantities, Action<T> holds) => Prop.ForAll(quantities.ToArbitrary(), holds);
}
