using System.Buffers.Binary;
using System.Text.Json;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>
/// The columns of a plot in binary, as they are kept and as they are sent on request: a 32-bit length, that many bytes of JSON
/// (<c>{"epochUtc", "count", "columns": [{"name", "type", "length"}]}</c>, padded with blanks to a multiple of eight), then the columns
/// one after another, <c>float64</c> for times and places, <c>float32</c> for the rest, NaN where nothing is known. Little-endian.
/// </summary>
internal static class PlotFormat
{
    public const string MediaType = "application/octet-stream";

    private sealed record Exact(string Name, Func<TrackColumns, double[]> Get);

    private sealed record Rough(string Name, Func<TrackColumns, double?[]> Get);

    private static readonly Exact[] Exacts =
    [
        new("timeS", c => c.TimeS),
        new("latDeg", c => c.LatDeg),
        new("lonDeg", c => c.LonDeg),
        new("nominalTimeS", c => c.NominalTimeS),
        new("nominalLatDeg", c => c.NominalLatDeg),
        new("nominalLonDeg", c => c.NominalLonDeg),
    ];

    private static readonly Rough[] Roughs =
    [
        new("altitudeFt", c => c.AltitudeFt),
        new("headingMagDeg", c => c.HeadingMagDeg),
        new("verticalSpeedFpm", c => c.VerticalSpeedFpm),
        new("turnRateDegPerS", c => c.TurnRateDegPerS),
        new("airspeedKt", c => c.AirspeedKt),
        new("segmentIndex", c => Array.ConvertAll(c.SegmentIndex, i => (double?)i)),
        new("altitudeTargetFt", c => c.AltitudeTargetFt),
        new("headingTargetMagDeg", c => c.HeadingTargetMagDeg),
        new("verticalSpeedTargetFpm", c => c.VerticalSpeedTargetFpm),
        new("turnRateTargetDegPerS", c => c.TurnRateTargetDegPerS),
        new("airspeedTargetKt", c => c.AirspeedTargetKt),
        new("altitudeBandFt", c => c.AltitudeBandFt),
        new("headingBandDeg", c => c.HeadingBandDeg),
        new("verticalSpeedBandFpm", c => c.VerticalSpeedBandFpm),
        new("turnRateBandDegPerS", c => c.TurnRateBandDegPerS),
        new("airspeedBandKt", c => c.AirspeedBandKt),
    ];

    public static byte[] Write(TrackColumns columns)
    {
        var header = JsonSerializer.SerializeToUtf8Bytes(
            new Header(
                columns.EpochUtc,
                columns.TimeS.Length,
                [
                    .. Exacts.Select(c => new Column(c.Name, "float64", c.Get(columns).Length)),
                    .. Roughs.Select(c => new Column(c.Name, "float32", c.Get(columns).Length)),
                ]
            ),
            JsonSerializerOptions.Web
        );
        var padded = (header.Length + 4 + 7) / 8 * 8 - 4;
        using var bytes = new MemoryStream();
        using var writer = new BinaryWriter(bytes);
        writer.Write(padded);
        writer.Write(header);
        for (var i = header.Length; i < padded; i++)
            writer.Write((byte)' ');
        foreach (var column in Exacts)
        {
            foreach (var value in column.Get(columns))
                writer.Write(value);
        }

        foreach (var column in Roughs)
        {
            foreach (var value in column.Get(columns))
                writer.Write((float)(value ?? double.NaN));
        }

        return bytes.ToArray();
    }

    public static TrackColumns Read(ReadOnlySpan<byte> bytes)
    {
        var padded = BinaryPrimitives.ReadInt32LittleEndian(bytes);
        var header = JsonSerializer.Deserialize<Header>(bytes.Slice(4, padded), JsonSerializerOptions.Web)!;
        var exact = new Dictionary<string, double[]>();
        var rough = new Dictionary<string, double?[]>();
        var at = 4 + padded;
        foreach (var column in header.Columns)
        {
            if (column.Type == "float64")
            {
                var values = exact[column.Name] = new double[column.Length];
                for (var i = 0; i < values.Length; i++, at += 8)
                    values[i] = BinaryPrimitives.ReadDoubleLittleEndian(bytes[at..]);
            }
            else
            {
                var values = rough[column.Name] = new double?[column.Length];
                for (var i = 0; i < values.Length; i++, at += 4)
                {
                    var value = BinaryPrimitives.ReadSingleLittleEndian(bytes[at..]);
                    // Through decimal, so that 3.1 does not come back as 3.0999999.
                    values[i] = float.IsFinite(value) ? (double)(decimal)value : null;
                }
            }
        }

        return new TrackColumns
        {
            EpochUtc = header.EpochUtc,
            TimeS = exact["timeS"],
            LatDeg = exact["latDeg"],
            LonDeg = exact["lonDeg"],
            NominalTimeS = exact["nominalTimeS"],
            NominalLatDeg = exact["nominalLatDeg"],
            NominalLonDeg = exact["nominalLonDeg"],
            AltitudeFt = rough["altitudeFt"],
            HeadingMagDeg = rough["headingMagDeg"],
            VerticalSpeedFpm = rough["verticalSpeedFpm"],
            TurnRateDegPerS = rough["turnRateDegPerS"],
            AirspeedKt = rough["airspeedKt"],
            SegmentIndex = Array.ConvertAll(rough["segmentIndex"], v => (int?)v),
            AltitudeTargetFt = rough["altitudeTargetFt"],
            HeadingTargetMagDeg = rough["headingTargetMagDeg"],
            VerticalSpeedTargetFpm = rough["verticalSpeedTargetFpm"],
            TurnRateTargetDegPerS = rough["turnRateTargetDegPerS"],
            AirspeedTargetKt = rough["airspeedTargetKt"],
            AltitudeBandFt = rough["altitudeBandFt"],
            HeadingBandDeg = rough["headingBandDeg"],
            VerticalSpeedBandFpm = rough["verticalSpeedBandFpm"],
            TurnRateBandDegPerS = rough["turnRateBandDegPerS"],
            AirspeedBandKt = rough["airspeedBandKt"],
        };
    }

    private sealed record Header(DateTimeOffset EpochUtc, int Count, IReadOnlyList<Column> Columns);

    private sealed record Column(string Name, string Type, int Length);
}
