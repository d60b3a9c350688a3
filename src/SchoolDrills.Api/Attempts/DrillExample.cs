using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>
/// The school's example of a drill: the plot of an attempt as it stood when it was marked, kept apart from the attempt so that the
/// school's students can be shown the plot and see nothing else of it.
/// </summary>
internal sealed class DrillExample
{
    public required Guid DrillVersionId { get; init; }

    public required Guid SchoolId { get; init; }

    public required Guid AttemptId { get; init; }

    public required Guid MarkedById { get; init; }

    public required DateTimeOffset MarkedAtUtc { get; init; }

    public required FlownPlot Plot { get; init; }

    public required IReadOnlyList<RibbonSegment> Ribbon { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<DrillExample>
    {
        public void Configure(EntityTypeBuilder<DrillExample> builder)
        {
            builder.ToTable("drill_examples");
            builder.HasKey(e => e.DrillVersionId);
            builder.HasOne<DrillVersion>().WithMany().HasForeignKey(e => e.DrillVersionId).OnDelete(DeleteBehavior.Cascade);
            builder.HasOne<Attempt>().WithMany().HasForeignKey(e => e.AttemptId).OnDelete(DeleteBehavior.Cascade);
            builder.HasOne<Person>().WithMany().HasForeignKey(e => e.MarkedById).OnDelete(DeleteBehavior.Restrict);
            builder.Property(e => e.Plot).HasJson(WireJson.Default.FlownPlot);
            builder.Property(e => e.Ribbon).HasJson(WireJson.Default.IReadOnlyListRibbonSegment);
        }
    }
}
