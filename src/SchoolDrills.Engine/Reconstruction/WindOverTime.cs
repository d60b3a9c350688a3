namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// The wind over a whole recording from its turns. Each stretch of some minutes shows what its turns show of it; with time that ages, so
/// that the wind at any time is weighed from the stretches around it, and its sigma grows with the time from the turns.
/// </summary>
internal sealed class WindOverTime
{
    private readonly GroundMotion motion;
    private readonly OneSidedAir recorded;
    private readonly Stretch[] stretches;

    /// <summary>What each stretch shows together with those before it, and with those after it, at the time of the stretch.</summary>
    private readonly WindInformation[] forward,
        backward;

    /// <param name="motion">Smoothed motion.</param>
    /// <param name="recorded">Recorded airspeed or heading.</param>
    public WindOverTime(GroundMotion motion, OneSidedAir recorded)
    {
        (this.motion, this.recorded) = (motion, recorded);
        double firstS = motion.TimeS[0],
            lengthS = motion.TimeS[^1] - firstS;
        var count = (int)Math.Max(1, Math.Round(lengthS / WindModel.StretchS));
        stretches = [.. Enumerable.Range(0, count).Select(k => Cut(firstS + (lengthS * k / count), firstS + (lengthS * (k + 1) / count)))];
        (forward, backward) = (new WindInformation[count], new WindInformation[count]);
        Combine();
        for (var k = 0; k < count; k++)
        {
            if (stretches[k] is { Unsolved: { } blocks } stretch)
            {
                var shown = Solved(blocks, Known(blocks.ReferenceAltitudeFt, stretch.TimeS, k - 1, k + 1));
                stretches[k] = stretch with { Shown = shown, Unsolved = null };
            }
        }

        Combine();
    }

    /// <summary>Ground velocities of a part of the recording with what is known of the motion through the air.</summary>
    /// <param name="fromS">Start of the part, seconds.</param>
    /// <param name="toS">End of the part, seconds.</param>
    /// <param name="plannedKtAt">Planned indicated airspeed by time, knots; null when not known.</param>
    public AirBlocks Blocks(double fromS, double toS, Func<double, double>? plannedKtAt) =>
        AirBlocks.Cut(motion, fromS, toS, plannedKtAt, recorded);

    /// <summary>The wind of the whole recording at even times, to be interpolated by <see cref="At"/>.</summary>
    /// <param name="known">What is known about the day.</param>
    /// <returns>Empty where neither turns nor a person tell the wind.</returns>
    public List<(double TimeS, WindField Wind)> Fields(KnownConditions known)
    {
        var fields = new List<(double TimeS, WindField Wind)>();
        double firstS = motion.TimeS[0],
            lengthS = motion.TimeS[^1] - firstS;
        var steps = (int)Math.Max(1, Math.Round(lengthS / WindModel.FieldStepS));
        for (var k = 0; k <= steps; k++)
        {
            var timeS = firstS + (lengthS * k / steps);
            fields.Add((timeS, Field(timeS)));
        }

        if (known.Wind is not null)
            return fields.ConvertAll(f => (f.TimeS, Better(f.Wind, known)));
        return fields.Exists(f => f.Wind.SigmaKt <= WindModel.UsableSigmaKt) ? fields : [];
    }

    /// <summary>What the recording outside a part shows of the wind in it.</summary>
    /// <param name="fromS">Start of the part, seconds.</param>
    /// <param name="toS">End of the part, seconds.</param>
    /// <param name="atS">Time in the part, seconds.</param>
    public WindInformation Around(double fromS, double toS, double atS)
    {
        // What lies between the part and the nearest whole stretch is solved by itself.
        var before = Array.FindLastIndex(stretches, s => s.ToS <= fromS);
        var left = Cut(before < 0 ? motion.TimeS[0] : stretches[before].ToS, fromS);
        var earlier = left.Shown.Plus(Forward(before, left.TimeS));
        var after = Array.FindIndex(stretches, s => s.FromS >= toS);
        var right = Cut(toS, after < 0 ? motion.TimeS[^1] : stretches[after].FromS);
        var later = right.Shown.Plus(Backward(after < 0 ? stretches.Length : after, right.TimeS));
        return earlier.Aged(atS - left.TimeS).Plus(later.Aged(right.TimeS - atS));
    }

