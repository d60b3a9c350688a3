using System.Globalization;
using System.Text;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>One flight written in the layouts that recorders and exports have besides the usual ones.</summary>
internal static class Layouts
{
    /// <summary>The layouts, and to how many degrees each rounds positions.</summary>
    public static readonly IReadOnlyDictionary<string, double> All = new Dictionary<string, double>
    {
        ["gpx"] = 5e-8,
        ["kml"] = 5e-8,
        ["tcx"] = 5e-8,
        ["nmea among binary"] = 0.00005 / 60,
        ["pair"] = 5e-8,
        ["pair of letters"] = 5e-8,
        ["sides in columns"] = 5e-8,
        ["sides in headers"] = 5e-8,
        ["units in cells"] = 5e-8,
        ["panel"] = 5e-8,
        ["panel of UTC"] = 5e-8,
        ["two headers"] = 5e-8,
        ["nanoseconds"] = 5e-8,
        ["space of a card"] = 5e-8,
        ["variation"] = 5e-8,
    };

    public static byte[] Write(string layout, Track track)
    {
        if (layout == "nmea among binary")
            return Nmea(track);
        var text = new StringBuilder(Head(layout, track));
        for (var i = 0; i < track.Count; i++)
            text.Append(Record(layout, track, i)).Append('\n');
        text.Append(
            layout switch
            {
                "gpx" => "</trkseg></trk></gpx>",
                "kml" => "</gx:Track></Placemark></Document></kml>",
                "tcx" => "</Track></Lap></Activity></Activities></TrainingCenterDatabase>",
                _ => "",
            }
        );
        byte[] bytes = Encoding.UTF8.GetBytes(text.ToString());
        return layout == "space of a card" ? [.. bytes, .. new byte[40_000]] : bytes;
    }

    private static string Head(string layout, Track track) =>
        layout switch
        {
            "gpx" => "<gpx version=\"1.1\" creator=\"t\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>\n",
            "kml" => "<kml xmlns=\"http://www.opengis.net/kml/2.2\" xmlns:gx=\"http://www.google.com/kml/ext/2.2\">"
                + "<Document><Placemark><gx:Track>\n",
            "tcx" => "<?xml version=\"1.0\"?>\n<TrainingCenterDatabase xmlns=\"urn:tcx\"><Activities><Activity><Lap><Track>\n",
            "pair" => "timestamp,position,altitude (m)\n",
            "pair of letters" => "time;location;elevation\n",
            "sides in columns" => "INDEX,TAG,DATE,TIME,LATITUDE N/S,LONGITUDE E/W,HEIGHT\n",
            "sides in headers" => $"utc_d,utc_t,lat {North(track.LatDeg[0])},lon {East(track.LonDeg[0])},alt m\n",
            "units in cells" => "time|lat|lon|altitude\n",
            "panel" => "#panel,version=2\n#yyyy-mm-dd,hh:mm:ss,hh:mm:ss,hh:mm,degrees,degrees,ft msl\n"
                + "Date,Time,UTC Time,UTC Offset,Latitude,Longitude,AltMSL\n",
            "panel of UTC" => "Local Date,UTC Time,UTC Offset,Latitude,Longitude,GPS Alt [ft]\n",
            "two headers" => "Date Time UTC,Latitude,Longitude,GPS Altitude\nutc,lat,lon,alt\niso8601,deg,deg,m\n",
            "nanoseconds" => "t_utc\tlatitude\tlongitude\tgps alt m\n",
            "variation" => "utc,lat,lon,gps alt m,TRK,MagVar (deg)\n",
            _ => "utc,lat,lon,gps alt m\n",
        };

