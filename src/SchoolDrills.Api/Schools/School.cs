using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Api.Schools;

internal sealed class School : IAudited
{
    private static readonly string[] Audited =
    [
        nameof(Name),
        nameof(TimeZone),
        nameof(GradeScale),
        nameof(Grading),
        nameof(InstructorsSeeOwnStudentsOnly),
        nameof(InstructorsDraft),
        nameof(RetentionRules),
        nameof(RetentionOwnYears),
        nameof(Stages),
        nameof(DueInDays),
        nameof(SoonDays),
        nameof(DigestHour),
    ];

    /// <summary>The scale a fresh school starts with.</summary>
    public static readonly IReadOnlyList<GradeWord> UsualScale =
    [
        new("not-yet", "Not yet", 1),
        new("with-help", "With help", 2),
        new("to-standard", "To standard", 3),
        new("above-standard", "Above standard", 4),
    ];

    /// <summary>
    /// How a fresh school grades: remarks that every instructor has written a hundred times, and the usual words for the engine's
    /// verdicts.
    /// </summary>
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
        Suggestions: new GradeSuggestions("to-standard", "with-help", "not-yet")
    );

    public Guid Id { get; init; }

    public required string Name { get; set; }

    /// <summary>IANA name.</summary>
    public required string TimeZone { get; set; }

    public IReadOnlyList<GradeWord> GradeScale { get; set; } = UsualScale;

    public GradingSettings Grading { get; set; } = UsualGrading;

    /// <summary>Instructors see the records of students they gave an assignment to, and no others.</summary>
    public bool InstructorsSeeOwnStudentsOnly { get; set; }

    /// <summary>Instructors may draft drills.</summary>
    public bool InstructorsDraft { get; set; }

    /// <summary>Slugs of <see cref="Schools.RetentionRules"/> that bind the school.</summary>
    public string[] RetentionRules { get; set; } = Schools.RetentionRules.Usual;

    /// <summary>Years the school itself wants records kept.</summary>
    public int RetentionOwnYears { get; set; }

    /// <summary>Stages of training, in their order; null until the chief sets some.</summary>
    public IReadOnlyList<TrainingStage>? Stages { get; set; }

    /// <summary>Days from today to the due day of a drill assigned in one go.</summary>
    public int DueInDays { get; set; } = 7;

    /// <summary>Days before the due day on which a student is reminded.</summary>
    public int SoonDays { get; set; } = 2;

    /// <summary>Hour of the school's day from which the daily mail is sent.</summary>
    public int DigestHour { get; set; } = 7;

    /// <summary>Steps of the guide for a new school that its chief skipped.</summary>
    public string[] StartSkipped { get; set; } = [];

    /// <summary>A chief has put the guide for a new school away.</summary>
    public bool StartDismissed { get; set; }

    /// <summary>When a chief first had a recording scored without keeping it: nothing else of that is left.</summary>
    public DateTimeOffset? RecordingTriedAtUtc { get; set; }

    /// <summary>Since when the operator has the school suspended: nobody comes in until it is resumed.</summary>
    public DateTimeOffset? SuspendedAtUtc { get; set; }

    /// <summary>Bytes of recordings that the operator lets it keep; null for what the installation says.</summary>
    public long? MostStoredBytes { get; set; }

    /// <summary>Recordings that the operator lets it send in an hour; null for what the installation says.</summary>
    public int? MostUploadsAnHour { get; set; }

    /// <summary>Bytes of its recordings as they are kept; the database counts them (db/policies/46-storage.sql).</summary>
    public long StoredBytes { get; private init; }

    /// <summary>When one of its recordings was last taken to be scored; kept by lookup.claim_recording.</summary>
    public DateTimeOffset? ScoringServedAtUtc { get; private init; }

    /// <summary>By which version of the tallies its work was counted, see <c>DatabaseTallies</c>.</summary>
    public int TalliesVersion { get; private init; }

    /// <summary>The day it is at the school.</summary>
    public DateOnly Today(DateTimeOffset now) => DayOf(now);

    /// <summary>The day at the school on which an instant falls.</summary>
    public DateOnly DayOf(DateTimeOffset instant) => DateOnly.FromDateTime(Here(instant).Date);

    /// <summary>The instant at which a day at the school begins.</summary>
    public DateTimeOffset StartOf(DateOnly day)
    {
        var start = day.ToDateTime(TimeOnly.MinValue);
        // Where the clocks go forward at midnight, the day begins later than at 0:00.
        while (Zone.IsInvalidTime(start))
            start = start.AddMinutes(15);
        return new DateTimeOffset(TimeZoneInfo.ConvertTimeToUtc(start, Zone), TimeSpan.Zero);
    }

    /// <summary>What the clock at the school says, 0 to 23.</summary>
    public int HourOf(DateTimeOffset instant) => Here(instant).Hour;

    /// <summary>14:05.</summary>
    public string Clock(DateTimeOffset instant) => Here(instant).ToString("HH:mm", CultureInfo.InvariantCulture);

    private TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(TimeZone);

    private DateTimeOffset Here(DateTimeOffset instant) => TimeZoneInfo.ConvertTime(instant, Zone);

    Guid IAudited.AuditSubjectId => Id;

    IReadOnlyList<string> IAudited.AuditedProperties => Audited;

    private sealed class Configuration : IEntityTypeConfiguration<School>
    {
        public void Configure(EntityTypeBuilder<School> builder)
        {
            builder.Property(s => s.Name).HasMaxLength(200);
            builder.Property(s => s.TimeZone).HasMaxLength(100);
            builder.Property(s => s.StoredBytes).HasDefaultValue(0L);
            builder.Property(s => s.TalliesVersion).HasDefaultValue(0);
            builder.Property(s => s.Grading).HasJson(WireJson.Default.GradingSettings);
            builder.Property(s => s.Stages).HasJson(WireJson.Default.IReadOnlyListTrainingStage!);
            builder.Property(s => s.StartSkipped).HasDefaultValueSql("'{}'");
            builder.Property(s => s.GradeScale).HasJson(WireJson.Default.IReadOnlyListGradeWord);
        }
    }
}
