using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Attempts;

/// <summary>An instructor's judgement. A draft may be changed; once signed it stays, and an amendment is a further row.</summary>
internal sealed class Grade : IAudited
{
    private static readonly string[] Audited =
    [
        nameof(Overall),
        nameof(Segments),
        nameof(Comment),
        nameof(AmendmentReason),
        nameof(SignedAtUtc),
    ];

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid AttemptId { get; init; }

    /// <summary>0 for the grade itself, then one more for each amendment.</summary>
    public required int Number { get; init; }

    public required Guid InstructorId { get; set; }

    public Person Instructor { get; private init; } = null!;

    public required string Overall { get; set; }

    public required IReadOnlyList<SegmentGrade> Segments { get; set; }

    public string? Comment { get; set; }

    public string? AmendmentReason { get; init; }

    public required DateTimeOffset SavedAtUtc { get; set; }

    public DateTimeOffset? SignedAtUtc { get; set; }

    /// <summary>The report that was before the instructor when it was signed; re-scoring does not change that.</summary>
    public Guid? ReportId { get; set; }

    public GradeAcknowledgement? Acknowledgement { get; private init; }

    /// <summary>PostgreSQL's own row version.</summary>
    public uint Revision { get; private init; }

    Guid IAudited.AuditSubjectId => AttemptId;

    IReadOnlyList<string> IAudited.AuditedProperties => Audited;

    bool IAudited.Amends(IAudited earlier) =>
        Number > 0 && earlier is Grade grade && grade.AttemptId == AttemptId && grade.Number == Number - 1;

    private sealed class Configuration : IEntityTypeConfiguration<Grade>
    {
        public void Configure(EntityTypeBuilder<Grade> builder)
        {
            builder.HasOne<Attempt>().WithMany(a => a.Grades).HasForeignKey(g => g.AttemptId).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(g => g.Instructor).WithMany().HasForeignKey(g => g.InstructorId).OnDelete(DeleteBehavior.Restrict);
            builder
                .HasOne(g => g.Acknowledgement)
                .WithOne()
                .HasForeignKey<GradeAcknowledgement>(a => a.GradeId)
                .OnDelete(DeleteBehavior.Restrict);
            builder.HasOne<ScoreReportRow>().WithMany().HasForeignKey(g => g.ReportId).OnDelete(DeleteBehavior.Restrict);
            builder.Property(g => g.Overall).HasMaxLength(60);
            builder.Property(g => g.Comment).HasMaxLength(8000);
            builder.Property(g => g.AmendmentReason).HasMaxLength(2000);
            builder.Property(g => g.Segments).HasJson(WireJson.Default.IReadOnlyListSegmentGrade);
            builder.Property(g => g.Revision).IsRowVersion().HasColumnName("xmin");
            builder.HasIndex(g => new { g.AttemptId, g.Number }).IsUnique();
            builder.HasIndex(g => new { g.InstructorId, g.SavedAtUtc });
            builder.HasIndex(g => g.SchoolId).HasFilter("signed_at_utc is null").HasDatabaseName("ix_grades_unsigned");
            // With what agreement of graders asks for, so that a grade need not be opened for it.
            builder
                .HasIndex(g => new { g.InstructorId, g.SignedAtUtc })
                .IncludeProperties(g => new
                {
                    g.SchoolId,
                    g.AttemptId,
                    g.Number,
                    g.Overall,
                    g.ReportId,
                });
        }
    }
}

/// <summary>The student has read a signed grade.</summary>
internal sealed class GradeAcknowledgement
{
    public required Guid GradeId { get; init; }

    public required Guid SchoolId { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public string? Reply { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<GradeAcknowledgement>
    {
        public void Configure(EntityTypeBuilder<GradeAcknowledgement> builder)
        {
            builder.HasKey(a => a.GradeId);
            builder.Property(a => a.Reply).HasMaxLength(4000);
        }
    }
}