    private static string Record(string layout, Track track, int i)
    {
        var utc = Recording.TimeOf(track, i).UtcDateTime;
        var local = utc.AddHours(13);
        var (latDeg, lonDeg, altitudeFt) = (track.LatDeg[i], track.LonDeg[i], track.GpsAltitudeFt![i]);
        var (lat, lon) = (Number(latDeg, 7), Number(lonDeg, 7));
        var (size, wide) = (Number(Math.Abs(latDeg), 7), Number(Math.Abs(lonDeg), 7));
        var (ns, ew) = (North(latDeg), East(lonDeg));
        var metres = Number(altitudeFt * 0.3048, 2);
        var iso = utc.ToString("yyyy-MM-ddTHH:mm:ss.fffZ", CultureInfo.InvariantCulture);
        return layout switch
        {
            "gpx" => $"<trkpt lat=\"{lat}\" lon=\"{lon}\"><ele>{metres}</ele><time>{iso}</time></trkpt>",
            "kml" => $"<when>{iso}</when><gx:coord>{lon} {lat} {metres}</gx:coord>",
            "tcx" => $"<Trackpoint><Time>{iso}</Time><Position><LatitudeDegrees>{lat}</LatitudeDegrees>"
                + $"<LongitudeDegrees>{lon}</LongitudeDegrees></Position><AltitudeMeters>{metres}</AltitudeMeters></Trackpoint>",
            "pair" => $"{iso},\"{lat},{lon}\",{metres}",
            "pair of letters" => $"{iso};{size}{ns} {wide}{ew};{metres}",
            "sides in columns" => $"{i},T,{Text(utc, "yyMMdd")},{Text(utc, "HHmmss")},{size}{ns},{wide}{ew},{metres}",
            "sides in headers" => $"{Text(utc, "yyyyMMdd")},{Text(utc, "HH:mm:ss")},{size},{wide},{metres}",
            "units in cells" => $"{iso}|{lat}°|{lon}°|{metres} m",
            "panel" =>
                $"{Text(local, "yyyy-MM-dd")},{Text(local, "HH:mm:ss")},{Text(utc, "HH:mm:ss")},+13:00,{lat},{lon},{Number(altitudeFt, 1)}",
            "panel of UTC" => $"{Text(local, "yyyy-MM-dd")},{Text(utc, "HH:mm:ss")},+13:00,{lat},{lon},{Number(altitudeFt, 1)}",
            "nanoseconds" => $"{(utc - DateTime.UnixEpoch).Ticks}00\t{lat}\t{lon}\t{metres}",
            "variation" => $"{iso},{lat},{lon},{metres},{Number(i % 360, 0)},{Number(24.7 - (i % 7), 1)}",
            _ => $"{iso},{lat},{lon},{metres}",
        };
    }

    private static byte[] Nmea(Track track)
    {
        var random = new Random(20261127);
        var log = new List<byte>();
        for (var i = 0; i < track.Count; i++)
        {
            var utc = Recording.TimeOf(track, i).UtcDateTime;
            var (latDeg, lonDeg) = (track.LatDeg[i], track.LonDeg[i]);
            var at = $"{Packed(latDeg, 2)},{North(latDeg)},{Packed(lonDeg, 3)},{East(lonDeg)}";
            Sentence($"GNGGA,{Text(utc, "HHmmss")},{at},1,08,0.9,{Number(track.GpsAltitudeFt![i] * 0.3048, 2)},M,46.9,M,,");
            // A receiver's own message: sync, class, id, length, payload, checksum.
            var payload = new byte[random.Next(8, 200)];
            random.NextBytes(payload);
            log.AddRange([0xB5, 0x62, 0x01, 0x07, (byte)payload.Length, 0, .. payload, 1, 2]);
            Sentence($"GNRMC,{Text(utc, "HHmmss")},A,{at},22.4,84.4,{Text(utc, "ddMMyy")},,");
        }
        return [.. log];

        void Sentence(string body) => log.AddRange(Encoding.ASCII.GetBytes($"${body}*{body.Aggregate(0, (sum, c) => sum ^ c):X2}\r\n"));
    }

    private static string Packed(double deg, int digits)
    {
        var units = (long)Math.Round(Math.Abs(deg) * 600_000);
        return (units / 600_000).ToString("D" + digits, CultureInfo.InvariantCulture)
            + (units % 600_000 / 10_000m).ToString("00.0000", CultureInfo.InvariantCulture);
    }

    private static char North(double latDeg) => latDeg < 0 ? 'S' : 'N';

    private static char East(double lonDeg) => lonDeg < 0 ? 'W' : 'E';

    private static string Number(double value, int digits) => value.ToString("F" + digits, CultureInfo.InvariantCulture);

    private static string Text(DateTime time, string form) => time.ToString(form, CultureInfo.InvariantCulture);
}
