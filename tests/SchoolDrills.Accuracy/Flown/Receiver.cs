namespace SchoolDrills.Accuracy.Flown;

/// <summary>A satellite receiver with its errors.</summary>
/// <param name="HorizontalM">Error of position that wanders, one standard deviation an axis, metres.</param>
/// <param name="VerticalM">The same of height.</param>
/// <param name="WanderS">Time in which both wander.</param>
/// <param name="WhiteM">Error from one position to the next, metres.</param>
/// <param name="WhiteUpM">The same of height.</param>
/// <param name="LateS">Age of a position when it is written down.</param>
/// <param name="Hz">Positions a second.</param>
/// <param name="DropsOut">Loses the sky now and then.</param>
internal sealed record Receiver(
    double HorizontalM,
    double VerticalM,
    double WanderS,
    double WhiteM,
    double WhiteUpM,
    double LateS,
    double Hz,
    bool DropsOut
)
{
    /// <summary>One behind the panel, which writes beside the air data.</summary>
    public static Receiver OfPanel(Random random) =>
        new(2, 4, 60, 0, 1, 0, random.One(Population.AirDataRates, rate => rate.Share).Hz, DropsOut: false);

    /// <summary>One that a pilot carries: with a view of the sky, or a phone in a pocket.</summary>
    public static Receiver Carried(Random random)
    {
        var hz = random.One(Population.PositionRates, rate => rate.Share).Hz;
        if (random.Happens(Population.Phone))
        {
            return new(
                random.Between(4, 9),
                random.Between(8, 15),
                random.Between(30, 60),
                random.Between(0.5, 2.5),
                3,
                random.Between(0.3, 2),
                Math.Min(hz, 1),
                DropsOut: true
            );
        }

        return new(random.Between(1, 3), random.Between(2, 6), random.Between(30, 120), 0, 1, 0, hz, random.Happens(Population.Dropouts));
    }
}
