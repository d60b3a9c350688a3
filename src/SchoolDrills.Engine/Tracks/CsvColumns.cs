namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Recognizes a recorder's columns by the words of their headers. Names are those of <see cref="Track"/>'s columns, and for what a CSV
/// spreads over several columns also <c>date</c>, <c>utcOffset</c>, <c>latHemisphere</c> and <c>lonHemisphere</c>.
/// </summary>
internal static class CsvColumns
{
    public const string Time = "timeS",
        Date = "date",
        UtcOffset = "utcOffset";
    public const string Lat = "latDeg",
        Lon = "lonDeg",
        LatHemisphere = "latHemisphere",
        LonHemisphere = "lonHemisphere";

    private static readonly Dictionary<string, TrackColumn> Optional = Enum.GetValues<TrackColumn>().ToDictionary(c => c.Name());

    /// <summary>Words of columns that hold targets, derived values or something other than the aircraft in flight.</summary>
    private static readonly string[] Foreign =
    [
        "selected",
        "sel",
        "target",
        "bug",
        "desired",
        "command",
        "cmd",
        "nav",
        "wind",
        "wpt",
        "waypoint",
        "wp",
        "ap",
        "fd",
        "afcs",
        "autopilot",
        "error",
        "err",
        "sigma",
        "stddev",
        "accuracy",
        "limit",
        "max",
        "agl",
        "takeoff",
        "radar",
        "radio",
        "terrain",
        "density",
        "cabin",
        "delta",
        "average",
        "avg",
        "egt",
        "cht",
        "oil",
        "fuel",
        "engine",
        "dest",
        "destination",
        "home",
        "required",
        "separation",
        "undulation",
        "elapsed",
        "index",
        "dop",
        "truth",
        "rate",
    ];

    public static bool IsName(string name) =>
        name is Time or Date or UtcOffset or Lat or Lon or LatHemisphere or LonHemisphere || Optional.ContainsKey(name);

    /// <summary>Whether two quantities may be in one column: latitude and longitude, as "41.5,-99.5".</summary>
    public static bool MayShare(string one, string other) => (one, other) is (Lat, Lon) or (Lon, Lat);

    public static TrackColumn? OptionalColumn(string name) => Optional.TryGetValue(name, out var column) ? column : null;

    /// <summary>
    /// The columns found, name to index. When two headers could be the same column, the more exact name wins, then the first.
    /// </summary>
    public static Dictionary<string, int> Find(IReadOnlyList<CsvHeaderCell> header)
    {
        var found = new Dictionary<string, int>();
        var ranks = new Dictionary<string, int>();
        for (var i = 0; i < header.Count; i++)
        {
            if (Classify(header[i]) is not var (name, rank) || (ranks.TryGetValue(name, out var best) && best <= rank))
                continue;
            found[name] = i;
            ranks[name] = rank;
        }
        TakeLocalTimeWithLocalDate(header, found);
        TakePositions(header, found);
        // A column called date is the time where no other is.
        if (!found.ContainsKey(Time) && found.Remove(Date, out var date))
            found[Time] = date;
        return found;
    }

    /// <summary>A position called "Latitude N/S" holds its letter, and latitude and longitude may share a column.</summary>
    private static void TakePositions(IReadOnlyList<CsvHeaderCell> header, Dictionary<string, int> found)
    {
        if (!found.ContainsKey(Lat) && found.TryGetValue(LatHemisphere, out var lat) && header[lat].Has("latitude"))
            (found[Lat], _) = (lat, found.Remove(LatHemisphere));
        if (!found.ContainsKey(Lon) && found.TryGetValue(LonHemisphere, out var lon) && header[lon].Has("longitude"))
            (found[Lon], _) = (lon, found.Remove(LonHemisphere));
        if (found.ContainsKey(Lat) || found.ContainsKey(Lon))
            return;
        for (var i = 0; i < header.Count && !found.ContainsKey(Lat); i++)
        {
            if (IsPosition(header[i]))
                (found[Lat], found[Lon]) = (i, i);
        }
    }

    private static bool IsPosition(CsvHeaderCell cell) =>
        (cell.HasAny("position", "location", "coordinates") || cell.Has("latitude") && cell.Has("longitude"))
        && cell.Words.All(w => w is "position" or "location" or "coordinates" or "latitude" or "longitude" or "gps" or "ellipsoid");

    /// <summary>
    /// A UTC time with a local date would be a day off for half the world: local date and local time go together. Beside a UTC time and an
    /// offset, a date and a time that do not say so are local.
    /// </summary>
    private static void TakeLocalTimeWithLocalDate(IReadOnlyList<CsvHeaderCell> header, Dictionary<string, int> found)
    {
        if (
            !found.TryGetValue(Date, out var date)
            || !found.TryGetValue(Time, out var time)
            || header[date].Has("utc")
            || header[time].Has("local")
        )
        {
            return;
        }

        var times = Enumerable.Range(0, header.Count).Where(i => Classify(header[i]) is (Time, _) && !header[i].Has("date")).ToList();
        var local = times.FindLastIndex(i => header[i].Has("local"));
        if (local < 0 && header[time].Has("utc") && found.ContainsKey(UtcOffset))
            local = times.FindIndex(i => !header[i].HasAny("utc", "gps", "epoch", "unix"));
        if (local >= 0 && (header[date].Has("local") || found.ContainsKey(UtcOffset)))
            found[Time] = times[local];
    }

