using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

/// <summary>A tolerance standard of a school. It never changes, only retires: attempts judged by it must stay explainable.</summary>
internal sealed class StandardRow : IAudited
{
    private static readonly string[] Audited = [nameof(Slug), nameof(Standard), nameof(RetiredAtUtc)];

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required string Slug { get; init; }

    public required ToleranceStandard Standard { get; init; }

    /// <summary>
    /// Slug of the edition before; kept apart from the document so that the database sees to it that each has one successor.
    /// </summary>
    public string? Supersedes { get; init; }

    /// <summary>From then on it is not offered; what was judged by it stays as it is.</summary>
    public DateTimeOffset? RetiredAtUtc { get; set; }

    public static StandardRow Of(ToleranceStandard standard, Guid schoolId) =>
        new()
        {
            SchoolId = schoolId,
            Slug = standard.Slug,
            Standard = standard,
            Supersedes = standard.Supersedes,
        };

    Guid IAudited.AuditSubjectId => Id;

    IReadOnlyList<string> IAudited.AuditedProperties => Audited;

    private sealed class Configuration : IEntityTypeConfiguration<StandardRow>
    {
        public void Configure(EntityTypeBuilder<StandardRow> builder)
        {
            builder.ToTable("tolerance_standards");
            builder.HasIndex(s => new { s.SchoolId, s.Slug }).IsUnique();
            builder.HasIndex(s => new { s.SchoolId, s.Supersedes }).IsUnique();
            builder.Property(s => s.Slug).HasMaxLength(100);
            builder.Property(s => s.Supersedes).HasMaxLength(100);
            builder.Property(s => s.Standard).HasJson(EngineJson.Default.ToleranceStandard);
        }
    }
}
