using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;

namespace SchoolDrills.Faults;

/// <summary>A recording to send: the bytes are made when they are needed, the same each time.</summary>
internal sealed record Recording(int Number, string FileName, string Drill, byte[] Bytes)
{
    public string Sha256 { get; } = Convert.ToHexStringLower(SHA256.HashData(Bytes));
}

/// <summary>The recordings of the tests, each flown so many minutes earlier: no two have the same bytes.</summary>
internal static partial class Recordings
{
    /// <summary>Every so many are so large that they wait on disk while they come in.</summary>
    private const int LargeEach = 5;

    private const int Padding = 400 << 10;

    private static readonly (string File, string Drill)[] Flown =
    [
        ("f10.csv", "vertical-s-turning"),
        ("f12.gpx", "racetrack"),
        ("f13.csv", "timed-turns"),
        ("f10.gpx", "vertical-s-turning"),
        ("f12.csv", "racetrack"),
        ("f13.gpx", "timed-turns"),
    ];

    private static readonly Dictionary<string, string> Texts = Flown.ToDictionary(
        f => f.File,
        f => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Recordings", f.File))
    );

    public static IReadOnlyList<string> Drills => [.. Flown.Select(f => f.Drill).Distinct()];

    public static Recording Make(int number)
    {
        var (file, drill) = Flown[number % Flown.Length];
        var earlier = TimeSpan.FromMinutes(number);
        var text = Times()
            .Replace(
                Texts[file],
                time =>
                    (DateTime.Parse(time.Value, CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind) - earlier).ToString(
                        "yyyy-MM-ddTHH:mm:ss",
                        CultureInfo.InvariantCulture
                    )
            );
        if (number % LargeEach == 0)
            text += file.EndsWith(".gpx", StringComparison.Ordinal) ? $"<!--{new string(' ', Padding)}-->" : new string('\n', Padding);
        return new Recording(number, $"{number}-{file}", drill, Encoding.UTF8.GetBytes(text));
    }

    [GeneratedRegex(@"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d")]
    private static partial Regex Times();
}
