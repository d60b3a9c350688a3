using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.LoadScales;

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

    public TaskLoad? TaskLoad { get; set; }

    /// <summary>Spare capacity, 1 to 10.</summary>
    public int? Bedford { get; set; }

    public SelfAssessmentView View() => new(GivenAtUtc, SkippedAtUtc, Segments, LoadRatings, Comment, TaskLoad, Bedford);

    private sealed class Configuration : IEntityTypeConfiguration<SelfAssessment>
    {
        public void Configure(EntityTypeBuilder<SelfAssessment> builder)
        {
            builder.HasKey(s => s.AttemptId);
            builder.HasOne<Attempt>().WithOne().HasForeignKey<SelfAssessment>(s => s.AttemptId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(s => s.Segments).HasJson(WireJson.Default.IReadOnlyListSelfVerdict);
            builder.Property(s => s.LoadRatings).HasJson(WireJson.Default.IReadOnlyListInt32);
            builder.Property(s => s.TaskLoad).HasJson(WireJson.Default.TaskLoad!);
            builder.Property(s => s.Comment).HasMaxLength(4000);
        }
    }
}
