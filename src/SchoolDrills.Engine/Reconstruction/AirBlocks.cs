using MathNet.Numerics.LinearAlgebra;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Means of ground velocity over a few seconds, the input of <see cref="WindFit"/>.</summary>
internal sealed class AirBlocks
{
    private readonly List<Block> blocks = [];

    private AirBlocks(double lengthS, AirEvidence evidence) => (StepS, Evidence) = (lengthS, evidence);

    /// <summary>Time from block to block, seconds.</summary>
    public double StepS { get; }

    /// <summary>Mean altitude, feet: the reference of all heights.</summary>
    public double ReferenceAltitudeFt { get; private set; }

    /// <summary>From the first block to the last, seconds.</summary>
    public double LengthS => blocks.Count == 0 ? 0 : blocks[^1].TimeS - blocks[0].TimeS;

    /// <summary>
    /// Whether they show the wind by themselves: in a straight any airspeed and wind that add up to the ground speed fit. With the airspeed
    /// or the heading recorded, straights on different tracks do.
    /// </summary>
    public bool ShowWind => IsRecorded ? SpreadDeg >= WindModel.ShowingSpreadDeg : TurnedDeg >= WindModel.ShowingTurnDeg;

    /// <summary>
    /// Mean square of the climb that goes with the direction flown, in squared units of 500 ft/min, each climb counted as 1 at most. In
    /// circuits one leg climbs, the opposite one is level and others descend, each at an airspeed of its own, which looks like wind.
    /// </summary>
    public double DirectedClimbSquare()
    {
        var directions = Matrix<double>.Build.Dense(
            blocks.Count,
            3,
            (i, k) => k == 0 ? 1 : (k == 1 ? blocks[i].EastKt : blocks[i].NorthKt) / blocks[i].GroundSpeedKt
        );
        var climbs = Vector<double>.Build.Dense(blocks.Count, i => Math.Clamp(blocks[i].Climb, -1, 1));
        var products = directions.TransposeThisAndMultiply(directions) + (1e-6 * Matrix<double>.Build.DenseIdentity(3));
        var directed = directions * products.Cholesky().Solve(directions.TransposeThisAndMultiply(climbs)) - climbs.Average();
        return directed * directed / blocks.Count;
    }

    /// <summary>Whether a wind can be solved from them.</summary>
    /// <param name="known">What is known of the wind already.</param>
    public bool MaySolve(WindInformation known) =>
        Evidence == AirEvidence.PlannedAirspeed || ShowWind || known.Field(0).SigmaKt <= WindModel.UsableSigmaKt;

    /// <summary>
    /// Middle of what shows the wind, seconds: without recorded airspeed or heading of the turns, or of the blocks where nothing turns.
    /// </summary>
    public double ShownS => blocks.Sum(b => b.TimeS * Share(b)) / blocks.Sum(Share);

    /// <summary>What is known of the motion through the air.</summary>
    public AirEvidence Evidence { get; }

    /// <summary>The airspeed or the heading was recorded.</summary>
    public bool IsRecorded => Evidence is AirEvidence.RecordedAirspeed or AirEvidence.RecordedHeading;

    /// <summary>The blocks in order.</summary>
    public IReadOnlyList<Block> All => blocks;

    /// <summary>Mean motion over a few seconds.</summary>
    /// <param name="TimeS">Middle, seconds.</param>
    /// <param name="EastKt">Velocity toward east, knots.</param>
    /// <param name="NorthKt">Velocity toward north, knots.</param>
    /// <param name="Kft">Height above the reference, thousands of feet.</param>
    /// <param name="TrueOverIndicated">Ratio of true to indicated airspeed.</param>
    /// <param name="HeldKt">Indicated airspeed, recorded or planned, knots; where neither is known the mean ground speed.</param>
    /// <param name="HeadingRad">Recorded true heading, radians; NaN where not recorded.</param>
    /// <param name="Climb">Vertical speed in units of 500 ft/min.</param>
    /// <param name="Turn">Turn rate in units of 3°/s, right positive.</param>
    /// <param name="Follows">No gap since the block before.</param>
    public readonly record struct Block(
        double TimeS,
        double EastKt,
        double NorthKt,
        double Kft,
        double TrueOverIndicated,
        double HeldKt,
        double HeadingRad,
        double Climb,
        double Turn,
        bool Follows
    )
    {
        /// <summary>Speed over the ground, knots.</summary>
        public double GroundSpeedKt => Math.Sqrt((EastKt * EastKt) + (NorthKt * NorthKt));
    }

