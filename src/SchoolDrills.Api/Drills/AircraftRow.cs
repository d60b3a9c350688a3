using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

/// <summary>An aeroplane type of a school, for planning. Its figures may be put right; no score depends on them.</summary>
internal sealed class AircraftRow
{
    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required string Slug { get; init; }

    public required AircraftProfile Profile { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<AircraftRow>
    {
        public void Configure(EntityTypeBuilder<AircraftRow> builder)
        {
            builder.ToTable("aircraft_profiles");
            builder.HasIndex(a => new { a.SchoolId, a.Slug }).IsUnique();
            builder.Property(a => a.Slug).HasMaxLength(100);
            builder.Property(a => a.Profile).HasJson(EngineJson.Default.AircraftProfile);
        }
    }
}
