using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Fleet;

/// <summary>An aircraft profile as it is typed.</summary>
internal sealed class AircraftDraft
{
    public string Slug { get; set; } = "";

    public string Title { get; set; } = "";

    public string Basis { get; set; } = "";

    public double? LowestAirspeedKt { get; set; }

    public double? DrillAirspeedKt { get; set; }

    public double? HighestAirspeedKt { get; set; }

    public double? ClimbAirspeedKt { get; set; }

    public double? SeaLevelClimbFpm { get; set; }

    public double? ServiceCeilingFt { get; set; }

    public double? SteepestBankDeg { get; set; }

    public List<Row> Rows { get; } = [];

    public sealed class Row
    {
        public double? DensityAltitudeFt { get; set; }

        public double? ClimbFpm { get; set; }
    }

    public static AircraftDraft From(AircraftProfile profile, string slug)
    {
        var draft = new AircraftDraft
        {
            Slug = slug,
            Title = slug == profile.Slug ? profile.Title : T["{0}, another", profile.Title],
            Basis = profile.Basis,
            LowestAirspeedKt = profile.LowestAirspeedKt,
            DrillAirspeedKt = profile.DrillAirspeedKt,
            HighestAirspeedKt = profile.HighestAirspeedKt,
            ClimbAirspeedKt = profile.ClimbAirspeedKt,
            SeaLevelClimbFpm = profile.SeaLevelClimbFpm,
            ServiceCeilingFt = profile.ServiceCeilingFt,
            SteepestBankDeg = profile.SteepestBankDeg,
        };
        draft.Rows.AddRange(
            (profile.ClimbTable ?? []).Select(r => new Row { DensityAltitudeFt = r.DensityAltitudeFt, ClimbFpm = r.ClimbFpm })
        );
        return draft;
    }

    /// <summary>What would be sent; a number that is not there is one that no profile may have, and is told as such.</summary>
    public AircraftProfile Profile() =>
        new()
        {
            Slug = Slug.Trim(),
            Title = Title.Trim(),
            Basis = Basis.Trim(),
            LowestAirspeedKt = LowestAirspeedKt ?? double.NaN,
            DrillAirspeedKt = DrillAirspeedKt ?? double.NaN,
            HighestAirspeedKt = HighestAirspeedKt ?? double.NaN,
            ClimbAirspeedKt = ClimbAirspeedKt ?? double.NaN,
            SeaLevelClimbFpm = SeaLevelClimbFpm ?? double.NaN,
            ServiceCeilingFt = ServiceCeilingFt ?? double.NaN,
            SteepestBankDeg = SteepestBankDeg,
            ClimbTable =
                Rows.Count == 0 ? null : [.. Rows.Select(r => new ClimbRate(r.DensityAltitudeFt ?? double.NaN, r.ClimbFpm ?? double.NaN))],
        };
}
