using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Notes;

/// <summary>
/// What an instructor noted on a student, for other instructors. The student does not see it among his work; a copy of his data has it,
/// since everybody may know what is kept of them.
/// </summary>
internal sealed class StudentNoteRow : IStudentWork
{
    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid StudentId { get; init; }

    public required Guid WrittenById { get; init; }

    public Person WrittenBy { get; private init; } = null!;

    public required DateTimeOffset WrittenAtUtc { get; init; }

    public DateTimeOffset? ChangedAtUtc { get; set; }

    public required string Text { get; set; }

    /// <summary>Of two saves over the same revision, the second is refused by the database.</summary>
    public required int Revision { get; set; }

    public StudentNote Seen(Guid viewerId, string author) =>
        new(Id, StudentId, author, WrittenById == viewerId, WrittenAtUtc, ChangedAtUtc, Text, Revision);

    private sealed class Configuration : IEntityTypeConfiguration<StudentNoteRow>
    {
        public void Configure(EntityTypeBuilder<StudentNoteRow> builder)
        {
            builder.ToTable("student_notes");
            builder.HasOne<Person>().WithMany().HasForeignKey(n => n.StudentId).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(n => n.WrittenBy).WithMany().HasForeignKey(n => n.WrittenById).OnDelete(DeleteBehavior.Restrict);
            builder.HasIndex(n => new { n.StudentId, n.WrittenAtUtc });
            builder.Property(n => n.Text).HasMaxLength(StudentNote.LongestText);
            builder.Property(n => n.Revision).IsConcurrencyToken();
        }
    }
}
