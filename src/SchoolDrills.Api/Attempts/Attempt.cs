using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>A recording flown for a drill, with what lists and ribbons show of its newest report.</summary>
internal sealed class Attempt : IStudentWork, IAudited
{
    private static readonly string[] Audited = [nameof(Status), nameof(Verdict), nameof(WithinShare), nameof(LatestReportId)];

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid StudentId { get; init; }

    public Person Student { get; private init; } = null!;

    public Guid? AssignmentId { get; init; }

    public required Guid DrillVersionId { get; init; }

    public DrillVersion DrillVersion { get; private init; } = null!;

    /// <summary>Slug of the aircraft profile it was flown in; null where nobody said.</summary>
    public string? Aircraft { get; init; }

    public required Guid UploadedById { get; init; }

    public Person UploadedBy { get; private init; } = null!;

    public required DateTimeOffset UploadedAtUtc { get; init; }

    /// <summary>Since when it waits for the score that is due now; null where that is since its upload.</summary>
    public DateTimeOffset? QueuedAtUtc { get; set; }

    public required string FileName { get; init; }

    public required long FileBytes { get; init; }

    /// <summary>Of the bytes as sent, lower-case hexadecimal.</summary>
    public required string Sha256 { get; init; }

    public required AttemptMeta Meta { get; set; }

    public AttemptStatus Status { get; set; } = AttemptStatus.Queued;

    /// <summary>What the worker is doing, while it is.</summary>
    public string? Stage { get; set; }

    /// <summary>Why it could not be scored.</summary>
    public string? Reason { get; set; }

    /// <summary>Of hosts of the version before, which had a job for each attempt; nothing here reads it.</summary>
    public string? JobId { get; set; }

    /// <summary>The W3C trace of the request that had it scored, with which the score's log lines and spans go on.</summary>
    public string? TraceParent { get; set; }

    /// <summary>
    /// Rises with every change of what it is scored with. Who writes it over another's change is refused, a slower worker too.
    /// </summary>
    public int Revision { get; set; }

    /// <summary>Version of the engine that last finished with it, report or not; what an older one scored may be rescored.</summary>
    public string? ScoredWith { get; set; }

    public Guid? LatestReportId { get; set; }

    public ScoreReportRow? LatestReport { get; private init; }

    /// <summary>Airspeed was recorded in the aircraft, by the newest report.</summary>
    public bool HasAirData { get; set; }

    /// <summary>When its grade was first signed; the database keeps it (db/policies/45-tallies.sql).</summary>
    public DateTimeOffset? GradedAtUtc { get; private init; }

    /// <summary>Since when its newest signed grade waits for the student to read it; kept likewise.</summary>
    public DateTimeOffset? UnreadSinceUtc { get; private init; }

    /// <summary>The drill's found start, else the recording's first sample.</summary>
    public DateTimeOffset? FlownAtUtc { get; set; }

    /// <summary>
    /// Where it stands in lists: when it was flown, else when it was sent. A column of its own, since under row-level security an
    /// index of an expression is not searched.
    /// </summary>
    public DateTimeOffset PlacedAtUtc { get; private init; }

    public double? WithinShare { get; set; }

    public Verdict? Verdict { get; set; }

    public IReadOnlyList<RibbonSegment> Ribbon { get; set; } = [];

    public List<Grade> Grades { get; private init; } = [];

    public List<AttemptCorrection> Corrections { get; private init; } = [];

    /// <summary>What is set by hand just now, of corrections that were loaded; null where the engine's own boundaries stand.</summary>
    public AttemptCorrection? StandingCorrection => Corrections.MaxBy(c => c.Revision) is { Undone: false } standing ? standing : null;

    /// <summary>The newest revision that was no correction: what the engine's own report is about.</summary>
    public int OwnRevision
    {
        get
        {
            var revision = Revision;
            while (Corrections.Any(c => c.Revision == revision))
                revision--;
            return revision;
        }
    }

    Guid IAudited.AuditSubjectId => Id;

    IReadOnlyList<string> IAudited.AuditedProperties => Audited;

