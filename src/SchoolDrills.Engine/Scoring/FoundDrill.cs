using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Where a drill was found in a flight, before its boundaries are refined.</summary>
public sealed class FoundDrill
{
    internal FoundDrill(DrillTemplate template, DrillEntry planned, FoundRuns runs)
    {
        Template = template;
        Planned = planned;
        Runs = runs;
    }

    /// <summary>The drill looked for.</summary>
    public DrillTemplate Template { get; }

    /// <summary>The drill is in the flight.</summary>
    public bool IsFound => Runs.All.Count > 0;

    /// <summary>How sure that is, 0 to 1.</summary>
    public double Confidence => Runs.Nearest?.Alignment.Confidence ?? 0;

    /// <summary>The entry as planned.</summary>
    internal DrillEntry Planned { get; }

    /// <summary>Every run of it.</summary>
    internal FoundRuns Runs { get; }
}
