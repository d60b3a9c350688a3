using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>A flight that is ordered instead of drawn: the drill alone, from its entry to its end.</summary>
/// <param name="Day">Place and air.</param>
/// <param name="Type">The aeroplane.</param>
/// <param name="Skill">Of the pilot, 0 to 1.</param>
/// <param name="Habits">Of the pilot.</param>
/// <param name="Drill">The drill, as the catalogue has it.</param>
/// <param name="Mistakes">Errors on purpose.</param>
internal sealed record BookedFlight(
    Day Day,
    AeroplaneType Type,
    double Skill,
    PilotHabits Habits,
    DrillTemplate Drill,
    IReadOnlyList<Mistake> Mistakes
);
