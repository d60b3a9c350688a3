using System.Globalization;
using System.IO.Compression;
using System.Text.Json;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Accuracy;

/// <summary>A flight with its recordings and its true state.</summary>
internal sealed class TruthFlight
{
    /// <summary>A flight with its truth.</summary>
    /// <param name="folder">Folder of its recordings; empty when it has none.</param>
    /// <param name="truth">Drill, segments and errors as <c>truth.json</c> has them.</param>
    /// <param name="seconds">True state, second by second.</param>
    public TruthFlight(string folder, JsonElement truth, IReadOnlyList<TruthSecond> seconds)
    {
        Folder = folder;
        Id = truth.GetProperty("id").GetString()!;
        Drill = truth.GetProperty("drill").GetString()!;
        Truth = truth;
        Seconds = seconds;
        if (Drill == "none")
            return;
        StartUtc = truth.GetProperty("drill_start_utc").GetDateTimeOffset();
        EndUtc = truth.GetProperty("drill_end_utc").GetDateTimeOffset();
        WholeFlight = truth.GetProperty("recording").GetProperty("extent").GetString()!.StartsWith("whole", StringComparison.Ordinal);
        IsRecognizable = !truth.TryGetProperty("recognizable", out var recognizable) || recognizable.GetBoolean();
        Segments = [.. truth.GetProperty("segments").EnumerateArray()];
    }

    public string Folder { get; }

    public string Id { get; }

    public string Drill { get; }

    public JsonElement Truth { get; }

    public DateTimeOffset StartUtc { get; }

    public DateTimeOffset EndUtc { get; }

    public bool WholeFlight { get; }

    /// <summary>A person could tell that the drill was flown; said to be so where nothing is said.</summary>
    public bool IsRecognizable { get; }

    public IReadOnlyList<JsonElement> Segments { get; } = [];

    public IReadOnlyList<TruthSecond> Seconds { get; }

    /// <summary>Folder of the flights that belong to the project.</summary>
    public static string OwnFolder { get; } = Path.Combine(AppContext.BaseDirectory, "Flights");

    /// <summary>The flights of a folder, each in a folder of its own.</summary>
    /// <param name="flights">The folder; files in it may be compressed with gzip.</param>
    public static IEnumerable<TruthFlight> In(string flights) =>
        Directory
            .GetDirectories(flights)
            .Order(StringComparer.Ordinal)
            .Where(folder => PathOf(folder, "truth.json") is not null)
            .Select(folder => new TruthFlight(
                folder,
                JsonDocument.Parse(ReadText(folder, "truth.json")).RootElement,
                ReadSeconds(ReadText(folder, "truth_1hz.csv"))
            ));

    /// <summary>Whether the flight has a recording.</summary>
    /// <param name="file">Name of the recording, such as <c>track.gpx</c>.</param>
    public bool Has(string file) => PathOf(Folder, file) is not null;

    /// <summary>A recording of the flight.</summary>
    /// <param name="file">Name of the recording, such as <c>track.gpx</c>.</param>
    public Track Read(string file)
    {
        using var stream = File.OpenRead(PathOf(Folder, file) ?? throw new FileNotFoundException($"{Id} has no {file}."));
        var result = TrackReader.Read(stream);
        return result.Track ?? throw new InvalidDataException($"{file} of {Id}: {result.Problem!.Message}");
    }

    private static string? PathOf(string folder, string file) =>
        new[] { file, $"{file}.gz" }.Select(name => Path.Combine(folder, name)).FirstOrDefault(File.Exists);

    private static string ReadText(string folder, string file)
    {
        var path = PathOf(folder, file) ?? throw new FileNotFoundException($"{folder} has no {file}.");
        using var stream = File.OpenRead(path);
        using var reader = new StreamReader(
            path.EndsWith(".gz", StringComparison.Ordinal) ? new GZipStream(stream, CompressionMode.Decompress) : stream
        );
        return reader.ReadToEnd();
    }

    private static List<TruthSecond> ReadSeconds(string csv)
    {
        var lines = csv.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var names = lines[0].Split(',');
        int At(string name) => Array.IndexOf(names, name);
        int utc = At("utc"),
            alt = At("indicated_alt_ft"),
            ias = At("ias_kt"),
            heading = At("heading_mag_deg"),
            vs = At("vs_fpm"),
            turn = At("turn_rate_deg_s"),
            wind = At("wind_from_deg_true"),
            kt = At("wind_kt"),
            lat = At("lat_deg"),
            lon = At("lon_deg"),
            msl = At("alt_msl_ft"),
            tas = At("tas_kt"),
            roll = At("roll_deg");
        return
        [
            .. lines
                .Skip(1)
                .Select(line =>
                {
                    var cells = line.Split(',');
                    double Number(int i) => double.Parse(cells[i], CultureInfo.InvariantCulture);
                    return new TruthSecond(
                        DateTimeOffset.Parse(cells[utc], CultureInfo.InvariantCulture),
                        Number(alt),
                        Number(ias),
                        Number(heading),
                        Number(vs),
                        Number(turn),
                        Number(wind),
                        Number(kt),
                        Number(lat),
                        Number(lon),
                        Number(msl),
                        Number(tas),
                        Number(roll)
                    );
                }),
        ];
    }
}

/// <summary>One second of the true state.</summary>
internal sealed record TruthSecond(
    DateTimeOffset Utc,
    double AltitudeFt,
    double AirspeedKt,
    double HeadingMagDeg,
    double VerticalSpeedFpm,
    double TurnRateDegPerS,
    double WindFromDegTrue,
    double WindKt,
    double LatDeg,
    double LonDeg,
    double MslFt,
    double TrueAirspeedKt,
    double BankDeg
);
