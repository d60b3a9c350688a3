using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

/// <summary>
/// One version of an aeroplane type of a school, for planning. A version never changes, so that a plan keeps the figures it was made
/// with; new figures are the next one. No score depends on them.
/// </summary>
internal sealed class AircraftRow
{
    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required string Slug { get; init; }

    public int Version { get; init; } = 1;

    public required AircraftProfile Profile { get; init; }

    /// <summary>Null for what the school started with.</summary>
    public DateTimeOffset? SavedAtUtc { get; init; }

    public Guid? SavedById { get; init; }

    /// <summary>Of the newest version: the type is no longer offered.</summary>
    public DateTimeOffset? RetiredAtUtc { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<AircraftRow>
    {
        public void Configure(EntityTypeBuilder<AircraftRow> builder)
        {
            builder.ToTable("aircraft_profiles");
            builder
                .HasIndex(a => new
                {
                    a.SchoolId,
                    a.Slug,
                    a.Version,
                })
                .IsUnique();
            builder.HasOne<Person>().WithMany().HasForeignKey(a => a.SavedById).OnDelete(DeleteBehavior.Restrict);
            builder.Property(a => a.Slug).HasMaxLength(100);
            builder.Property(a => a.Profile).HasJson(EngineJson.Default.AircraftProfile);
        }
    }
}
