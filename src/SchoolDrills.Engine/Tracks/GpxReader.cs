using System.Xml;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// GPX 1.0 and 1.1 (topografix.com/GPX/1/1): every point of every track segment, in file order. Elevation is metres, taken as above
/// mean sea level; time is UTC or has an offset. <c>speed</c> (m/s) and <c>course</c> (degrees true) are read where GPX 1.0 has them
/// and where extensions do.
/// </summary>
internal static class GpxReader
{
    public static void Read(XmlReader xml, TrackBuilder builder)
    {
        var text = new char[64];
        var untimed = 0;
        while (XmlTracks.Advance(xml))
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "trkpt")
                ReadPoint(xml, builder, text, ref untimed);
        }
        if (builder.Count > 0)
            return;
        throw TrackRefusedException.Unreadable(
            untimed > 0 ? "The track points carry no time, and a drill cannot be timed without; export the recording with times."
            : builder.Dropped > 0 ? "None of the track points has a usable time and position; export the recording again."
            : "The GPX file has no track points; check that the recorder was running and export the track again."
        );
    }

    private static void ReadPoint(XmlReader xml, TrackBuilder builder, char[] text, ref int untimed)
    {
        var line = XmlTracks.Line(xml);
        var depth = xml.Depth;
        double latDeg = double.NaN,
            lonDeg = double.NaN;
        for (var more = xml.MoveToFirstAttribute(); more; more = xml.MoveToNextAttribute())
        {
            if (xml.LocalName == "lat")
                latDeg = XmlTracks.Number(xml.Value);
            else if (xml.LocalName == "lon")
                lonDeg = XmlTracks.Number(xml.Value);
        }
        xml.MoveToElement();
        long utcTicks = 0;
        double elevationM = double.NaN,
            speedMps = double.NaN,
            courseDeg = double.NaN;
        var timed = false;
        if (!xml.IsEmptyElement)
        {
            while (XmlTracks.Advance(xml) && !(xml.NodeType == XmlNodeType.EndElement && xml.Depth == depth))
            {
                if (xml.NodeType != XmlNodeType.Element)
                    continue;
                switch (xml.LocalName)
                {
                    case "ele" when xml.Depth == depth + 1:
                        elevationM = XmlTracks.Number(xml, text);
                        break;
                    case "time" when xml.Depth == depth + 1:
                        timed = TimeText.TryParseIso(XmlTracks.Text(xml, text), out utcTicks, out var hasZone);
                        if (timed && !hasZone)
                            builder.Warn("The times carry no zone; they were taken as UTC.");
                        break;
                    case "speed":
                        speedMps = XmlTracks.Number(xml, text);
                        break;
                    case "course":
                        courseDeg = XmlTracks.Number(xml, text);
                        break;
                }
            }
        }
        if (!timed)
        {
            untimed++;
            builder.Drop(line);
            return;
        }
        if (!builder.Add(utcTicks, latDeg, lonDeg, line))
            return;
        builder.Set(TrackColumn.GpsAltitudeFt, Units.MToFt(elevationM));
        builder.Set(TrackColumn.GroundSpeedKt, Units.MpsToKt(speedMps));
        builder.Set(TrackColumn.CourseTrueDeg, courseDeg);
    }
}
