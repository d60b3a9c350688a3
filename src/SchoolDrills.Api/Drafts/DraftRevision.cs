using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.People;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drafts;

/// <summary>A draft as it stood before it was saved over or discarded, so that of two editors at once neither loses anything.</summary>
internal sealed class DraftRevision
{
    public static readonly TimeSpan Life = TimeSpan.FromDays(30);

    /// <summary>So many of one drill stay at most; the oldest make room.</summary>
    public const int Most = 500;

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required string Slug { get; init; }

    public required int Revision { get; init; }

    public required int BasedOnVersion { get; init; }

    public required DrillTemplate Template { get; init; }

    public required DateTimeOffset SavedAtUtc { get; init; }

    /// <summary>Null for a draft older than the program's memory of who saved it.</summary>
    public required Guid? SavedById { get; init; }

    public required DateTimeOffset ReplacedAtUtc { get; init; }

    public required Guid ReplacedById { get; init; }

    /// <summary>It was thrown away rather than saved over.</summary>
    public required bool Discarded { get; init; }

    public static DraftRevision Of(DrillVersion draft, Guid replacedById, DateTimeOffset now, bool discarded) =>
        new()
        {
            SchoolId = draft.SchoolId,
            Slug = draft.Slug,
            Revision = draft.Revision,
            BasedOnVersion = draft.BasedOnVersion,
            Template = draft.Template,
            SavedAtUtc = draft.SavedAtUtc,
            SavedById = draft.SavedById,
            ReplacedAtUtc = now,
            ReplacedById = replacedById,
            Discarded = discarded,
        };

    private sealed class Configuration : IEntityTypeConfiguration<DraftRevision>
    {
        public void Configure(EntityTypeBuilder<DraftRevision> builder)
        {
            builder.ToTable("drill_draft_revisions");
            builder
                .HasIndex(r => new
                {
                    r.SchoolId,
                    r.Slug,
                    r.Revision,
                })
                .IsUnique();
            builder.Property(r => r.Slug).HasMaxLength(100);
            builder.Property(r => r.Template).HasJson(EngineJson.Default.DrillTemplate);
            builder.HasOne<Person>().WithMany().HasForeignKey(r => r.SavedById).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne<Person>().WithMany().HasForeignKey(r => r.ReplacedById).OnDelete(DeleteBehavior.Restrict);
        }
    }
}
