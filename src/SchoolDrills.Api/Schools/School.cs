using System.Globalization;
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

    /// <summary>How a fresh school grades: remarks that every instructor has written a hundred times, and the usual words for the engine's verdicts.</summary>
    public static readonly GradingSettings UsualGrading = new(
        [
            "Start the turn on the clock.",
            "Lead the roll-out by half the bank.",
            "Trim, then look away.",
            "Chased the vertical speed; fly pitch, then wait.",
            "One instrument too long: keep the scan moving.",
            "Altitude slipped when the radio came on.",
            "Saw it and brought it back promptly.",
            "Smooth and ahead of the aeroplane.",
        ],
        Suggestions: new GradeSuggestions("to-standard", "with-help", "not-yet"));

    public Guid Id { get; init; }

    public required string Name { get; set; }

    /// <summary>IANA name.</summary>
    public required string TimeZone { get; set; }

    public IReadOnlyList<GradeWord> GradeScale { get; set; } = UsualScale;

    public GradingSettings Grading { get; set; } = UsualGrading;

    /// <summary>The day it is at the school.</summary>
    public DateOnly Today(DateTimeOffset now) => DayOf(now);

    public DateOnly DayOf(DateTimeOffset at) => DateOnly.FromDateTime(Here(at).Date);

    /// <summary>14:05.</summary>
    public string Clock(DateTimeOffset at) => Here(at).ToString("HH:mm", CultureInfo.InvariantCulture);

    private DateTimeOffset Here(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, TimeZoneInfo.FindSystemTimeZoneById(TimeZone));

    private sealed class Configuration : IEntityTypeConfiguration<School>
    {
        public void Configure(EntityTypeBuilder<School> builder)
        {
            builder.Property(s => s.Name).HasMaxLength(200);
            builder.Property(s => s.TimeZone).HasMaxLength(100);
            builder.Property(s => s.Grading).HasJson(WireJson.Default.GradingSettings);
            builder.Property(s => s.GradeScale).HasJson(WireJson.Default.IReadOnlyListGradeWord);
        }
    }
}
