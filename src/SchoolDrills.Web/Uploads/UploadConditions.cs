using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Uploads;

/// <summary>Conditions of a flight as they are being filled in; what is left empty is worked out from the recording.</summary>
public sealed class UploadConditions
{
    /// <summary>Slug of the school's aircraft profile; empty where it is not said.</summary>
    public string? Aircraft { get; set; }

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
            Aircraft = string.IsNullOrEmpty(Aircraft) ? null : Aircraft,
            HeadingMagDeg = HeadingMagDeg,
            AltitudeFt = AltitudeFt,
            AirspeedKt = AirspeedKt,
            QnhHpa = QnhHpa,
            OatC = OatC,
            WindFromDegTrue = WindFromDegTrue,
            WindKt = WindKt,
        };
}
