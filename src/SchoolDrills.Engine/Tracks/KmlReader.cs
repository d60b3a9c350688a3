using System.Globalization;
using System.Xml;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// KML 2.2 and 2.3 (OGC 12-007r2): tracks, in which the n-th <c>when</c> belongs to the n-th <c>coord</c> ("lon lat alt" separated by
/// blanks), and, in a file without such positions, placemarks with a time stamp and a point ("lon,lat,alt"); beside a track they are
/// waypoints. Altitude is metres above mean sea level unless the file says above ground.
/// </summary>
internal sealed class KmlReader
{
    private readonly XmlReader xml;
    private readonly TrackBuilder builder;
    private readonly TrackReadOptions options;
    private readonly char[] text = new char[128];
    private readonly List<Moment> whens = [];
    private readonly List<Place> coords = [];
    private readonly List<(Moment When, Place Where)> placemarks = [];
    private Moment stamp;
    private Place point;
    private bool aboveGround;
    private bool inTrack,
        inPoint,
        inStamp;
    private bool untimedPath;

    private KmlReader(XmlReader xml, TrackBuilder builder, TrackReadOptions options) =>
        (this.xml, this.builder, this.options) = (xml, builder, options);

    public static void Read(XmlReader xml, TrackBuilder builder, TrackReadOptions options)
    {
        var reader = new KmlReader(xml, builder, options);
        try
        {
            while (XmlTracks.Advance(xml))
                reader.Node();
        }
        catch (XmlException)
        {
            reader.PairUp(whole: false);
            reader.Placemarks();
            throw;
        }
        reader.Placemarks();
        if (builder.Count > 0)
        {
            builder.RemoveIfAllZero(TrackColumn.GpsAltitudeFt);
            return;
        }
        throw TrackRefusedException.Unreadable(
            reader.untimedPath ? "The KML file has a path without times, and a drill cannot be timed without; export the track with times."
            : builder.Dropped > 0 ? "None of the KML file's points has a usable time and position; export the recording again."
            : "The KML file has no track and no placemarks with a time stamp; export the track with times."
        );
    }

    private void Node()
    {
        var begins = xml.NodeType == XmlNodeType.Element;
        if (!begins && xml.NodeType != XmlNodeType.EndElement)
            return;
        var opens = begins && !xml.IsEmptyElement;
        switch (xml.LocalName)
        {
            case "Track":
                if (begins)
                    aboveGround = false;
                else
                    PairUp(whole: true);
                inTrack = opens;
                break;
            case "Placemark":
                if (!begins && stamp.Line > 0 && point.Line > 0)
                {
                    CheckCount(placemarks.Count);
                    placemarks.Add((stamp, point with { AboveGround = aboveGround }));
                }
                (stamp, point, aboveGround) = (default, default, false);
                break;
            case "Point":
                inPoint = opens;
                break;
            case "TimeStamp":
                inStamp = opens;
                break;
            case "when" when begins && inTrack:
                CheckCount(whens.Count);
                whens.Add(ReadWhen());
                break;
            case "when" when begins && inStamp:
                stamp = ReadWhen();
                break;
            case "coord" when begins && inTrack:
                CheckCount(coords.Count);
                coords.Add(ReadPlace(' '));
                break;
            case "coordinates" when begins && inPoint:
                point = ReadPlace(',');
                break;
            case "LineString" when begins:
                untimedPath = true;
                break;
            case "altitudeMode" when begins:
                aboveGround |= XmlTracks.Text(xml, text).Trim() is "relativeToGround" or "relativeToSeaFloor";
                break;
        }
    }

    private Moment ReadWhen()
    {
        var line = XmlTracks.Line(xml);
        var good = TimeText.TryParseIso(XmlTracks.Text(xml, text), out var utcTicks, out var hasZone);
        if (good && !hasZone)
            builder.Warn("The times carry no zone; they were taken as UTC.");
        return new Moment(line, good ? utcTicks : 0);
    }

    private Place ReadPlace(char separator)
    {
        var place = new Place(XmlTracks.Line(xml), double.NaN, double.NaN, double.NaN);
        var text = XmlTracks.Text(xml, this.text).Trim();
        Span<Range> parts = stackalloc Range[4];
        var count = text.Split(parts, separator, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (
            count is not (2 or 3)
            || !DecimalText.TryParse(text[parts[0]], out var lonDeg)
            || !DecimalText.TryParse(text[parts[1]], out var latDeg)
        )
        {
            return place;
        }

        var altitudeM = count == 3 && DecimalText.TryParse(text[parts[2]], out var metres) ? metres : double.NaN;
        return place with { LatDeg = latDeg, LonDeg = lonDeg, AltitudeM = altitudeM };
    }

    /// <summary>Joins the times and places of a track; of a truncated one, as many as there are both.</summary>
    private void PairUp(bool whole)
    {
        if (whole && whens.Count != coords.Count && whens.Count > 0 && coords.Count > 0)
        {
            throw TrackRefusedException.Unreadable(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The track that ends in line {XmlTracks.Line(xml)} has {whens.Count:N0} times for "
                        + $"{coords.Count:N0} positions, so they cannot be paired; export it again."
                ),
                XmlTracks.Line(xml)
            );
        }
        for (var i = 0; i < Math.Min(whens.Count, coords.Count); i++)
            Add(whens[i], coords[i] with { AboveGround = aboveGround });
        // A track of times alone, or of places alone, is no reason to refuse another.
        if (whole && whens.Count != coords.Count)
        {
            foreach (var line in whens.Select(w => w.Line).Concat(coords.Select(c => c.Line)))
                builder.Drop(line);
        }
        whens.Clear();
        coords.Clear();
    }

    /// <summary>The placemarks are the recording where no track is, else waypoints.</summary>
    private void Placemarks()
    {
        if (builder.Count == 0)
        {
            foreach (var (when, where) in placemarks)
                Add(when, where);
        }
        else if (placemarks.Count > 0)
        {
            builder.Warn(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{placemarks.Count:N0} {(placemarks.Count == 1 ? "placemark" : "placemarks")} with a time stamp beside the track "
                        + $"{(placemarks.Count == 1 ? "was" : "were")} left out as no part of it."
                )
            );
        }
    }

    private void Add(Moment when, Place place)
    {
        if (!builder.Add(when.UtcTicks, place.LatDeg, place.LonDeg, place.Line))
            return;
        if (place.AboveGround)
            builder.Warn("Altitudes are above ground, not above mean sea level, and were left out.");
        else
            builder.Set(TrackColumn.GpsAltitudeFt, Units.MToFt(place.AltitudeM));
    }

    private void CheckCount(int count)
    {
        if (count >= options.MaxSamples)
            throw builder.TooManySamples();
    }

    /// <summary>A time, and the line it stands in; no line means none, no ticks a time that could not be read.</summary>
    private readonly record struct Moment(int Line, long UtcTicks);

    private readonly record struct Place(int Line, double LatDeg, double LonDeg, double AltitudeM, bool AboveGround = false);
}
