using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Api.Areas;

/// <summary>A practice area of a school. A plan keeps the area it was made in, so that taking one out changes no plan.</summary>
internal sealed class PracticeAreaRow
{
    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required string Name { get; init; }

    public required double FloorFt { get; init; }

    public double? CeilingFt { get; init; }

    public required IReadOnlyList<LatLon> Corners { get; init; }

    public SchoolArea Seen() => new(Id, Name, FloorFt, CeilingFt, PlanInputs.Polygon(Corners));

    private sealed class Configuration : IEntityTypeConfiguration<PracticeAreaRow>
    {
        public void Configure(EntityTypeBuilder<PracticeAreaRow> builder)
        {
            builder.ToTable("practice_areas");
            builder.HasIndex(a => new { a.SchoolId, a.Name }).IsUnique();
            builder.Property(a => a.Name).HasMaxLength(80);
            builder.Property(a => a.Corners).HasJson(WireJson.Default.IReadOnlyListLatLon);
        }
    }
}
