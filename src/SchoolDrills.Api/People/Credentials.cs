using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.People;

/// <summary>
/// What a person proves to be himself with. It stands apart from <see cref="Person"/>, so that nothing but <c>AccountsDbContext</c> can
/// read it.
/// </summary>
internal sealed class Credentials
{
    public required Guid PersonId { get; init; }

    public required Guid SchoolId { get; init; }

    /// <summary>Null until a password was chosen.</summary>
    public string? PasswordHash { get; set; }

    /// <summary>Key of the authenticator app, under the host's data protection; kept while it is being set up as well.</summary>
    public string? AuthenticatorKey { get; set; }

    /// <summary>Number of the last half minute whose code was used: a code works once.</summary>
    public long LastCodeStep { get; set; }

    /// <summary>SHA-256 of the recovery codes that are left.</summary>
    public string[] RecoveryCodeHashes { get; set; } = [];

    /// <summary>PostgreSQL's own row version: of two who use the same code at once, one is too late.</summary>
    public uint Revision { get; private init; }

    /// <summary>Those of an account that has chosen no password yet.</summary>
    public static Credentials None(Person person) => new() { PersonId = person.Id, SchoolId = person.SchoolId };

    private sealed class Configuration : IEntityTypeConfiguration<Credentials>
    {
        public void Configure(EntityTypeBuilder<Credentials> builder)
        {
            builder.ToTable("credentials");
            builder.HasKey(c => c.PersonId);
            builder.HasOne<Person>().WithOne().HasForeignKey<Credentials>(c => c.PersonId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(c => c.RecoveryCodeHashes).HasDefaultValueSql("'{}'");
            builder.Property(c => c.Revision).IsRowVersion();
        }
    }
}