    /// <summary>Rank 0 names the column exactly; higher ranks are less exact.</summary>
    private static (string Name, int Rank)? Classify(CsvHeaderCell cell)
    {
        if (cell.Words.Count == 0 || (cell.HasAny(Foreign) && !(cell.Has("rate") && cell.Has("vertical"))))
            return null;
        if (cell.Has("latitude") && cell.Has("longitude"))
            return null;
        if (cell.HasAny("variation", "declination") || cell.Has("magnetic") && cell.HasAny("var", "dec", "decl", "dev", "deviation"))
        {
            // A column of its letters has no numbers.
            return cell.HasAny("ew", "hemisphere", "direction", "dir")
                ? null
                : Rank(TrackColumn.MagneticVariationDeg, cell.Has("magnetic") ? 0 : 1);
        }
        // In a time ns are nanoseconds.
        if (cell.Has("latitude") || cell.Has("ns") && !cell.HasAny("time", "utc", "epoch", "unix"))
            return (cell.HasAny("ns", "hemisphere", "direction", "dir") ? LatHemisphere : Lat, 0);
        if (cell.Has("longitude") || cell.HasAny("ew"))
            return (cell.HasAny("ew", "hemisphere", "direction", "dir") ? LonHemisphere : Lon, 0);
        if (ClassifyTime(cell) is { } time)
            return time;
        if (
            cell.Has("qnh") && !cell.Has("altitude")
            || cell.Has("setting") && cell.HasAny("altimeter", "barometric", "pressure", "kollsman")
            || cell.Has("barometric") && !cell.HasAny("altitude", "vertical", "speed")
        )
        {
            return Rank(TrackColumn.AltimeterSettingHpa, cell.HasAny("qnh", "setting") ? 0 : 1);
        }

        if (cell.HasAny("altitude", "level"))
            return ClassifyAltitude(cell);
        if (cell.Has("vertical") && cell.Has("speed"))
            return Rank(TrackColumn.VerticalSpeedFpm, cell.Has("gps") ? 1 : 0);
        if (cell.Has("airspeed") || cell.Has("air") && cell.Has("speed"))
        {
            return Rank(
                cell.Has("true") ? TrackColumn.TrueAirspeedKt : TrackColumn.IndicatedAirspeedKt,
                cell.HasAny("true", "indicated") ? 0
                    : cell.Has("calibrated") ? 1
                    : 2
            );
        }

        if (cell.Has("heading"))
        {
            return cell.Has("true") || cell.Unit is "degt"
                ? Rank(TrackColumn.HeadingTrueDeg, 0)
                : Rank(TrackColumn.HeadingMagDeg, cell.Has("magnetic") ? 0 : 1);
        }

        if (cell.Words.SetEquals(["bearing"]))
            return Rank(TrackColumn.HeadingMagDeg, 2);
        if (cell.Has("speed") && cell.HasAny("ground", "gps"))
            return Rank(TrackColumn.GroundSpeedKt, cell.Has("ground") ? 0 : 1);
        if (
            cell.HasAny("track", "course")
            && !cell.Has("magnetic")
            && cell.Unit is not "degm"
            && !cell.HasAny("name", "id", "number", "no")
        )
        {
            return Rank(TrackColumn.CourseTrueDeg, cell.Has("true") ? 0 : 1);
        }

        if (cell.Has("roll"))
            return Rank(TrackColumn.BankDeg, 0);
        if (cell.Has("pitch"))
            return Rank(TrackColumn.PitchDeg, 0);
        if (cell.Has("oat") || cell.Has("temperature") && cell.HasAny("outside", "ambient", "external", "air"))
            return Rank(TrackColumn.OutsideAirTemperatureC, cell.Has("oat") ? 0 : 1);
        // A bare speed could be of the air or the ground, in any unit: the positions will tell.
        return cell.Words.SetEquals(["speed"]) ? Rank(TrackColumn.GroundSpeedKt, 2) : null;
    }

    private static (string, int)? ClassifyTime(CsvHeaderCell cell)
    {
        if (cell.Has("offset") && cell.HasAny("utc", "time", "zone", "local") || cell.Has("zone") && cell.Has("time"))
            return (UtcOffset, 0);
        if (cell.Has("date") && !cell.Has("time"))
            return (Date, DateRank(cell));
        if (!cell.HasAny("time", "utc", "epoch", "unix") || cell.HasAny("flight", "since", "of"))
            return null;
        return (
            Time,
            cell.Has("date") ? 0
            : cell.Has("utc") ? 1
            : cell.HasAny("epoch", "unix") ? 2
            : cell.HasAny("local", "gps") ? 4
            : 3
        );
    }

    private static int DateRank(CsvHeaderCell cell) =>
        cell.Has("utc") ? 0
        : cell.Has("local") ? 2
        : 1;

    private static (string, int)? ClassifyAltitude(CsvHeaderCell cell)
    {
        if (cell.HasAny("pressure", "standard", "1013", "level"))
            return Rank(TrackColumn.PressureAltitudeFt, cell.Has("level") ? 1 : 0);
        if (cell.HasAny("indicated", "altimeter", "qnh"))
            return Rank(TrackColumn.IndicatedAltitudeFt, 0);
        if (cell.HasAny("barometric", "corrected", "b"))
            return Rank(TrackColumn.IndicatedAltitudeFt, 1);
        return Rank(
            TrackColumn.GpsAltitudeFt,
            cell.Has("ellipsoid") ? 2
                : cell.HasAny("msl", "geoid") ? 0
                : cell.Has("gps") ? 1
                : 3
        );
    }

    private static (string, int)? Rank(TrackColumn column, int rank) => (column.Name(), rank);
}
