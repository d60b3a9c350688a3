namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Finds altitude columns that hold metres under a header that says feet, by the vertical speed recorded beside them: over windows of
/// half a minute an altitude in metres changes by 0.3048 of what the vertical speed adds up to in feet.
/// </summary>
internal static class CsvAltitudeCheck
{
    public static void Correct(CsvHeader header, TrackBuilder builder)
    {
    }
}
