using System.Globalization;

namespace SchoolDrills.Faults;

/// <summary>What a run is asked for.</summary>
/// <param name="Uploads">Recordings to send, each with other bytes.</param>
/// <param name="Clients">Students who send at once.</param>
/// <param name="Seed">Of the faults: their order, place and length.</param>
/// <param name="MinutesMost">After so long nothing more is sent, and no fault is made.</param>
/// <param name="OlderHost">Folder of an older version, published: one host of each role begins as it.</param>
internal sealed record FaultOptions(int Uploads = 1000, int Clients = 8, int Seed = 1, int MinutesMost = 20, string? OlderHost = null)
{
    /// <summary>A student may send 500 recordings a day; who gets them is left to chance.</summary>
    private const int MostForStudent = 300;

    /// <summary>Each kind of fault at least once, and one for every 20 uploads.</summary>
    public int Faults => Math.Max(FaultMaker.Kinds, Uploads / 20);

    /// <returns>The options, or a sentence that says what is wrong with the arguments.</returns>
    public static (FaultOptions? Options, string? Problem) Read(string[] args)
    {
        var options = new FaultOptions();
        if (args.Length % 2 != 0)
            return (null, "Give each argument a number, such as --uploads 40.");
        foreach (var pair in args.Chunk(2))
        {
            if (pair[0] == "--older-host")
            {
                options = options with { OlderHost = Path.GetFullPath(pair[1]) };
                if (!File.Exists(Path.Combine(options.OlderHost, HostProcess.Program)))
                    return (null, $"There is no {HostProcess.Program} in {pair[1]}: publish the older version into it.");
                continue;
            }

            if (!int.TryParse(pair[1], CultureInfo.InvariantCulture, out var number) || number < 1)
                return (null, $"{pair[0]} takes a whole number from 1, not '{pair[1]}'.");
            FaultOptions? read = pair[0] switch
            {
                "--uploads" => options with { Uploads = number },
                "--clients" => options with { Clients = number },
                "--seed" => options with { Seed = number },
                "--minutes-most" => options with { MinutesMost = number },
                _ => null,
            };
            if (read is null)
                return (null, $"There is no argument {pair[0]}: give --uploads, --clients, --seed, --minutes-most or --older-host.");
            options = read;
        }

        return options.Uploads / options.Clients > MostForStudent
            ? (null, $"So many uploads take at least {options.Uploads / MostForStudent + 1} clients: a student's day has a limit.")
            : (options, null);
    }
}
