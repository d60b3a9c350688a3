namespace SchoolDrills.Accuracy.Flown;

/// <summary>What a pilot looks at.</summary>
internal enum Instrument
{
    Heading,
    Altimeter,
    VerticalSpeed,
    Airspeed,
    TurnCoordinator,
    OffPanel,
}

/// <summary>What one pilot does otherwise than another of the same skill.</summary>
/// <param name="OneClock">Ends straights by one running clock, not each timed by itself.</param>
/// <param name="ReactionShare">How slow he is to react, beside what is usual.</param>
/// <param name="Corrections">How he puts errors right.</param>
/// <param name="Fixates">Stares at <paramref name="Favourite"/> now and then.</param>
/// <param name="Tunnels">Hardly sees anything but <paramref name="Favourite"/> when saturated.</param>
/// <param name="Favourite">The instrument.</param>
internal sealed record PilotHabits(
    bool OneClock,
    double ReactionShare,
    CorrectionStyle Corrections,
    bool Fixates,
    bool Tunnels,
    Instrument Favourite
)
{
    public static PilotHabits Draw(Random random) =>
        new(
            random.Happens(Population.OneClock),
            Math.Exp(0.35 * random.Gaussian()),
            random.One(CorrectionStyle.All, style => style.Share),
            random.Happens(Population.Fixates),
            random.Happens(Population.Tunnels),
            (Instrument)random.Next((int)Instrument.OffPanel)
        );
}

/// <summary>How errors are put right.</summary>
/// <param name="Share">How often it is drawn.</param>
/// <param name="BankPerDeg">Bank for each degree off the heading.</param>
/// <param name="MostBankDeg">Most of it.</param>
/// <param name="FpmPerFt">Vertical speed for each foot off the altitude.</param>
/// <param name="MostFpm">Most of it.</param>
internal sealed record CorrectionStyle(double Share, double BankPerDeg, double MostBankDeg, double FpmPerFt, double MostFpm)
{
    /// <summary>As taught, gentle, and abrupt.</summary>
    public static readonly CorrectionStyle[] All = [new(0.6, 1.1, 12, 4, 500), new(0.2, 0.7, 8, 2.5, 300), new(0.2, 1.6, 18, 6, 700)];
}