    /// <summary>The solved wind, or the one that was entered where that has the smaller sigma or the solved one is of no use.</summary>
    public static WindField Better(WindField solved, KnownConditions known) =>
        solved.SigmaKt <= WindModel.UsableSigmaKt && !(known.Wind is { } given && given.SigmaKt < solved.SigmaKt)
            ? solved
            : known.Wind ?? WindField.Unknown;

    /// <summary>The wind at a time, between the two fields that are nearest.</summary>
    public static WindField At(List<(double TimeS, WindField Wind)> fields, double timeS)
    {
        if (fields.Count == 0)
            return WindField.Unknown;
        var step = (fields[^1].TimeS - fields[0].TimeS) / Math.Max(1, fields.Count - 1);
        var k = Math.Clamp((int)((timeS - fields[0].TimeS) / Math.Max(1, step)), 0, Math.Max(0, fields.Count - 2));
        var (aS, a) = fields[k];
        var (bS, b) = fields[Math.Min(k + 1, fields.Count - 1)];
        var share = bS > aS ? Math.Clamp((timeS - aS) / (bS - aS), 0, 1) : 0;
        var (bEast, bNorth) = b.At(a.ReferenceAltitudeFt);
        return a with
        {
            EastKt = a.EastKt + (share * (bEast - a.EastKt)),
            NorthKt = a.NorthKt + (share * (bNorth - a.NorthKt)),
            EastPerKft = a.EastPerKft + (share * (b.EastPerKft - a.EastPerKft)),
            NorthPerKft = a.NorthPerKft + (share * (b.NorthPerKft - a.NorthPerKft)),
            SigmaKt = a.SigmaKt + (share * (b.SigmaKtAt(a.ReferenceAltitudeFt) - a.SigmaKt)),
        };
    }

    private WindField Field(double timeS)
    {
        var after = Array.FindIndex(stretches, s => s.TimeS > timeS);
        var before = (after < 0 ? stretches.Length : after) - 1;
        var i = Math.Min(motion.FirstFrom(timeS), motion.TimeS.Length - 1);
        var altitudeFt = double.IsFinite(motion.AltitudeFt[i]) ? motion.AltitudeFt[i] : 0;
        return Known(altitudeFt, timeS, before, after < 0 ? stretches.Length : after).Field(0);
    }

    /// <summary>What is known of the wind at a time between two stretches.</summary>
    private WindInformation Known(double altitudeFt, double timeS, int before, int after) =>
        WindInformation.Prior(altitudeFt).Plus(Forward(before, timeS)).Plus(Backward(after, timeS));

    private void Combine()
    {
        for (var k = 0; k < stretches.Length; k++)
            forward[k] = stretches[k].Shown.Plus(Forward(k - 1, stretches[k].TimeS));
        for (var k = stretches.Length - 1; k >= 0; k--)
            backward[k] = stretches[k].Shown.Plus(Backward(k + 1, stretches[k].TimeS));
    }

    private WindInformation Forward(int k, double timeS) => k < 0 ? WindInformation.None : forward[k].Aged(timeS - stretches[k].TimeS);

    private WindInformation Backward(int k, double timeS) =>
        k >= stretches.Length ? WindInformation.None : backward[k].Aged(stretches[k].TimeS - timeS);

    /// <summary>A stretch that does not show the wind is left unsolved: it shows something only where others show the wind.</summary>
    private Stretch Cut(double fromS, double toS)
    {
        var blocks = Blocks(fromS, toS, plannedKtAt: null);
        if (blocks.All.Count < WindModel.FewestBlocks)
            return new Stretch(fromS, toS, (fromS + toS) / 2, WindInformation.None, Unsolved: null);
        return !blocks.ShowWind
            ? new Stretch(fromS, toS, blocks.ShownS, WindInformation.None, blocks)
            : new Stretch(fromS, toS, blocks.ShownS, Solved(blocks, WindInformation.Prior(blocks.ReferenceAltitudeFt)), Unsolved: null);
    }

    private static WindInformation Solved(AirBlocks blocks, WindInformation known) =>
        blocks.MaySolve(known) ? WindFit.Solve(blocks, [], known).Aged(blocks.LengthS / 12) : WindInformation.None;

    /// <summary>A stretch, the middle of what shows the wind in it, and what it shows of the wind then.</summary>
    private sealed record Stretch(double FromS, double ToS, double TimeS, WindInformation Shown, AirBlocks? Unsolved);
}