    private sealed class Configuration : IEntityTypeConfiguration<Attempt>
    {
        public void Configure(EntityTypeBuilder<Attempt> builder)
        {
            builder.HasOne(a => a.Student).WithMany().HasForeignKey(a => a.StudentId).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(a => a.UploadedBy).WithMany().HasForeignKey(a => a.UploadedById).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(a => a.DrillVersion).WithMany().HasForeignKey(a => a.DrillVersionId).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(a => a.LatestReport).WithMany().HasForeignKey(a => a.LatestReportId).OnDelete(DeleteBehavior.SetNull);
            builder.Property(a => a.Aircraft).HasMaxLength(100);
            builder.Property(a => a.FileName).HasMaxLength(200);
            builder.Property(a => a.Sha256).HasMaxLength(64);
            builder.Property(a => a.Status).HasWord();
            builder.Property(a => a.Verdict).HasWord();
            builder.Property(a => a.Stage).HasMaxLength(40);
            builder.Property(a => a.JobId).HasMaxLength(40);
            builder.Property(a => a.TraceParent).HasMaxLength(55);
            builder.Property(a => a.Revision).IsConcurrencyToken();
            builder.Property(a => a.ScoredWith).HasMaxLength(40);
            builder.Ignore(a => a.StandingCorrection);
            builder.Ignore(a => a.OwnRevision);
            builder.Property(a => a.Meta).HasJson(WireJson.Default.AttemptMeta);
            builder.Property(a => a.Ribbon).HasJson(WireJson.Default.IReadOnlyListRibbonSegment);
            builder.HasIndex(a => new { a.AssignmentId, a.Sha256 }).IsUnique();
            builder
                .HasIndex(a => new
                {
                    a.StudentId,
                    a.DrillVersionId,
                    a.Sha256,
                })
                .IsUnique()
                .HasFilter("assignment_id is null");
            builder.Property(a => a.PlacedAtUtc).HasComputedColumnSql("coalesce(flown_at_utc, uploaded_at_utc)", stored: true);
            builder
                .HasIndex(a => new
                {
                    a.SchoolId,
                    a.PlacedAtUtc,
                    a.Id,
                })
                .IsDescending(false, true, true)
                // With what decides who sees it and what lists choose by, so that rows are opened for what is shown alone.
                .IncludeProperties(a => new { a.StudentId, a.DrillVersionId })
                .HasDatabaseName("ix_attempts_school_by_flight");
            builder
                .HasIndex(a => new
                {
                    a.StudentId,
                    a.PlacedAtUtc,
                    a.Id,
                })
                .IsDescending(false, true, true)
                .IncludeProperties(a => a.SchoolId)
                .HasDatabaseName("ix_attempts_student_by_flight");
            builder
                .HasIndex(a => a.StudentId)
                .HasFilter("verdict is null or flown_at_utc is null")
                .HasDatabaseName("ix_attempts_not_summarized");
            builder.HasIndex(a => new { a.StudentId, a.FlownAtUtc });
            builder.HasIndex(a => new { a.SchoolId, a.UploadedAtUtc });
            builder
                .HasIndex(a => new
                {
                    a.StudentId,
                    a.DrillVersionId,
                    a.FlownAtUtc,
                })
                .HasFilter("verdict is not null");
            builder
                .HasIndex(a => new { a.SchoolId, a.FlownAtUtc })
                .HasFilter("verdict is not null and graded_at_utc is null")
                .HasDatabaseName("ix_attempts_ungraded");
            builder
                .HasIndex(a => new { a.StudentId, a.UploadedAtUtc })
                .HasFilter("verdict is not null and graded_at_utc is null")
                .HasDatabaseName("ix_attempts_to_grade");
            builder.HasIndex(a => new { a.SchoolId, a.ScoredWith });
            builder
                .HasIndex(a => new { a.SchoolId, a.UnreadSinceUtc })
                .HasFilter("unread_since_utc is not null")
                .HasDatabaseName("ix_attempts_unread");
            // Named here, since the same columns without a filter are an index of their own.
            builder.HasIndex(a => new { a.SchoolId, a.UploadedAtUtc }, "ix_attempts_unscorable").HasFilter("status = 'unscorable'");
            builder.HasIndex(a => a.UploadedAtUtc).HasFilter("status in ('queued', 'scoring')").HasDatabaseName("ix_attempts_unscored");
        }
    }
}
