using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Schools;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>
/// Someone's account at one school. Whoever belongs to several schools has an account at each, with the same address: schools know
/// nothing of each other, and one that closes an account or resets its password has no say over another's. Secrets are in
/// <see cref="Credentials"/>.
/// </summary>
internal sealed class Person : IAudited
{
    private static readonly string[] Audited =
    [
        nameof(DisplayName),
        nameof(Email),
        nameof(Roles),
        nameof(Active),
        nameof(TwoFactorEnabled),
        nameof(LegalHold),
        nameof(HoldReason),
    ];

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required string DisplayName { get; set; }

    public required string[] Roles { get; set; }

    /// <summary>Null once erased.</summary>
    public string? Email
    {
        get;
        init => (field, NormalizedEmail) = (value, value is null ? null : EmailAddress.Normalize(value));
    }

    /// <summary>The address as accounts are found by it.</summary>
    public string? NormalizedEmail { get; private init; }

    /// <summary>Has chosen a password.</summary>
    public bool HasAccepted { get; set; }

    public bool TwoFactorEnabled { get; set; }

    public bool Active { get; set; } = true;

    /// <summary>Enrolled: the row's own birthday, given by the database.</summary>
    public DateTimeOffset JoinedAtUtc { get; private init; }

    public DateTimeOffset? LeftAtUtc { get; set; }

    /// <summary>Nothing of this person may be erased, whatever the rules say.</summary>
    public bool LegalHold { get; set; }

    public string? HoldReason { get; set; }

    public DateTimeOffset? ErasedAtUtc { get; set; }

    /// <summary>How often unread notices come by mail.</summary>
    public NoticeMail NoticeMail { get; set; }

    /// <summary>The last day of the school on which a daily mail was due and dealt with.</summary>
    public DateOnly? DigestOn { get; private init; }

    Guid IAudited.AuditSubjectId => Id;

    IReadOnlyList<string> IAudited.AuditedProperties => Audited;

    private sealed class Configuration : IEntityTypeConfiguration<Person>
    {
        public void Configure(EntityTypeBuilder<Person> builder)
        {
            builder.ToTable("people");
            builder.HasOne<School>().WithMany().HasForeignKey(p => p.SchoolId).OnDelete(DeleteBehavior.Restrict);
            builder.HasIndex(p => new { p.SchoolId, p.NormalizedEmail }).IsUnique();
            builder.HasIndex(p => p.NormalizedEmail);
            builder.Property(p => p.JoinedAtUtc).HasDefaultValueSql("now()");
            builder.Property(p => p.NoticeMail).HasWord().HasDefaultValue(NoticeMail.None);
            builder.Property(p => p.HoldReason).HasMaxLength(500);
            builder.Property(p => p.DisplayName).HasMaxLength(200);
            builder.Property(p => p.Email).HasMaxLength(EmailAddress.Longest);
            builder.Property(p => p.NormalizedEmail).HasMaxLength(EmailAddress.Longest);
        }
    }
}
