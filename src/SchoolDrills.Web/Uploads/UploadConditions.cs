using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Uploads;

/// <summary>Conditions of a flight as they are being filled in; what is left empty is worked out from the recording.</summary>
public sealed class UploadConditions
{
    public double? HeadingMagDeg { get; set; }

    public double? AltitudeFt { get; set; }

    public double? AirspeedKt { get; set; }

    public double? QnhHpa { get; set; }

    public double? OatC { get; set; }

    public double? WindFromDegTrue { get; set; }

    public double? WindKt { get; set; }

    public AttemptMeta AddTo(AttemptMeta meta) =>
        meta with
        {
            HeadingMagDeg = HeadingMagDeg,
            AltitudeFt = AltitudeFt,
            AirspeedKt = AirspeedKt,
            QnhHpa = QnhHpa,
            OatC = OatC,
            WindFromDegTrue = WindFromDegTrue,
            WindKt = WindKt,
        };
}
