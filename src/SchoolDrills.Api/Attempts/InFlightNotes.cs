using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

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

    private sealed class Configuration : IEntityTypeConfiguration<AttemptEventRow>
    {
        public void Configure(EntityTypeBuilder<AttemptEventRow> builder)
        {
            builder.ToTable("attempt_events");
            builder.HasKey(e => new { e.AttemptId, e.Id });
            builder.HasOne<Attempt>().WithMany().HasForeignKey(e => e.AttemptId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(e => e.Kind).HasMaxLength(60);
            builder.Property(e => e.Detail).HasMaxLength(2000);
        }
    }
}

/// <summary>The student's own rating of the load, 1 to 5, the n-th time it was asked for.</summary>
internal sealed class LoadRatingRow
{
    public required Guid AttemptId { get; init; }

    public required int Number { get; init; }

    public required Guid SchoolId { get; init; }

    public required int Rating { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<LoadRatingRow>
    {
        public void Configure(EntityTypeBuilder<LoadRatingRow> builder)
        {
            builder.ToTable("load_ratings");
            builder.HasKey(r => new { r.AttemptId, r.Number });
            builder.HasOne<Attempt>().WithMany().HasForeignKey(r => r.AttemptId).OnDelete(DeleteBehavior.Cascade);
        }
    }
}
