using System.Text.Json;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy;

/// <summary>Compares a report with what really happened.</summary>
internal static class Comparison
{
    /// <summary>Name of the errors of boundaries in the tables.</summary>
    public const string Boundary = "boundary, s";

    private static readonly Dictionary<string, FindingKind[]> KindsOf = new()
    {
        ["late_start"] = [FindingKind.LateStart],
        ["early_start"] = [FindingKind.EarlyStart],
        ["heading_overshoot"] = [FindingKind.OvershotHeading],
        ["heading_undershoot"] = [FindingKind.UndershotHeading],
        ["skipped_segment"] = [FindingKind.SkippedSegment],
        ["wrong_way_turn"] = [FindingKind.WrongDirection],
        ["altitude_drift"] = [FindingKind.AltitudeDrift],
        ["level_off_error"] = [FindingKind.AltitudeOvershoot, FindingKind.AltitudeUndershoot],
        ["wrong_vertical_speed"] = [FindingKind.RateHigh, FindingKind.RateLow],
        ["abort"] = [FindingKind.Aborted],
        ["airspeed_decay"] = [FindingKind.AirspeedDrift],
        ["heading_drift"] = [FindingKind.HeadingDrift],
        ["turn_rate"] = [FindingKind.RateHigh, FindingKind.RateLow],
    };

    /// <summary>Boundaries, shares, labelled errors and findings of one scored flight.</summary>
    public static void Add(Tally tally, TruthFlight flight, ScoreReport report, bool verbose)
    {
        var stated = Flown(flight, report).SelectMany(s => BoundaryErrors(flight, s.Truth, s.Mine)).ToList();
        var boundaries = stated.ConvertAll(b => b.ErrorS);
        tally.BoundaryS.AddRange(boundaries);
        foreach (var (errorS, sigmaS) in stated)
        {
            if (sigmaS is { } known)
                tally.Add(Boundary, errorS, known);
        }

        foreach (var (truth, mine) in Flown(flight, report))
            Shares(tally, flight, truth, mine, verbose);
        var labelled = Labelled(tally, flight, report);
        foreach (var finding in report.Findings)
        {
            var confirmed = Confirmed(finding, flight, labelled);
            tally.Findings.Add((finding.Kind, confirmed));
            if (finding.Probability is { } chance)
                tally.FindingChances.Add((chance, confirmed));
            if (!confirmed && verbose)
                Console.WriteLine($"  {flight.Id}: not confirmed: segment {finding.SegmentIndex} {finding.Text}");
        }

        Episodes(tally, flight, report, verbose);
        if (verbose)
        {
            Console.WriteLine(
                $"  {flight.Id}: confidence {report.Confidence:0.00}, boundaries "
                    + $"{string.Join(' ', boundaries.Select(b => Math.Round(b, 1)))}"
            );
        }
    }

    private static IEnumerable<(JsonElement Truth, SegmentReport Mine)> Flown(TruthFlight flight, ScoreReport report) =>
        flight
            .Segments.Select(truth => (Truth: truth, Mine: report.Segments[truth.GetProperty("index").GetInt32()]))
            .Where(s => s.Truth.GetProperty("flown").GetBoolean() && s.Mine.Status != SegmentStatus.Skipped);

    /// <summary>Signed errors of the start and end that could be seen, late positive, with the sigma stated.</summary>
    private static IEnumerable<(double ErrorS, double? SigmaS)> BoundaryErrors(TruthFlight flight, JsonElement truth, SegmentReport mine)
    {
        // When a segment was flown twice, either flight is right.
        if (truth.TryGetProperty("repeated", out var repeated) && repeated.GetBoolean())
            yield break;
        // In a whole flight the outer end of a straight that opens or closes the drill cannot be seen.
        var outer = flight.WholeFlight && truth.GetProperty("kind").GetString() == "level-straight";
        if (!(outer && mine.Index == 0))
            yield return ((mine.StartUtc!.Value - truth.GetProperty("start_utc").GetDateTimeOffset()).TotalSeconds, mine.StartSigmaS);
        if (truth.GetProperty("complete").GetBoolean() && !(outer && mine.Index == flight.Segments.Count - 1))
        {
            yield return ((mine.EndUtc!.Value - truth.GetProperty("end_utc").GetDateTimeOffset()).TotalSeconds, mine.EndSigmaS);
        }
    }

    private static void Shares(Tally tally, TruthFlight flight, JsonElement truth, SegmentReport mine, bool verbose)
    {
        foreach (var deviation in mine.Deviations)
        {
            if (TrueShare(truth, deviation.Parameter) is not { } share)
                continue;
            tally.Shares++;
            if (deviation.Verdict == Verdict.NotMeasured || deviation.WithinShare is not { } measured)
            {
                tally.Abstained++;
            }
            else if (Math.Abs(measured - share) <= 0.10 || measured >= 0.8 == share >= 0.8)
            {
                tally.Agreed++;
            }
            else if (verbose)
            {
                Console.WriteLine(
                    $"  {flight.Id} segment {mine.Index} {deviation.Parameter}: true share {share:0.00}, measured {measured:0.00}"
                );
            }
        }
    }

