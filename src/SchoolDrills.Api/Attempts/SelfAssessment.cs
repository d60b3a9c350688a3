using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Attempts;

/// <summary>What the student thought of the flight. Once given it stays, or it would be written after the score.</summary>
internal sealed class SelfAssessment
{
    public required Guid AttemptId { get; init; }

    public required Guid SchoolId { get; init; }

    public DateTimeOffset? GivenAtUtc { get; set; }

    public DateTimeOffset? SkippedAtUtc { get; set; }

    public IReadOnlyList<SelfVerdict> Segments { get; set; } = [];

    public IReadOnlyList<int> LoadRatings { get; set; } = [];

    public string? Comment { get; set; }

    public SelfAssessmentView View() => new(GivenAtUtc, SkippedAtUtc, Segments, LoadRatings, Comment);

    private sealed class Configuration : IEntityTypeConfiguration<SelfAssessment>
    {
        public void Configure(EntityTypeBuilder<SelfAssessment> builder)
        {
            builder.HasKey(s => s.AttemptId);
            builder.HasOne<Attempt>().WithOne().HasForeignKey<SelfAssessment>(s => s.AttemptId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(s => s.Segments).HasJson(WireJson.Default.IReadOnlyListSelfVerdict);
            builder.Property(s => s.LoadRatings).HasJson(WireJson.Default.IReadOnlyListInt32);
            builder.Property(s => s.Comment).HasMaxLength(4000);
        }
    }
}
