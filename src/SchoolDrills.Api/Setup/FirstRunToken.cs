using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.People;

namespace SchoolDrills.Api.Setup;

/// <summary>The key in the link with which a school is set up. Only its hash is kept, and it opens once, for a week.</summary>
internal sealed class FirstRunToken
{
    public static readonly TimeSpan Life = TimeSpan.FromDays(7);

    public Guid Id { get; init; } = Guid.CreateVersion7();

    /// <summary>SHA-256, lower-case hexadecimal.</summary>
    public required string Hash { get; init; }

    public required DateTimeOffset MadeAtUtc { get; init; }

    public DateTimeOffset? UsedAtUtc { get; set; }

    /// <summary>Adds a new token to the context; the caller saves it.</summary>
    /// <returns>The path of the page with which a school is set up, token and all: it is not kept anywhere.</returns>
    public static string AddTo(AccountsDbContext db, DateTimeOffset now)
    {
        var token = Secrets.New();
        db.FirstRunTokens.Add(new FirstRunToken { Hash = Secrets.HashOf(token), MadeAtUtc = now });
        return $"/first-run?token={token}";
    }

    private sealed class Configuration : IEntityTypeConfiguration<FirstRunToken>
    {
        public void Configure(EntityTypeBuilder<FirstRunToken> builder)
        {
            builder.ToTable("first_run_tokens");
            builder.Property(t => t.Hash).HasMaxLength(64);
            builder.HasIndex(t => t.Hash).IsUnique();
        }
    }
}
