using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Contracts;

/// <summary>A line of the catalogue.</summary>
/// <param name="State"><c>draft</c>, <c>published</c> or <c>retired</c>.</param>
/// <param name="Level">Difficulty, 1 to 5.</param>
public sealed record DrillSummary(
    string Slug,
    int Version,
    string Title,
    string Purpose,
    double DurationS,
    int SegmentCount,
    int Level,
    string State,
    string StandardSlug
);

/// <summary>A drill with everything that is known of it.</summary>
public sealed record DrillDetail(DrillSummary Summary, DrillTemplate Template);

/// <summary>Path of a drill over still air, for drawing it: metres east and north of the entry, one column a quantity.</summary>
public sealed record DrillPicture(double[] TimeS, double[] EastM, double[] NorthM, double[] AltitudeFt, int[] SegmentIndex);
