using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Audit;

/// <summary>Who did what to what, and when. Written in the same transaction as the action, never changed.</summary>
internal sealed class AuditEntry
{
    public long Id { get; private init; }

    public required Guid SchoolId { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>Null for the program itself.</summary>
    public Guid? PersonId { get; init; }

    /// <summary>A verb in the past: <c>grade-signed</c>.</summary>
    public required string Action { get; init; }

    public required string Subject { get; init; }

    public required Guid SubjectId { get; init; }

    public string? Detail { get; init; }

    /// <summary>Address it was asked from; filled in by <see cref="AuditTrail"/>, as are the next two.</summary>
    public string? Ip { get; set; }

    public string? UserAgent { get; set; }

    public IReadOnlyList<AuditChange> Changes { get; set; } = [];

    public static AuditEntry By(
        CurrentPerson me,
        DateTimeOffset now,
        string action,
        string subject,
        Guid subjectId,
        string? detail = null
    ) =>
        new()
        {
            SchoolId = me.SchoolId,
            AtUtc = now,
            PersonId = me.Id,
            Action = action,
            Subject = subject,
            SubjectId = subjectId,
            Detail = detail,
        };

    private sealed class Configuration : IEntityTypeConfiguration<AuditEntry>
    {
        public void Configure(EntityTypeBuilder<AuditEntry> builder)
        {
            builder.Property(e => e.Action).HasMaxLength(60);
            builder.Property(e => e.Subject).HasMaxLength(60);
            builder.Property(e => e.Detail).HasMaxLength(2000);
            builder.Property(e => e.Ip).HasMaxLength(45);
            builder.Property(e => e.UserAgent).HasMaxLength(200);
            builder.Property(e => e.Changes).HasJson(WireJson.Default.IReadOnlyListAuditChange);
            builder.HasIndex(e => new { e.SchoolId, e.AtUtc });
            // The trail is read from its newest entry back, whole or by one of these.
            builder.HasIndex(e => new { e.SchoolId, e.Id });
            builder.HasIndex(e => new
            {
                e.SchoolId,
                e.Action,
                e.Id,
            });
            builder.HasIndex(e => new
            {
                e.SchoolId,
                e.PersonId,
                e.Id,
            });
            builder.HasIndex(e => new
            {
                e.SchoolId,
                e.SubjectId,
                e.Id,
            });
        }
    }
}
