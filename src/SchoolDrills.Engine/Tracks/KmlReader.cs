using System.Globalization;
using System.Xml;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// KML 2.2 and 2.3 (OGC 12-007r2): tracks, in which the n-th <c>when</c> belongs to the n-th <c>coord</c> ("lon lat alt" separated by
/// blanks),
/// and placemarks with a time stamp and a point ("lon,lat,alt"). Altitude is metres above mean sea level unless the file says above ground.
/// </summary>
internal sealed class KmlReader
{
    private readonly XmlReader _xml;
    private readonly TrackBuilder _builder;
    private readonly TrackReadOptions _options;
    private readonly char[] _text = new char[128];
    private readonly List<Moment> _whens = [];
    private readonly List<Place> _coords = [];
    private Moment _stamp;
    private Place _point;
    private bool _aboveGround;
    private bool _inTrack,
        _inPoint,
        _inStamp;
    private bool _untimedPath;

    private KmlReader(XmlReader xml, TrackBuilder builder, TrackReadOptions options) =>
        (_xml, _builder, _options) = (xml, builder, options);

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
            throw;
        }
        if (builder.Count > 0)
        {
            builder.RemoveIfAllZero(TrackColumn.GpsAltitudeFt);
            return;
        }
        throw TrackRefusedException.Unreadable(
            reader._untimedPath ? "The KML file has a path without times, and a drill cannot be timed without; export the track with times."
            : builder.Dropped > 0 ? "None of the KML file's points has a usable time and position; export the recording again."
            : "The KML file has no track and no placemarks with a time stamp; export the track with times."
        );
    }

    private void Node()
    {
        var begins = _xml.NodeType == XmlNodeType.Element;
        if (!begins && _xml.NodeType != XmlNodeType.EndElement)
            return;
        var opens = begins && !_xml.IsEmptyElement;
        switch (_xml.LocalName)
        {
            case "Track":
                if (begins)
                    _aboveGround = false;
                else
                    PairUp(whole: true);
                _inTrack = opens;
                break;
            case "Placemark":
                if (!begins && _stamp.Line > 0 && _point.Line > 0)
                    Add(_stamp, _point);
                (_stamp, _point, _aboveGround) = (default, default, false);
                break;
            case "Point":
                _inPoint = opens;
                break;
            case "TimeStamp":
                _inStamp = opens;
                break;
            case "when" when begins && _inTrack:
                CheckCount(_whens.Count);
                _whens.Add(ReadWhen());
                break;
            case "when" when begins && _inStamp:
                _stamp = ReadWhen();
                break;
            case "coord" when begins && _inTrack:
                CheckCount(_coords.Count);
                _coords.Add(ReadPlace(' '));
                break;
            case "coordinates" when begins && _inPoint:
                _point = ReadPlace(',');
                break;
            case "LineString" when begins:
                _untimedPath = true;
                break;
            case "altitudeMode" when begins:
                _aboveGround |= XmlTracks.Text(_xml, _text).Trim() is "relativeToGround" or "relativeToSeaFloor";
                break;
        }
    }

    private Moment ReadWhen()
    {
        var line = XmlTracks.Line(_xml);
        var good = TimeText.TryParseIso(XmlTracks.Text(_xml, _text), out var utcTicks, out var hasZone);
        if (good && !hasZone)
            _builder.Warn("The times carry no zone; they were taken as UTC.");
        return new Moment(line, good ? utcTicks : 0);
    }

    private Place ReadPlace(char separator)
    {
        var place = new Place(XmlTracks.Line(_xml), double.NaN, double.NaN, double.NaN);
        var text = XmlTracks.Text(_xml, _text).Trim();
        Span<Range> parts = stackalloc Range[4];
        var count = text.Split(parts, separator, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (
            count is not (2 or 3)
            || !DecimalText.TryParse(text[parts[0]], out var lonDeg)
            || !DecimalText.TryParse(text[parts[1]], out var latDeg)
        )
            return place;
        var altitudeM = count == 3 && DecimalText.TryParse(text[parts[2]], out var metres) ? metres : double.NaN;
        return place with { LatDeg = latDeg, LonDeg = lonDeg, AltitudeM = altitudeM };
    }

    /// <summary>Joins the times and places of a track; of a truncated one, as many as there are both.</summary>
    private void PairUp(bool whole)
    {
        if (whole && _whens.Count != _coords.Count)
        {
            throw TrackRefusedException.Unreadable(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The track that ends in line {XmlTracks.Line(_xml)} has {_whens.Count:N0} times for "
                        + $"{_coords.Count:N0} positions, so they cannot be paired; export it again."
                ),
                XmlTracks.Line(_xml)
            );
        }
        for (var i = 0; i < Math.Min(_whens.Count, _coords.Count); i++)
            Add(_whens[i], _coords[i]);
        _whens.Clear();
        _coords.Clear();
    }

    private void Add(Moment when, Place place)
    {
        if (!_builder.Add(when.UtcTicks, place.LatDeg, place.LonDeg, place.Line))
            return;
        if (_aboveGround)
            _builder.Warn("Altitudes are above ground, not above mean sea level, and were left out.");
        else
            _builder.Set(TrackColumn.GpsAltitudeFt, Units.MToFt(place.AltitudeM));
    }

    private void CheckCount(int count)
    {
        if (count >= _options.MaxSamples)
            throw _builder.TooManySamples();
    }

    /// <summary>A time, and the line it stands in; no line means none, no ticks a time that could not be read.</summary>
    private readonly record struct Moment(int Line, long UtcTicks);

    private readonly record struct Place(int Line, double LatDeg, double LonDeg, double AltitudeM);
}
