using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Assignments;

/// <summary>A drill version given to a student to fly.</summary>
internal sealed class Assignment : IStudentWork, IAudited
{
    private static readonly string[] Audited = [nameof(DueOn), nameof(Notes), nameof(CancelledAtUtc)];

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid StudentId { get; init; }

    public Person Student { get; private init; } = null!;

    public required Guid DrillVersionId { get; init; }

    public DrillVersion DrillVersion { get; private init; } = null!;

    public required Guid AssignedById { get; init; }

    public Person AssignedBy { get; private init; } = null!;

    public required DateTimeOffset AssignedAtUtc { get; init; }

    public DateOnly? DueOn { get; init; }

    public string? Notes { get; init; }

    public AssignmentOverrides? Overrides { get; init; }

    public DateTimeOffset? CancelledAtUtc { get; set; }

    /// <summary>
    /// An attempt for it is scored or may yet be; what cannot be scored leaves it to fly. The database keeps it
    /// (db/policies/45-tallies.sql).
    /// </summary>
    public bool Flown { get; private init; }

    public List<Attempt> Attempts { get; private init; } = [];

    Guid IAudited.AuditSubjectId => Id;

    IReadOnlyList<string> IAudited.AuditedProperties => Audited;

    private sealed class Configuration : IEntityTypeConfiguration<Assignment>
    {
        public void Configure(EntityTypeBuilder<Assignment> builder)
        {
            builder.HasOne(a => a.Student).WithMany().HasForeignKey(a => a.StudentId).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(a => a.AssignedBy).WithMany().HasForeignKey(a => a.AssignedById).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(a => a.DrillVersion).WithMany().HasForeignKey(a => a.DrillVersionId).OnDelete(DeleteBehavior.Restrict);
            builder.HasMany(a => a.Attempts).WithOne().HasForeignKey(a => a.AssignmentId).OnDelete(DeleteBehavior.Restrict);
            builder.HasMany<FlightLog>().WithOne().HasForeignKey(l => l.AssignmentId).OnDelete(DeleteBehavior.Restrict);
            builder.Property(a => a.Notes).HasMaxLength(2000);
            builder.Property(a => a.Overrides).HasJson(WireJson.Default.AssignmentOverrides!);
            builder.Property(a => a.Flown).HasDefaultValue(false);
            builder.HasIndex(a => new { a.StudentId, a.DueOn });
            builder
                .HasIndex(a => new
                {
                    a.SchoolId,
                    a.DueOn,
                    a.AssignedAtUtc,
                    a.Id,
                })
                .HasDatabaseName("ix_assignments_by_due");
            builder
                .HasIndex(a => new
                {
                    a.SchoolId,
                    a.DueOn,
                    a.StudentId,
                })
                .HasFilter("cancelled_at_utc is null and not flown")
                .HasDatabaseName("ix_assignments_to_fly");
        }
    }
}
