using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Tests;

/// <summary>Grades of the sample school.</summary>
internal static partial class SampleSchool
{
    public static GradeView Grade(bool signed = true, string overall = "developing") =>
        new(
            new Guid("66666666-0000-0000-0000-000000000001"),
            overall,
            "Lead the roll-out by half the bank.",
            [new(1, "not-yet", "Late and slow to climb")],
            InstructorId,
            "Ilse Farrow",
            Now.AddHours(-1),
            signed ? Now.AddHours(-1) : null,
            null,
            null,
            null,
            []
        );
}
