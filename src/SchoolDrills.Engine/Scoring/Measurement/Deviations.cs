using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Measures how far a segment was flown from its targets.</summary>
public static class Deviations
{
    /// <summary>Measures one parameter. Each sample represents the time to the next; gaps count neither within nor outside.</summary>
    /// <param name="flown">The segment.</param>
    /// <param name="timeS">Sample times, seconds.</param>
    /// <param name="gapS">Longest time between samples that is not a gap, seconds.</param>
    /// <param name="parameter">What to measure.</param>
    /// <param name="within">Allowed either side.</param>
    /// <param name="sigma">One standard deviation of the measurement.</param>
    /// <param name="error">What the measurement is taken to be too high by throughout.</param>
    public static Deviation Measure(
        FlownSegment flown,
        double[] timeS,
        double gapS,
        Parameter parameter,
        double within,
        double sigma,
        double error = 0
    )
    {
        double measuredS = 0,
            outsideS = 0,
            sum = 0,
            sumAbs = 0,
            sumSquares = 0,
            worst = double.NaN,
            worstAtS = double.NaN;
        var exceedances = new List<Exceedance>();
        Exceedance? open = null;
        for (var i = flown.First; i < flown.End; i++)
        {
            var deviation = flown.Deviation(parameter, i) - error;
            var untilS = Math.Min(i + 1 < timeS.Length ? timeS[i + 1] : timeS[i], flown.Match.EndS);
            var dt = untilS - timeS[i];
            if (!double.IsFinite(deviation) || dt > gapS)
            {
                Close();
                continue;
            }

            measuredS += dt;
            sum += deviation * dt;
            sumAbs += Math.Abs(deviation) * dt;
            sumSquares += deviation * deviation * dt;
            if (!(Math.Abs(deviation) <= Math.Abs(worst)))
                (worst, worstAtS) = (deviation, timeS[i]);
            if (Math.Abs(deviation) <= within)
            {
                Close();
                continue;
            }

            outsideS += dt;
            open = open is { } o
                ? o with
                {
                    EndS = untilS,
                    Worst = Math.Abs(deviation) > Math.Abs(o.Worst) ? deviation : o.Worst,
                    WorstAtS = Math.Abs(deviation) > Math.Abs(o.Worst) ? timeS[i] : o.WorstAtS,
                }
                : new Exceedance(timeS[i], untilS, deviation, timeS[i]);
        }

        Close();
        return new Deviation(
            parameter,
            within,
            sigma,
            sumAbs / measuredS,
            sum / measuredS,
            Math.Sqrt(sumSquares / measuredS),
            worst,
            worstAtS,
            measuredS,
            outsideS,
            exceedances
        )
        {
            CorrectionS = Correction(exceedances, flown.First < timeS.Length ? timeS[flown.First] : double.NaN),
        };

        void Close()
        {
            if (open is { } o)
                exceedances.Add(o);
            open = null;
        }
    }

    /// <summary>
    /// Time to start correcting. What was outside from the start was left in the segment before; correction starts where the deviation is
    /// largest.
    /// </summary>
    private static double Correction(List<Exceedance> exceedances, double firstS)
    {
        var waits = exceedances.Where(e => e.StartS > firstS).Select(e => e.WorstAtS - e.StartS).Order().ToArray();
        return waits.Length == 0 ? double.NaN : (waits[(waits.Length - 1) / 2] + waits[waits.Length / 2]) / 2;
    }
}
