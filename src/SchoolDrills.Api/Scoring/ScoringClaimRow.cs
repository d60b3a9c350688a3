using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Attempts;

namespace SchoolDrills.Api.Scoring;

/// <summary>
/// A recording that a worker has taken, or one whose score failed and is tried again later. Only the functions of
/// db/policies/30-lookup.sql read and write it, since the next one is chosen across schools.
/// </summary>
internal sealed class ScoringClaimRow
{
    public required Guid AttemptId { get; init; }

    public required Guid SchoolId { get; init; }

    /// <summary>Of the worker's claim; null while it only waits for its next try.</summary>
    public Guid? Holder { get; init; }

    /// <summary>How often it was taken, the present time included.</summary>
    public required int Tries { get; init; }

    /// <summary>Until then nobody else takes it. A living worker moves it on.</summary>
    public required DateTimeOffset UntilUtc { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<ScoringClaimRow>
    {
        public void Configure(EntityTypeBuilder<ScoringClaimRow> builder)
        {
            builder.ToTable("scoring_claims");
            builder.HasKey(c => c.AttemptId);
            builder.HasOne<Attempt>().WithOne().HasForeignKey<ScoringClaimRow>(c => c.AttemptId).OnDelete(DeleteBehavior.Cascade);
        }
    }
}
