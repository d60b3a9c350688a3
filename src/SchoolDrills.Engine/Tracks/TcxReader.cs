using System.Xml;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// TCX, version 2 of its schema: every track point of every lap, in file order. Altitude is metres, taken as above mean sea level; time is
/// UTC or has an offset; speed, m/s, stands in extensions.
/// </summary>
internal static class TcxReader
{
    public static void Read(XmlReader xml, TrackBuilder builder)
    {
        var text = new char[64];
        var points = 0;
        while (XmlTracks.Advance(xml))
        {
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName != "Trackpoint")
                continue;
            points++;
            ReadPoint(xml, builder, text);
        }
        if (builder.Count > 0)
            return;
        throw TrackRefusedException.Unreadable(
            points > 0
                ? "None of the track points has a usable time and position; export the recording again, with positions."
                : "The TCX file has no track points; check that the recorder was running and export the track again."
        );
    }

    private static void ReadPoint(XmlReader xml, TrackBuilder builder, char[] text)
    {
        var line = XmlTracks.Line(xml);
        var depth = xml.Depth;
        long utcTicks = 0;
        double latDeg = double.NaN,
            lonDeg = double.NaN,
            altitudeM = double.NaN,
            speedMps = double.NaN;
        if (xml.IsEmptyElement)
        {
            builder.Drop(line);
            return;
        }
        while (XmlTracks.Advance(xml) && !(xml.NodeType == XmlNodeType.EndElement && xml.Depth == depth))
        {
            if (xml.NodeType != XmlNodeType.Element || xml.IsEmptyElement)
                continue;
            switch (xml.LocalName)
            {
                case "Time":
                    var timed = TimeText.TryParseIso(XmlTracks.Text(xml, text), out utcTicks, out var hasZone);
                    if (timed && !hasZone)
                        builder.Warn("The times carry no zone; they were taken as UTC.");
                    break;
                case "LatitudeDegrees":
                    latDeg = XmlTracks.Number(xml, text);
                    break;
                case "LongitudeDegrees":
                    lonDeg = XmlTracks.Number(xml, text);
                    break;
                case "AltitudeMeters":
                    altitudeM = XmlTracks.Number(xml, text);
                    break;
                case "Speed":
                    speedMps = XmlTracks.Number(xml, text);
                    break;
            }
        }
        if (!builder.Add(utcTicks, latDeg, lonDeg, line))
            return;
        builder.Set(TrackColumn.GpsAltitudeFt, Units.MToFt(altitudeM));
        builder.Set(TrackColumn.GroundSpeedKt, Units.MpsToKt(speedMps));
    }
}
