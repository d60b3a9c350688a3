namespace SchoolDrills.Engine.LoadScales;

/// <summary>
/// Spare capacity by the Bedford scale, 1 to 10, found by three questions. Source: Roscoe and Ellis, A subjective rating scale for
/// assessing pilot workload in flight: a decade of practical use, RAE Technical Report 90019, 1990.
/// </summary>
public static class BedfordScale
{
    /// <summary>Most spare capacity.</summary>
    public const int Lowest = 1;

    /// <summary>The task was given up.</summary>
    public const int Highest = 10;

    /// <summary>The ratings to choose among; none before the answers say.</summary>
    /// <param name="couldBeDone">The task could be completed.</param>
    /// <param name="tolerable">The workload was tolerable for it.</param>
    /// <param name="satisfactory">The workload was satisfactory, none of it had to be taken away.</param>
    public static IReadOnlyList<int> Choices(bool? couldBeDone, bool? tolerable, bool? satisfactory) =>
        (couldBeDone, tolerable, satisfactory) switch
        {
            (false, _, _) => [10],
            (true, false, _) => [7, 8, 9],
            (true, true, false) => [4, 5, 6],
            (true, true, true) => [1, 2, 3],
            _ => [],
        };
}
