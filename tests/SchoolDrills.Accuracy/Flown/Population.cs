namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// Who flies what, in which air, recorded by what: the shares that flights are drawn by. Most are ordinary training; what is rare in a
/// school is rare here as well.
/// </summary>
internal static class Population
{
    /// <summary>Flights without a drill, an hour or more.</summary>
    public const double NoDrill = 0.07;

    /// <summary>Drills of the four that schools fly most; the others are any of the catalogue.</summary>
    public const double OftenFlown = 0.5;

    /// <summary>Drills flown mirrored.</summary>
    public const double Mirrored = 0.2;

    /// <summary>Recordings of the whole flight; the others hold the drill alone.</summary>
    public const double WholeFlight = 0.6;

    /// <summary>Drills with a pause: traffic, or the instructor takes control for a while.</summary>
    public const double Pause = 0.05;

    /// <summary>Drills with a maneuver flown again because the instructor asks for it.</summary>
    public const double FlownAgain = 0.03;

    /// <summary>Drills broken off after a few segments and begun again.</summary>
    public const double BegunAgain = 0.04;

    /// <summary>Flights with another drill before or after the one that is asked for.</summary>
    public const double OtherDrill = 0.05;

    /// <summary>Pilots who time a drill by one running clock; the others time each straight by itself.</summary>
    public const double OneClock = 0.7;

    /// <summary>Pilots who stare at one instrument now and then.</summary>
    public const double Fixates = 0.25;

    /// <summary>Pilots who see one instrument alone when they are saturated.</summary>
    public const double Tunnels = 0.5;

    /// <summary>Drills with an extra task, and with one that saturates.</summary>
    public const double Task = 0.35,
        Saturation = 0.12;

    /// <summary>Air without turbulence, and with light chop; the rest is light to moderate.</summary>
    public const double Smooth = 0.45,
        LightChop = 0.37;

    /// <summary>Recordings of a phone in a pocket, instead of a receiver with a view of the sky.</summary>
    public const double Phone = 0.12;

    /// <summary>Recordings with dropouts; those of phones always have them.</summary>
    public const double Dropouts = 0.1;

    /// <summary>Positions a second, with how often.</summary>
    public static readonly (double Hz, double Share)[] PositionRates =
    [
        (1, 0.7),
        (0.2, 0.06),
        (0.5, 0.08),
        (2, 0.06),
        (5, 0.06),
        (10, 0.04),
    ];

    /// <summary>Rows a second of air data, with how often.</summary>
    public static readonly (double Hz, double Share)[] AirDataRates = [(1, 0.8), (5, 0.15), (10, 0.05)];
}
