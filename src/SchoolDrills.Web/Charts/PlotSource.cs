using System.Text.Json;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Charts;

/// <summary>What the browser's drawing is told of a report besides the columns; times in milliseconds since 1970, as browsers count.</summary>
internal sealed record PlotSource(IReadOnlyList<PlotSegment> Segments, IReadOnlyList<PlotEpisode> Episodes, WindReport? Wind)
{
    /// <summary>Segments that were flown, and the times of saturation.</summary>
    public static PlotSource Of(ScoreReport report) => new(
        [.. report.Segments.Where(s => s.StartUtc is not null && s.EndUtc is not null).Select(s => new PlotSegment(
            s.Index, s.Name, JsonNamingPolicy.KebabCaseLower.ConvertName(s.Verdict.ToString()), Milliseconds(s.StartUtc!.Value), Milliseconds(s.EndUtc!.Value)))],
        [.. report.Saturation.Select(e => new PlotEpisode(Milliseconds(e.StartUtc), Milliseconds(e.EndUtc)))],
        report.Wind);

    /// <summary>The columns of a preview as the API would send them.</summary>
    public static Stream Json(TrackColumns columns) => new MemoryStream(JsonSerializer.SerializeToUtf8Bytes(columns, WireJson.Default.TrackColumns));

    private static double Milliseconds(DateTimeOffset instant) => (instant - DateTimeOffset.UnixEpoch).TotalMilliseconds;
}

/// <summary>A flown segment on the plots.</summary>
internal sealed record PlotSegment(int Index, string Name, string Verdict, double StartMs, double EndMs);

/// <summary>A time of saturation on the plots.</summary>
internal sealed record PlotEpisode(double StartMs, double EndMs);