    /// <summary>Cuts the part of a flight between two times into blocks.</summary>
    /// <param name="motion">Smoothed motion.</param>
    /// <param name="fromS">Start, seconds.</param>
    /// <param name="toS">End, seconds.</param>
    /// <param name="plannedKtAt">Planned indicated airspeed by time, knots; null when not known.</param>
    /// <param name="recorded">Recorded airspeed or heading.</param>
    public static AirBlocks Cut(GroundMotion motion, double fromS, double toS, Func<double, double>? plannedKtAt, OneSidedAir recorded)
    {
        var flying = new List<int>();
        for (var i = motion.FirstFrom(fromS); i < motion.TimeS.Length && motion.TimeS[i] <= toS; i++)
        {
            if (motion.GroundSpeedKt(i) > SensorModel.FlyingKt && double.IsFinite(motion.AltitudeFt[i]) && recorded.Has(i))
                flying.Add(i);
        }

        var result = new AirBlocks(
            Math.Max(WindModel.BlockS, flying.Count > 1 ? (motion.TimeS[flying[^1]] - motion.TimeS[flying[0]]) / (flying.Count - 1) : 0),
            recorded.Evidence ?? (plannedKtAt is null ? AirEvidence.None : AirEvidence.PlannedAirspeed)
        )
        {
            ReferenceAltitudeFt = flying.Count > 0 ? flying.Average(i => motion.AltitudeFt[i]) : 0,
        };
        var meanKt = flying.Count > 0 ? flying.Average(i => motion.GroundSpeedKt(i) / motion.TrueOverIndicated[i]) : 0;
        for (var k = 0; k < flying.Count; )
        {
            var from = k;
            while (k < flying.Count && motion.TimeS[flying[k]] - motion.TimeS[flying[from]] < result.StepS - 1e-3)
                k++;
            result.Add(motion, flying[from..k], recorded, plannedKtAt ?? (_ => meanKt));
        }

        return result;
    }

    /// <summary>How far the aeroplane turned in turns, degrees.</summary>
    private double TurnedDeg => blocks.Where(b => 3 * Math.Abs(b.Turn) > WindModel.StraightDegPerS).Sum(b => 3 * Math.Abs(b.Turn) * StepS);

    /// <summary>How far a track is from the first at most, degrees.</summary>
    private double SpreadDeg => blocks.Max(b => Math.Abs(Angles.DifferenceDeg(TrackDeg(b), TrackDeg(blocks[0]))));

    private static double TrackDeg(Block block) => Units.RadToDeg(Math.Atan2(block.EastKt, block.NorthKt));

    private double Share(Block block) => IsRecorded ? 1 : Math.Abs(block.Turn) + WindModel.StraightShare;

    private void Add(GroundMotion motion, List<int> samples, OneSidedAir recorded, Func<double, double> plannedKtAt)
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
                recorded.IndicatedAirspeedKt is { } airspeedKt ? samples.Average(i => airspeedKt[i]) : plannedKtAt(timeS),
                recorded.HeadingTrueDeg is { } headingDeg ? Units.DegToRad(samples.Average(i => headingDeg[i])) : double.NaN,
                Math.Clamp(follows ? (kft - before.Kft) * 1000 / (timeS - before.TimeS) * 60 / 500 : 0, -2, 2),
                Math.Clamp(turnDegPerS / 3, -2, 2),
                follows
            )
        );
    }
}
