using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Schools;

namespace SchoolDrills.Api.People;

/// <summary>
/// Someone's account at one school. Whoever belongs to several schools has an account at each, with the same address: schools know
/// nothing of each other, and one that closes an account or resets its password has no say over another's.
/// </summary>
internal sealed class Person : IdentityUser<Guid>
{
    public required Guid SchoolId { get; init; }

    public required string DisplayName { get; set; }

    public required string[] Roles { get; set; }

    public bool Active { get; set; } = true;

    /// <summary>Enrolled: the row's own birthday, given by the database.</summary>
    public DateTimeOffset JoinedAtUtc { get; private init; }

    public DateTimeOffset? LeftAtUtc { get; set; }

    /// <summary>Key of the authenticator app, under the host's data protection; kept while it is being set up as well.</summary>
    public string? AuthenticatorKey { get; set; }

    /// <summary>Number of the last half minute whose code was used: a code works once.</summary>
    public long LastCodeStep { get; set; }

    /// <summary>SHA-256 of the recovery codes that are left.</summary>
    public string[] RecoveryCodeHashes { get; set; } = [];

    /// <summary>Nothing of this person may be erased, whatever the rules say.</summary>
    public bool LegalHold { get; set; }

    public string? HoldReason { get; set; }

    public DateTimeOffset? ErasedAtUtc { get; set; }

    public bool HasAccepted => PasswordHash is not null;

    private sealed class Configuration : IEntityTypeConfiguration<Person>
    {
        public void Configure(EntityTypeBuilder<Person> builder)
        {
            builder.ToTable("people");
            builder.HasOne<School>().WithMany().HasForeignKey(p => p.SchoolId).OnDelete(DeleteBehavior.Restrict);
            builder.HasIndex(p => new { p.SchoolId, p.NormalizedEmail }).IsUnique();
            builder.HasIndex(p => new { p.SchoolId, p.NormalizedUserName }).IsUnique();
            builder.HasIndex(p => p.NormalizedEmail);
            builder.Property(p => p.JoinedAtUtc).HasDefaultValueSql("now()");
            builder.Property(p => p.RecoveryCodeHashes).HasDefaultValueSql("'{}'");
            // Two at once with the same code: one of them is too late.
            builder.Property(p => p.LastCodeStep).IsConcurrencyToken();
            builder.Property(p => p.HoldReason).HasMaxLength(500);
            builder.Ignore(p => p.HasAccepted);
            builder.Property(p => p.DisplayName).HasMaxLength(200);
            builder.Property(p => p.Email).HasMaxLength(256);
            builder.Property(p => p.NormalizedEmail).HasMaxLength(256);
            builder.Property(p => p.UserName).HasMaxLength(256);
            builder.Property(p => p.NormalizedUserName).HasMaxLength(256);
            builder.Property(p => p.ConcurrencyStamp).IsConcurrencyToken();
        }
    }
}
