using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.Attempts;

/// <summary>What a school did on one day, counted. The database keeps it (db/policies/45-tallies.sql); nothing here writes it.</summary>
internal sealed class DayTally
{
    public required Guid SchoolId { get; init; }

    public required string Dimension { get; init; }

    public required DateOnly Day { get; init; }

    public required string Key { get; init; }

    public required int Attempts { get; init; }

    /// <summary>Segments, where these are counted; attempts otherwise.</summary>
    public required int Items { get; init; }

    public required int NotMet { get; init; }

    /// <summary>Students whose newest attempt at this drill, or in this aircraft, is of this day: none is counted twice.</summary>
    public required int Students { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<DayTally>
    {
        public void Configure(EntityTypeBuilder<DayTally> builder)
        {
            builder.ToTable("day_tallies");
            builder.HasKey(t => new
            {
                t.SchoolId,
                t.Dimension,
                t.Day,
                t.Key,
            });
            builder.Property(t => t.Dimension).HasMaxLength(20);
            builder.Property(t => t.Key).HasMaxLength(120);
            builder.Property(t => t.Students).HasDefaultValue(0);
        }
    }
}

/// <summary>What one student ever flew, counted by drill and by aircraft; kept likewise.</summary>
internal sealed class StudentTally : IStudentWork
{
    public required Guid SchoolId { get; init; }

    public required Guid StudentId { get; init; }

    public required string Dimension { get; init; }

    public required string Key { get; init; }

    public required int Attempts { get; init; }

    public required int NotMet { get; init; }

    public required DateTimeOffset LastFlownAtUtc { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<StudentTally>
    {
        public void Configure(EntityTypeBuilder<StudentTally> builder)
        {
            builder.ToTable("student_tallies");
            builder.HasKey(t => new
            {
                t.StudentId,
                t.Dimension,
                t.Key,
            });
            builder.Property(t => t.Dimension).HasMaxLength(20);
            builder.Property(t => t.Key).HasMaxLength(120);
        }
    }
}

/// <summary>What lists of all students show of one: a row each, kept likewise.</summary>
internal sealed class StudentSummary : IStudentWork
{
    public required Guid SchoolId { get; init; }

    public required Guid StudentId { get; init; }

    /// <summary>Scored attempts, whenever they were flown.</summary>
    public required int Attempts { get; init; }

    public required DateTimeOffset? LastFlownAtUtc { get; init; }

    /// <summary>Scored attempts without a signed grade, but for those flown again since.</summary>
    public required int ToGrade { get; init; }

    /// <summary>When the oldest of these was uploaded.</summary>
    public required DateTimeOffset? WaitingSinceUtc { get; init; }

    /// <summary>Another one after every change of an attempt's result: what was concluded before no longer holds.</summary>
    public required Guid State { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<StudentSummary>
    {
        public void Configure(EntityTypeBuilder<StudentSummary> builder)
        {
            builder.ToTable("student_summaries");
            builder.HasKey(s => s.StudentId);
            // Those of a school, and whoever waits there for a grade: an installation has many.
            builder.HasIndex(s => s.SchoolId);
            builder
                .HasIndex(s => new { s.SchoolId, s.WaitingSinceUtc })
                .HasFilter("to_grade > 0")
                .HasDatabaseName("ix_student_summaries_waiting");
            builder.Property(s => s.StudentId).ValueGeneratedNever();
        }
    }
}
