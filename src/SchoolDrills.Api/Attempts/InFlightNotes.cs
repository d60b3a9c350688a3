using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Attempts;

/// <summary>Something that happened on board, under the number its device gave it, so that sending twice is one.</summary>
internal sealed class AttemptEventRow
{
    public required Guid AttemptId { get; init; }

    public required Guid Id { get; init; }

    public required Guid SchoolId { get; init; }

    public required string Kind { get; set; }

    public required DateTimeOffset AtUtc { get; set; }

    public string? Detail { get; set; }

    /// <summary>Who noted it; null where that was not kept.</summary>
    public Guid? NotedById { get; set; }

    /// <summary>
    /// The log it was taken from: it follows that log, and goes with it. Null for what was told of the attempt itself.
    /// </summary>
    public Guid? FlightLogId { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<AttemptEventRow>
    {
        public void Configure(EntityTypeBuilder<AttemptEventRow> builder)
        {
            builder.ToTable("attempt_events");
            builder.HasKey(e => new { e.AttemptId, e.Id });
            builder.HasOne<Attempt>().WithMany().HasForeignKey(e => e.AttemptId).OnDelete(DeleteBehavior.Cascade);
            builder.HasOne<FlightLog>().WithMany().HasForeignKey(e => e.FlightLogId).OnDelete(DeleteBehavior.SetNull);
            builder.Property(e => e.Kind).HasMaxLength(60);
            builder.Property(e => e.Detail).HasMaxLength(2000);
        }
    }
}

/// <summary>
/// A rating of the student's load, 1 to 5, the n-th time it was asked for: the student's own, and beside it what an instructor put down.
/// </summary>
internal sealed class LoadRatingRow
{
    public required Guid AttemptId { get; init; }

    public required int Number { get; init; }

    public required Guid SchoolId { get; init; }

    public required LoadSource SaidBy { get; init; }

    /// <summary>Who entered it; null where that was not kept.</summary>
    public Guid? EnteredById { get; set; }

    public required int Rating { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<LoadRatingRow>
    {
        public void Configure(EntityTypeBuilder<LoadRatingRow> builder)
        {
            builder.ToTable("load_ratings");
            builder.HasKey(r => new
            {
                r.AttemptId,
                r.Number,
                r.SaidBy,
            });
            builder.Property(r => r.SaidBy).HasWord();
            builder.HasOne<Attempt>().WithMany().HasForeignKey(r => r.AttemptId).OnDelete(DeleteBehavior.Cascade);
        }
    }
}
