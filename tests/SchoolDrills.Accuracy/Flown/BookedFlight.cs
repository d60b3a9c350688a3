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

internal sealed partial class FlownFlight
{
    private FlownFlight(int seed, BookedFlight booked)
    {
        Seed = seed;
        random = new Random(seed);
        (Day, Type, Skill, Habits, Template) = (booked.Day, booked.Type, booked.Skill, booked.Habits, booked.Drill);
        plane = new Aeroplane(Day, Type, random);
        pilot = new Pilot(random, plane, Habits, Skill);
        free = new FreeFlight(random, Type, Day.FieldIndicatedFt);
        Timeline = Resolve(Template);
        Mistakes = booked.Mistakes;
    }

    /// <summary>Flies a flight that is ordered.</summary>
    public static FlownFlight Fly(int seed, BookedFlight booked)
    {
        var flight = new FlownFlight(seed, booked);
        flight.Fly();
        return flight.isLost ? Fly(seed + Anew, booked) : flight;
    }
}
