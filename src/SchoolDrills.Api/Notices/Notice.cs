using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Notices;

/// <summary>
/// Something a person is told once. The row is that person's alone; who causes it writes it, in the same save as the cause, and does
/// not see it again.
/// </summary>
internal sealed class Notice
{
    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid PersonId { get; init; }

    /// <summary>The student whose work it is about; the reader, mostly.</summary>
    public required Guid StudentId { get; init; }

    public required NoticeKind Kind { get; init; }

    /// <summary>The assignment or the grade: a person is told once of each kind and cause.</summary>
    public required Guid CauseId { get; init; }

    /// <summary>The work to fly. Unread, it means nothing once that is flown or cancelled.</summary>
    public Guid? AssignmentId { get; init; }

    public Guid? AttemptId { get; init; }

    public required string DrillTitle { get; init; }

    public DateOnly? DueOn { get; init; }

    public required DateTimeOffset MadeAtUtc { get; init; }

    public DateTimeOffset? ReadAtUtc { get; private init; }

    /// <summary>When a daily mail told it.</summary>
    public DateTimeOffset? MailedAtUtc { get; private init; }

    /// <summary>A grade was signed or amended, or replied to.</summary>
    public static async Task<Notice?> OfGradeAsync(
        SchoolDrillsDbContext db,
        NoticeKind kind,
        Guid personId,
        (Guid SchoolId, Guid StudentId, Guid AttemptId, Guid GradeId, string DrillTitle) grade,
        DateTimeOffset now,
        CancellationToken ct
    ) =>
        // Who has left is told nothing.
        await db.People.AnyAsync(p => p.Id == personId && p.Active, ct)
            ? new Notice
            {
                SchoolId = grade.SchoolId,
                PersonId = personId,
                StudentId = grade.StudentId,
                Kind = kind,
                CauseId = grade.GradeId,
                AttemptId = grade.AttemptId,
                DrillTitle = grade.DrillTitle,
                MadeAtUtc = now,
            }
            : null;

    private sealed class Configuration : IEntityTypeConfiguration<Notice>
    {
        public void Configure(EntityTypeBuilder<Notice> builder)
        {
            builder.HasOne<Person>().WithMany().HasForeignKey(n => n.PersonId).OnDelete(DeleteBehavior.Restrict);
            builder.Property(n => n.Kind).HasWord();
            builder
                .HasIndex(n => new
                {
                    n.PersonId,
                    n.Kind,
                    n.CauseId,
                })
                .IsUnique();
            builder.HasIndex(n => new { n.PersonId, n.MadeAtUtc });
        }
    }
}
