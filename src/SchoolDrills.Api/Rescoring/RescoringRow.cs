using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Rescoring;

/// <summary>A rescoring of attempts that older engines scored. A school has one at a time.</summary>
internal sealed class RescoringRow
{
    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    /// <summary>Of the host that was asked; an older host beside it leaves the work alone.</summary>
    public required string EngineVersion { get; init; }

    public required DateTimeOffset StartedAtUtc { get; init; }

    /// <summary>Null for whoever looks after the server.</summary>
    public Guid? StartedById { get; init; }

    public Person? StartedBy { get; private init; }

    public required RescoringChoice Choice { get; init; }

    public required int Chosen { get; init; }

    /// <summary>Job of the next portion, by which the sweep tells a lost one from a waiting one.</summary>
    public string? JobId { get; set; }

    public DateTimeOffset? EndedAtUtc { get; set; }

    /// <summary>Who stopped it before its end.</summary>
    public Guid? StoppedById { get; set; }

    public Person? StoppedBy { get; private init; }

    private sealed class Configuration : IEntityTypeConfiguration<RescoringRow>
    {
        public void Configure(EntityTypeBuilder<RescoringRow> builder)
        {
            builder.ToTable("rescorings");
            builder.HasOne(r => r.StartedBy).WithMany().HasForeignKey(r => r.StartedById).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(r => r.StoppedBy).WithMany().HasForeignKey(r => r.StoppedById).OnDelete(DeleteBehavior.Restrict);
            builder.Property(r => r.EngineVersion).HasMaxLength(40);
            builder.Property(r => r.JobId).HasMaxLength(40);
            builder.Property(r => r.Choice).HasJson(WireJson.Default.RescoringChoice);
            // Of two chiefs who start one at the same moment, the database lets one.
            builder.HasIndex(r => r.SchoolId).IsUnique().HasFilter("ended_at_utc is null").HasDatabaseName("ix_rescorings_running");
            builder.HasIndex(r => new { r.SchoolId, r.StartedAtUtc });
        }
    }
}

/// <summary>What became of an attempt that is to be rescored.</summary>
internal enum RescoringOutcome
{
    Waiting,
    Same,
    Changed,
    Failed,
}

/// <summary>An attempt of a rescoring, with what lists showed of it before and after.</summary>
internal sealed class RescoringItemRow
{
    public required Guid RescoringId { get; init; }

    public required Guid AttemptId { get; init; }

    public Attempt Attempt { get; private init; } = null!;

    public required Guid SchoolId { get; init; }

    /// <summary>Place in the order of work.</summary>
    public required long Number { get; init; }

    public required RescoringOutcome Outcome { get; set; }

    /// <summary>When what was before was noted; a worker that comes after a killed one leaves that as it is.</summary>
    public DateTimeOffset? BegunAtUtc { get; set; }

    public string? EngineBefore { get; set; }

    public Verdict? VerdictBefore { get; set; }

    public double? WithinShareBefore { get; set; }

    public Verdict? VerdictAfter { get; set; }

    public double? WithinShareAfter { get; set; }

    /// <summary>Why it keeps the score it had.</summary>
    public string? Failure { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<RescoringItemRow>
    {
        public void Configure(EntityTypeBuilder<RescoringItemRow> builder)
        {
            builder.ToTable("rescoring_items");
            builder.HasKey(i => new { i.RescoringId, i.AttemptId });
            builder.HasOne<RescoringRow>().WithMany().HasForeignKey(i => i.RescoringId).OnDelete(DeleteBehavior.Cascade);
            builder.HasOne(i => i.Attempt).WithMany().HasForeignKey(i => i.AttemptId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(i => i.Outcome).HasWord();
            builder.Property(i => i.EngineBefore).HasMaxLength(40);
            builder.Property(i => i.VerdictBefore).HasWord();
            builder.Property(i => i.VerdictAfter).HasWord();
            builder.HasIndex(i => new
            {
                i.RescoringId,
                i.Outcome,
                i.Number,
            });
        }
    }
}
