using SchoolDrills.Cockpit.Storage;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Cockpit.Landing;

/// <summary>Scores a flight on the device, with the engine that the server has: no network is needed.</summary>
internal static class DeviceScore
{
    /// <summary>Scores one drill of a flight.</summary>
    /// <param name="csv">The device's recording, in the server's time.</param>
    /// <param name="work">What was flown.</param>
    /// <param name="marks">What was noted, by the device's clock.</param>
    /// <param name="clockAheadS">By how much that is ahead of the server's.</param>
    /// <returns>The report, or one sentence why there is none.</returns>
    public static (ScoreReport? Report, string? Trouble) Of(byte[] csv, StoredWork work, IEnumerable<StoredMark> marks, double clockAheadS)
    {
        using var stream = new MemoryStream(csv);
        var read = TrackReader.Read(stream);
        if (read.Track is not { } track)
            return (null, read.Problem?.Message ?? T["The recording could not be read."]);
        var set = work.Assignment.Overrides;
        var options = new ScoringOptions
        {
            HeadingMagDeg = set?.HeadingMagDeg,
            AltitudeFt = set?.AltitudeFt,
            AirspeedKt = set?.AirspeedKt,
            Mirrored = set?.Mirrored,
            HalfRate = set?.HalfRate,
            Events =
            [
                .. marks
                    .Where(m => !m.Undone)
                    .OrderBy(m => m.Number)
                    .Select(m => new FlightEvent(m.Kind, m.AtUtc.AddSeconds(-clockAheadS), m.Detail)),
            ],
        };
        return (AttemptScorer.Score(track, work.Template, work.Standard, options).Report, null);
    }
}
