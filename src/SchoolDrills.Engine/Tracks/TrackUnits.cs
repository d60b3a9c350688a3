namespace SchoolDrills.Engine.Tracks;

internal static class TrackUnits
{
    public const double FtPerM = 1 / 0.3048;
    public const double KtPerMPerS = 3600 / 1852.0;
    public const double KtPerKmh = 1 / 1.852;
    public const double KtPerMph = 1.609344 / 1.852;
    public const double FpmPerMPerS = 60 / 0.3048;
    public const double HpaPerInHg = 33.8638866667;
}
