namespace SchoolDrills.Engine.Flight;

/// <summary>
/// The level coordinated turn, tan φ = Vω/g, R = V/ω, n = 1/cos φ, and the leads that end turns and climbs. Rates and banks are signed,
/// right positive. NaN comes out as NaN.
/// </summary>
public static class TurnGeometry
{
    /// <summary>Standard rate, degrees per second: a full circle in two minutes.</summary>
    public const double StandardRateDegPerS = 3;

    /// <summary>Bank for a rate of turn, degrees, signed as the rate.</summary>
    /// <param name="turnRateDegPerS">Rate of turn, degrees per second.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    public static double BankDeg(double turnRateDegPerS, double trueAirspeedKt) =>
        Units.RadToDeg(Math.Atan(Units.KtToMps(trueAirspeedKt) * Units.DegToRad(turnRateDegPerS) / Units.StandardGravityMps2));

    /// <summary>Rate of turn for a bank, degrees per second, signed as the bank.</summary>
    /// <param name="bankDeg">Bank, degrees, short of 90.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots, positive.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bank of 90° or more, or no airspeed.</exception>
    public static double TurnRateDegPerS(double bankDeg, double trueAirspeedKt)
    {
        if (trueAirspeedKt <= 0)
            throw new ArgumentOutOfRangeException(nameof(trueAirspeedKt), trueAirspeedKt, "A turn needs an airspeed of more than 0 kt.");
        return Units.RadToDeg(Units.StandardGravityMps2 * Math.Tan(BankRad(bankDeg)) / Units.KtToMps(trueAirspeedKt));
    }

    /// <summary>Radius, metres; infinite when straight.</summary>
    /// <param name="turnRateDegPerS">Rate of turn, degrees per second.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    public static double RadiusM(double turnRateDegPerS, double trueAirspeedKt) =>
        Units.KtToMps(trueAirspeedKt) / Math.Abs(Units.DegToRad(turnRateDegPerS));

    /// <summary>Load factor; its square root is the factor on the stalling speed.</summary>
    /// <param name="bankDeg">Bank, degrees, short of 90.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bank of 90° or more.</exception>
    public static double LoadFactor(double bankDeg) => 1 / Math.Cos(BankRad(bankDeg));

    /// <summary>Time for a heading change, seconds; infinite when straight.</summary>
    /// <param name="turnDeg">Heading change, degrees.</param>
    /// <param name="turnRateDegPerS">Rate of turn, degrees per second.</param>
    public static double TimeS(double turnDeg, double turnRateDegPerS) => Math.Abs(turnDeg / turnRateDegPerS);

    /// <summary>
    /// Heading used while rolling level from a turn at an even roll rate p, degrees: the turn's rate follows the tangent of the bank on its
    /// way down, which adds up to −(g/Vp) ln cos φ. For small banks that is ωφ/(2p).
    /// </summary>
    /// <param name="turnRateDegPerS">Rate of turn, degrees per second.</param>
    /// <param name="bankDeg">Bank of that turn, degrees, short of 90.</param>
    /// <param name="rollRateDegPerS">Roll rate, degrees per second.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bank of 90° or more.</exception>
    public static double RollOutLeadDeg(double turnRateDegPerS, double bankDeg, double rollRateDegPerS)
    {
        var bank = BankRad(bankDeg);
        if (bank == 0)
            return 0;
        return Math.Abs(turnRateDegPerS / Math.Tan(bank) * Math.Log(Math.Cos(bank)) / Units.DegToRad(rollRateDegPerS));
    }

    /// <summary>Height used while levelling off at an even change of vertical speed, feet.</summary>
    /// <param name="verticalSpeedFpm">Vertical speed, feet per minute.</param>
    /// <param name="changeFpmPerS">Change of vertical speed, feet per minute per second.</param>
    public static double LevelOffLeadFt(double verticalSpeedFpm, double changeFpmPerS) =>
        verticalSpeedFpm * verticalSpeedFpm / Math.Abs(120 * changeFpmPerS);

    private static double BankRad(double bankDeg) =>
        Math.Abs(bankDeg) >= 90
            ? throw new ArgumentOutOfRangeException(nameof(bankDeg), bankDeg, "A level turn is banked less than 90°.")
            : Units.DegToRad(bankDeg);

    /// <summary>Rules of thumb as instructors give them, for the card.</summary>
    public static class Rules
    {
        /// <summary>Bank for standard rate, degrees: a tenth of the true airspeed plus 5.</summary>
        /// <param name="trueAirspeedKt">True airspeed, knots.</param>
        public static double BankTenthPlusFiveDeg(double trueAirspeedKt) => (trueAirspeedKt / 10) + 5;

        /// <summary>Bank for standard rate, degrees: a tenth of the true airspeed plus 7.</summary>
        /// <param name="trueAirspeedKt">True airspeed, knots.</param>
        public static double BankTenthPlusSevenDeg(double trueAirspeedKt) => (trueAirspeedKt / 10) + 7;

        /// <summary>Bank for standard rate, degrees: 15 % of the true airspeed.</summary>
        /// <param name="trueAirspeedKt">True airspeed, knots.</param>
        public static double BankFifteenPercentDeg(double trueAirspeedKt) => 0.15 * trueAirspeedKt;

        /// <summary>Roll-out lead, degrees: half the bank (FAA practice).</summary>
        /// <param name="bankDeg">Bank, degrees.</param>
        public static double RollOutHalfBankDeg(double bankDeg) => Math.Abs(bankDeg) / 2;

        /// <summary>Roll-out lead, degrees: a third of the bank (US Navy practice).</summary>
        /// <param name="bankDeg">Bank, degrees.</param>
        public static double RollOutThirdBankDeg(double bankDeg) => Math.Abs(bankDeg) / 3;

        /// <summary>Level-off lead, feet: a tenth of the vertical speed.</summary>
        /// <param name="verticalSpeedFpm">Vertical speed, feet per minute.</param>
        public static double LevelOffTenthFt(double verticalSpeedFpm) => Math.Abs(verticalSpeedFpm) / 10;
    }
}