    private static double? TrueShare(JsonElement truth, Parameter parameter)
    {
        if (!truth.TryGetProperty("stats", out var stats) || stats.GetProperty("duration_s").GetDouble() is var duration && duration < 5)
            return null;
        var field = parameter switch
        {
            Parameter.Altitude => "s_outside_100ft",
            Parameter.Airspeed => "s_outside_10kt",
            Parameter.Heading when truth.GetProperty("kind").GetString()!.Contains("straight", StringComparison.Ordinal) =>
                "s_outside_10deg",
            _ => null,
        };
        return field is null || stats.GetProperty(field).ValueKind == JsonValueKind.Null
            ? null
            : 1 - (stats.GetProperty(field).GetDouble() / duration);
    }

    private static HashSet<(int, FindingKind)> Labelled(Tally tally, TruthFlight flight, ScoreReport report)
    {
        var labelled = new HashSet<(int, FindingKind)>();
        if (!flight.Truth.TryGetProperty("injected_errors", out var errors))
            return labelled;
        foreach (var error in errors.EnumerateArray())
        {
            var index = error.GetProperty("segment_index").GetInt32();
            var kind = error.GetProperty("kind").GetString()!;
            // A segment flown twice has no finding of its own.
            if (!KindsOf.TryGetValue(kind, out var kinds))
                continue;
            var near = new[] { -1, 0, 1 }.SelectMany(step => kinds.Select(k => (index + step, k))).ToList();
            labelled.UnionWith(near);
            var reported = report.Findings.Any(f =>
                (f.SegmentIndex is { } at && near.Contains((at, f.Kind))) || (f.Kind == FindingKind.Aborted && kinds.Contains(f.Kind))
            );
            if (error.TryGetProperty("shows", out var shows) && !shows.GetBoolean())
            {
                tally.Slight.Add((kind, reported));
                continue;
            }

            tally.Purposes.Add((kind, reported));
            if (!reported)
                tally.Misses.Add($"{flight.Id}: {kind} in segment {index} not reported, measured {error.GetProperty("measured")}");
        }

        return labelled;
    }

    private static bool Confirmed(Finding finding, TruthFlight flight, HashSet<(int, FindingKind)> labelled)
    {
        if (finding.SegmentIndex is not { } index)
            return false;
        if (labelled.Contains((index, finding.Kind)))
            return true;
        if (
            finding.Kind
            is FindingKind.WrongDirection
                or FindingKind.SkippedSegment
                or FindingKind.Aborted
                or FindingKind.MissedCheck
                or FindingKind.LateCheck
        )
        {
            return false;
        }

        var around = flight
            .Segments.Where(s => Math.Abs(s.GetProperty("index").GetInt32() - index) <= 1 && s.GetProperty("flown").GetBoolean())
            .ToList();
        if (finding.Kind is FindingKind.LateStart or FindingKind.EarlyStart)
        {
            static double Late(JsonElement s) => s.GetProperty("start_s").GetDouble() - s.GetProperty("nominal_start_s").GetDouble();
            var before = around
                .Where(s => s.GetProperty("index").GetInt32() > 0)
                .Select(s => (Truth: s, Before: flight.Segments[s.GetProperty("index").GetInt32() - 1]))
                .Where(s => s.Before.GetProperty("flown").GetBoolean());
            var sizes = around.Select(s => Math.Abs(Late(s))).Concat(before.Select(s => Math.Abs(Late(s.Truth) - Late(s.Before))));
            return sizes.Any(size => Math.Abs(size - finding.Magnitude) <= Math.Max(3, finding.Magnitude / 2));
        }

        var field = finding.Kind switch
        {
            FindingKind.AltitudeDrift or FindingKind.AltitudeOvershoot or FindingKind.AltitudeUndershoot => "altitude_ft",
            FindingKind.HeadingDrift or FindingKind.OvershotHeading or FindingKind.UndershotHeading => "heading_mag_deg",
            FindingKind.AirspeedDrift => "ias_kt",
            FindingKind.RateHigh or FindingKind.RateLow => "vertical_speed_fpm",
            _ => null,
        };
        return field is not null
            && around.Select(s => s.GetProperty("stats").GetProperty(field).GetProperty("max_abs").GetDouble()).DefaultIfEmpty(0).Max()
                >= finding.Magnitude / 2;
    }

    private static void Episodes(Tally tally, TruthFlight flight, ScoreReport report, bool verbose)
    {
        if (!flight.Truth.TryGetProperty("workload_events", out var events))
            return;
        foreach (var episode in events.EnumerateArray().Where(e => e.GetProperty("kind").GetString() == "saturation"))
        {
            tally.Episodes++;
            var (from, to) = (
                episode.GetProperty("given_at_utc").GetDateTimeOffset(),
                episode.GetProperty("until_utc").GetDateTimeOffset().AddSeconds(20)
            );
            if (report.Saturation.Any(s => s.StartUtc < to && s.EndUtc > from))
                tally.EpisodesFound++;
            else if (verbose)
                Console.WriteLine($"  {flight.Id}: saturation not found");
        }
    }
}
