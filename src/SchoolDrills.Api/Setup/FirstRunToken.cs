using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.Setup;

/// <summary>The key in the link that a first start prints. Only its hash is kept, and it opens once.</summary>
internal sealed class FirstRunToken
{
    public Guid Id { get; init; } = Guid.CreateVersion7();

    /// <summary>SHA-256, lower-case hexadecimal.</summary>
    public required string Hash { get; init; }

    public required DateTimeOffset MadeAtUtc { get; init; }

    public DateTimeOffset? UsedAtUtc { get; set; }

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
