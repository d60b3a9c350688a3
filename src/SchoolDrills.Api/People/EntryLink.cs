using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.People;

/// <summary>
/// A link by which a person chooses a password: an invitation or a reset. Works once, until it expires or a newer one is made.
/// </summary>
internal sealed class EntryLink
{
    public const string Invite = "invite",
        Reset = "reset";

    public static readonly TimeSpan InviteLife = TimeSpan.FromDays(7),
        ResetLife = TimeSpan.FromHours(24);

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid PersonId { get; init; }

    public required string Kind { get; init; }

    /// <summary>SHA-256 of the secret, lower-case hexadecimal.</summary>
    public required string Hash { get; init; }

    public required DateTimeOffset MadeAtUtc { get; init; }

    public required DateTimeOffset ExpiresAtUtc { get; init; }

    /// <summary>Used, withdrawn or replaced.</summary>
    public DateTimeOffset? ClosedAtUtc { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<EntryLink>
    {
        public void Configure(EntityTypeBuilder<EntryLink> builder)
        {
            builder.ToTable("entry_links");
            builder.HasOne<Person>().WithMany().HasForeignKey(l => l.PersonId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(l => l.Kind).HasMaxLength(20);
            builder.Property(l => l.Hash).HasMaxLength(64);
            builder.HasIndex(l => l.Hash).IsUnique();
        }
    }
}
