using System.Xml;

namespace SchoolDrills.Engine.Tracks;

internal static class KmlReader
{
    public static void Read(XmlReader xml, TrackBuilder builder) => throw TrackRefusedException.UnknownFormat("KML comes next.");
}
