using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

/// <summary>A tolerance standard of a school. It never changes: attempts judged by it must stay explainable.</summary>
internal sealed class StandardRow : IAudited
{
    private static readonly string[] Audited = [nameof(Slug), nameof(Standard)];

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required string Slug { get; init; }

    public required ToleranceStandard Standard { get; init; }

    Guid IAudited.AuditSubjectId => Id;

    IReadOnlyList<string> IAudited.AuditedProperties => Audited;

    private sealed class Configuration : IEntityTypeConfiguration<StandardRow>
    {
        public void Configure(EntityTypeBuilder<StandardRow> builder)
        {
            builder.ToTable("tolerance_standards");
            builder.HasIndex(s => new { s.SchoolId, s.Slug }).IsUnique();
            builder.Property(s => s.Slug).HasMaxLength(100);
            builder.Property(s => s.Standard).HasJson(EngineJson.Default.ToleranceStandard);
        }
    }
}
