using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.People;

/// <summary>A key by which a program calls the API as a person, with that person's roles, reading only or writing as well.</summary>
internal sealed class ApiToken
{
    public const string Read = "read",
        Write = "write";

    /// <summary>Tells these tokens from those of a session, and a leaked one from noise.</summary>
    public const string Prefix = "sd_";

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid PersonId { get; init; }

    public required string Name { get; init; }

    public required string Scope { get; init; }

    /// <summary>SHA-256 of the token, lower-case hexadecimal.</summary>
    public required string Hash { get; init; }

    public required DateTimeOffset MadeAtUtc { get; init; }

    public required DateTimeOffset ExpiresAtUtc { get; init; }

    public DateTimeOffset? LastUsedAtUtc { get; set; }

    public DateTimeOffset? RevokedAtUtc { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<ApiToken>
    {
        public void Configure(EntityTypeBuilder<ApiToken> builder)
        {
            builder.ToTable("api_tokens");
            builder.HasOne<Person>().WithMany().HasForeignKey(t => t.PersonId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(t => t.Name).HasMaxLength(100);
            builder.Property(t => t.Scope).HasMaxLength(20);
            builder.Property(t => t.Hash).HasMaxLength(64);
            builder.HasIndex(t => t.Hash).IsUnique();
        }
    }
}
