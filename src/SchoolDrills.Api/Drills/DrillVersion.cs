using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

internal static class DrillState
{
    public const string Draft = "draft";
    public const string Published = "published";
    public const string Retired = "retired";
}

/// <summary>One version of a drill. Version 0 is the draft; a published one never changes, only retires.</summary>
internal sealed class DrillVersion : IAudited
{
    private static readonly string[] Audited = [nameof(State), nameof(Version), nameof(Template)];

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required string Slug { get; init; }

    public required int Version { get; init; }

    public required string State { get; set; }

    public required DrillTemplate Template { get; set; }

    public required DateTimeOffset SavedAtUtc { get; set; }

    Guid IAudited.AuditSubjectId => Id;

    IReadOnlyList<string> IAudited.AuditedProperties => Audited;

    private sealed class Configuration : IEntityTypeConfiguration<DrillVersion>
    {
        public void Configure(EntityTypeBuilder<DrillVersion> builder)
        {
            builder
                .HasIndex(d => new
                {
                    d.SchoolId,
                    d.Slug,
                    d.Version,
                })
                .IsUnique();
            builder.Property(d => d.Slug).HasMaxLength(100);
            builder.Property(d => d.State).HasMaxLength(20);
            builder.Property(d => d.Template).HasJson(EngineJson.Default.DrillTemplate);
        }
    }
}
