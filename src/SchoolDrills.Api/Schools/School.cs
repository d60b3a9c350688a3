using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Schools;

internal sealed class School
{
    /// <summary>The scale a fresh school starts with.</summary>
    public static readonly IReadOnlyList<GradeWord> UsualScale =
    [
        new("not-yet", "Not yet", 1),
        new("with-help", "With help", 2),
        new("to-standard", "To standard", 3),
        new("above-standard", "Above standard", 4),
    ];

    public Guid Id { get; init; }

    public required string Name { get; set; }

    /// <summary>IANA name.</summary>
    public required string TimeZone { get; set; }

    public IReadOnlyList<GradeWord> GradeScale { get; set; } = UsualScale;

    /// <summary>The day it is at the school.</summary>
    public DateOnly Today(DateTimeOffset now) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(now, TimeZoneInfo.FindSystemTimeZoneById(TimeZone)).Date);

    private sealed class Configuration : IEntityTypeConfiguration<School>
    {
        public void Configure(EntityTypeBuilder<School> builder)
        {
            builder.Property(s => s.Name).HasMaxLength(200);
            builder.Property(s => s.TimeZone).HasMaxLength(100);
            builder.Property(s => s.GradeScale).HasJson(WireJson.Default.IReadOnlyListGradeWord);
        }
    }
}
