using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>A report of one engine version about one attempt as it then stood. It never changes; re-scoring adds another.</summary>
internal sealed class ScoreReportRow : IAuditedBySystem
{
    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid AttemptId { get; init; }

    public required string EngineVersion { get; init; }

    /// <summary>Of the attempt, as it was scored.</summary>
    public required int Revision { get; init; }

    /// <summary>Made with what an instructor set by hand; the engine's own otherwise.</summary>
    public required bool Corrected { get; init; }

    public required DateTimeOffset ScoredAtUtc { get; init; }

    public required ScoreReport Report { get; init; }

    /// <summary>The report's overall verdict, kept by the database beside the report so that it need not be opened for one word.</summary>
    public Verdict? Verdict { get; private init; }

    Guid IAuditedBySystem.AuditSubjectId => AttemptId;

    AuditEntry IAuditedBySystem.ToAuditEntry() =>
        new()
        {
            SchoolId = SchoolId,
            AtUtc = ScoredAtUtc,
            Action = "attempt-scored",
            Subject = "attempt",
            SubjectId = AttemptId,
            Detail = $"engine {EngineVersion}",
        };

    private sealed class Configuration : IEntityTypeConfiguration<ScoreReportRow>
    {
        public void Configure(EntityTypeBuilder<ScoreReportRow> builder)
        {
            builder.ToTable("score_reports");
            builder.HasOne<Attempt>().WithMany().HasForeignKey(r => r.AttemptId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(r => r.EngineVersion).HasMaxLength(40);
            builder.Property(r => r.Report).HasJson(WireJson.Default.ScoreReport);
            // A verdict is asked for far more often than its report.
            builder
                .HasIndex(r => r.Id)
                .IncludeProperties(r => new
                {
                    r.SchoolId,
                    r.AttemptId,
                    r.Verdict,
                });
            builder.Property(r => r.Verdict).HasWord().HasComputedColumnSql("report -> 'overall' ->> 'verdict'", stored: true);
            builder
                .HasIndex(r => new
                {
                    r.AttemptId,
                    r.EngineVersion,
                    r.Revision,
                    r.Corrected,
                })
                .IsUnique();
        }
    }
}

/// <summary>The columns of a report's plots, in the form of <see cref="PlotFormat"/>.</summary>
internal sealed class TrackPlot
{
    public required Guid ReportId { get; init; }

    public required Guid SchoolId { get; init; }

    public required byte[] Columns { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<TrackPlot>
    {
        public void Configure(EntityTypeBuilder<TrackPlot> builder)
        {
            builder.HasKey(p => p.ReportId);
            builder.HasOne<ScoreReportRow>().WithOne().HasForeignKey<TrackPlot>(p => p.ReportId).OnDelete(DeleteBehavior.Cascade);
        }
    }
}

/// <summary>One parameter of one segment, for statistics over attempts.</summary>
internal sealed class SegmentResult : IStudentWork
{
    public required Guid ReportId { get; init; }

    public required int SegmentIndex { get; init; }

    public required Parameter Parameter { get; init; }

    public required Guid SchoolId { get; init; }

    public required Guid AttemptId { get; init; }

    public required Guid StudentId { get; init; }

    public required string DrillSlug { get; init; }

    public required SegmentKind Kind { get; init; }

    public required DateTimeOffset FlownAtUtc { get; init; }

    public required double DurationS { get; init; }

    public required double? WithinShare { get; init; }

    public required Verdict Verdict { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<SegmentResult>
    {
        public void Configure(EntityTypeBuilder<SegmentResult> builder)
        {
            builder.HasKey(r => new
            {
                r.ReportId,
                r.SegmentIndex,
                r.Parameter,
            });
            builder.HasOne<ScoreReportRow>().WithMany().HasForeignKey(r => r.ReportId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(r => r.Parameter).HasWord();
            builder.Property(r => r.Kind).HasWord();
            builder.Property(r => r.Verdict).HasWord();
            builder.Property(r => r.DrillSlug).HasMaxLength(100);
            builder.HasIndex(r => new { r.StudentId, r.FlownAtUtc });
        }
    }
}
