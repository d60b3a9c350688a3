using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.Audit;

/// <summary>Who did what to what, and when. Written in the same transaction as the deed, never changed.</summary>
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

    private sealed class Configuration : IEntityTypeConfiguration<AuditEntry>
    {
        public void Configure(EntityTypeBuilder<AuditEntry> builder)
        {
            builder.Property(e => e.Action).HasMaxLength(60);
            builder.Property(e => e.Subject).HasMaxLength(60);
            builder.Property(e => e.Detail).HasMaxLength(2000);
            builder.HasIndex(e => new { e.SchoolId, e.AtUtc });
        }
    }
}
