namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Means of ground velocity over a few seconds, the input of <see cref="WindFit"/>.</summary>
internal sealed class AirBlocks
{
    private readonly List<Block> blocks = [];

    private AirBlocks(double lengthS) => StepS = lengthS;

    /// <summary>Time from block to block, seconds.</summary>
    public double StepS { get; }

    /// <summary>Mean altitude, feet: the reference of all heights.</summary>
    public double ReferenceAltitudeFt { get; private set; }

    /// <summary>From the first block to the last, seconds.</summary>
    public double LengthS => blocks.Count == 0 ? 0 : blocks[^1].TimeS - blocks[0].TimeS;

    /// <summary>How far the aeroplane turned in turns, degrees.</summary>
    public double TurnedDeg => blocks.Where(b => 3 * b.Turn > WindModel.StraightDegPerS).Sum(b => 3 * b.Turn * StepS);

    /// <summary>
    /// Whether a wind can be solved from them: in a straight any airspeed and wind that add up to the ground speed fit.
    /// </summary>
    /// <param name="known">What is known of the wind already.</param>
    public bool MaySolve(WindInformation known) =>
        Planned || TurnedDeg >= WindModel.ShowingTurnDeg || known.Field(0).SigmaKt <= WindModel.UsableSigmaKt;

    /// <summary>Middle of the turns, which show the wind, seconds; where nothing turns that of the blocks.</summary>
    public double TurnsS =>
        blocks.Sum(b => b.TimeS * (b.Turn + WindModel.StraightShare)) / blocks.Sum(b => b.Turn + WindModel.StraightShare);

    /// <summary>The planned airspeeds are known; otherwise all blocks have the mean ground speed.</summary>
    public bool Planned { get; private set; }

    /// <summary>The blocks in order.</summary>
    public IReadOnlyList<Block> All => blocks;

    /// <summary>Mean motion over a few seconds.</summary>
    /// <param name="TimeS">Middle, seconds.</param>
    /// <param name="EastKt">Velocity toward east, knots.</param>
    /// <param name="NorthKt">Velocity toward north, knots.</param>
    /// <param name="Kft">Height above the reference, thousands of feet.</param>
    /// <param name="TrueOverIndicated">Ratio of true to indicated airspeed.</param>
    /// <param name="PlannedKt">Planned indicated airspeed, knots.</param>
    /// <param name="Climb">Vertical speed in units of 500 ft/min.</param>
    /// <param name="Turn">Absolute turn rate in units of 3°/s.</param>
    /// <param name="Follows">No gap since the block before.</param>
    public readonly record struct Block(
        double TimeS,
        double EastKt,
        double NorthKt,
        double Kft,
        double TrueOverIndicated,
        double PlannedKt,
        double Climb,
        double Turn,
        bool Follows
    );

    /// <summary>Cuts the part of a flight between two times into blocks.</summary>
    /// <param name="motion">Smoothed motion.</param>
    /// <param name="fromS">Start, seconds.</param>
    /// <param name="toS">End, seconds.</param>
    /// <param name="plannedKtAt">Planned indicated airspeed by time, knots; null when not known.</param>
    public static AirBlocks Cut(GroundMotion motion, double fromS, double toS, Func<double, double>? plannedKtAt)
    {
        var flying = new List<int>();
        for (var i = motion.FirstFrom(fromS); i < motion.TimeS.Length && motion.TimeS[i] <= toS; i++)
        {
            if (motion.GroundSpeedKt(i) > SensorModel.FlyingKt && double.IsFinite(motion.AltitudeFt[i]))
                flying.Add(i);
        }

        var result = new AirBlocks(
            Math.Max(WindModel.BlockS, flying.Count > 1 ? (motion.TimeS[flying[^1]] - motion.TimeS[flying[0]]) / (flying.Count - 1) : 0)
        )
        {
            ReferenceAltitudeFt = flying.Count > 0 ? flying.Average(i => motion.AltitudeFt[i]) : 0,
            Planned = plannedKtAt is not null,
        };
        var meanKt = flying.Count > 0 ? flying.Average(i => motion.GroundSpeedKt(i) / motion.TrueOverIndicated[i]) : 0;
        for (var k = 0; k < flying.Count; )
        {
            var from = k;
            while (k < flying.Count && motion.TimeS[flying[k]] - motion.TimeS[flying[from]] < result.StepS - 1e-3)
                k++;
            result.Add(motion, flying[from..k], plannedKtAt ?? (_ => meanKt));
        }

        return result;
    }

    private void Add(GroundMotion motion, List<int> samples, Func<double, double> plannedKtAt)
    {
        double timeS = samples.Average(i => motion.TimeS[i]),
            kft = (samples.Average(i => motion.AltitudeFt[i]) - ReferenceAltitudeFt) / 1000;
        var before = blocks.Count > 0 ? blocks[^1] : default;
        var follows = blocks.Count > 0 && timeS - before.TimeS < 1.6 * StepS;
        var turnDegPerS = samples.Average(motion.TrackRateDegPerS);
        blocks.Add(
            new Block(
                timeS,
                samples.Average(i => motion.EastKt[i]),
                samples.Average(i => motion.NorthKt[i]),
                kft,
                samples.Average(i => motion.TrueOverIndicated[i]),
                plannedKtAt(timeS),
                Math.Clamp(follows ? (kft - before.Kft) * 1000 / (timeS - before.TimeS) * 60 / 500 : 0, -2, 2),
                Math.Min(Math.Abs(turnDegPerS) / 3, 2),
                follows
            )
        );
    }
}
