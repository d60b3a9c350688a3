using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
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

    /// <summary>Who saved the draft or published the version; null for what the school started with.</summary>
    public Guid? SavedById { get; set; }

    /// <summary>Counts the saves of a draft; of a published version, the draft's that it was made from.</summary>
    public int Revision { get; set; }

    /// <summary>The newest version when the draft was begun, 0 where there was none.</summary>
    public int BasedOnVersion { get; init; }

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
            // Of two who save at once, one has to look again.
            builder.Property(d => d.Revision).IsConcurrencyToken();
            builder.HasOne<Person>().WithMany().HasForeignKey(d => d.SavedById).OnDelete(DeleteBehavior.Restrict);
            builder.Property(d => d.Template).HasJson(EngineJson.Default.DrillTemplate);
        }
    }
}
