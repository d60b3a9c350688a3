namespace SchoolDrills.Engine.Reconstruction;

/// <summary>When the aeroplane is in the air: between a take-off and the landing after it.</summary>
internal static class Airborne
{
    /// <summary>For each sample, whether it was recorded in the air.</summary>
    /// <param name="motion">Smoothed motion.</param>
    /// <param name="airspeedKt">Recorded airspeed, knots; null where there is none.</param>
    public static bool[] Of(GroundMotion motion, double[]? airspeedKt)
    {
        var n = motion.TimeS.Length;
        var inAir = new bool[n];
        var flying = SpeedKt(0) > SensorModel.FlyingKt;
        // Where the speed last left what fits the present state.
        var since = -1;
        for (var i = 0; i < n; i++)
        {
            var speed = SpeedKt(i);
            if (flying ? speed >= SensorModel.TaxiKt : speed <= SensorModel.FlyingKt)
            {
                since = -1;
            }
            else
            {
                since = since < 0 ? i : since;
                if (motion.TimeS[i] - motion.TimeS[since] >= (flying ? SensorModel.LandedS : SensorModel.TakenOffS))
                {
                    flying = !flying;
                    Array.Fill(inAir, flying, since, i - since);
                    since = -1;
                }
            }

            inAir[i] = flying;
        }

        return inAir;

        // A headwind may leave little speed over the ground.
        double SpeedKt(int i) =>
            airspeedKt is not null && double.IsFinite(airspeedKt[i])
                ? Math.Max(airspeedKt[i], motion.GroundSpeedKt(i))
                : motion.GroundSpeedKt(i);
    }
}
