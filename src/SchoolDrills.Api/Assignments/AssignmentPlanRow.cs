using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Assignments;

/// <summary>How an assignment is to be flown on the day: one plan, the newest.</summary>
internal sealed class AssignmentPlanRow : IStudentWork
{
    public required Guid AssignmentId { get; init; }

    public required Guid SchoolId { get; init; }

    public required Guid StudentId { get; init; }

    public required PlanDrill Asked { get; set; }

    /// <summary>Version of the drill that was planned.</summary>
    public required int DrillVersion { get; set; }

    /// <summary>Of two who save over the same revision, the second is refused by the database.</summary>
    public required int Revision { get; set; }

    public required Guid PlannedById { get; set; }

    public Person PlannedBy { get; private init; } = null!;

    public required DateTimeOffset PlannedAtUtc { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<AssignmentPlanRow>
    {
        public void Configure(EntityTypeBuilder<AssignmentPlanRow> builder)
        {
            builder.ToTable("assignment_plans");
            builder.HasKey(p => p.AssignmentId);
            builder.HasOne<Assignment>().WithOne().HasForeignKey<AssignmentPlanRow>(p => p.AssignmentId).OnDelete(DeleteBehavior.Cascade);
            builder.HasOne<Person>().WithMany().HasForeignKey(p => p.StudentId).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(p => p.PlannedBy).WithMany().HasForeignKey(p => p.PlannedById).OnDelete(DeleteBehavior.Restrict);
            builder.Property(p => p.Asked).HasJson(WireJson.Default.PlanDrill);
            builder.Property(p => p.Revision).IsConcurrencyToken();
        }
    }
}
