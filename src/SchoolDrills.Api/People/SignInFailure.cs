using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.People;

/// <summary>
/// Wrong passwords for an address. Counted by address and not by account, so that an address nobody has is locked like any other
/// and the lock tells nothing; the address itself is not kept.
/// </summary>
internal sealed class SignInFailure
{
    public const int Most = 8;

    public static readonly TimeSpan Lock = TimeSpan.FromMinutes(10);

    public required string AddressHash { get; init; }

    public required int Failures { get; init; }

    public required DateTimeOffset LastAtUtc { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<SignInFailure>
    {
        public void Configure(EntityTypeBuilder<SignInFailure> builder)
        {
            builder.ToTable("sign_in_failures");
            builder.HasKey(f => f.AddressHash);
            builder.Property(f => f.AddressHash).HasMaxLength(64);
            builder.HasIndex(f => f.LastAtUtc);
        }
    }
}

/// <summary>Counts wrong passwords, and says when it has been enough.</summary>
internal sealed class SignInFailures(AccountsDbContext db, TimeProvider clock)
{
    public Task<bool> IsLockedAsync(string normalizedEmail, CancellationToken ct)
    {
        var hash = Secrets.HashOf(normalizedEmail);
        var since = clock.GetUtcNow() - SignInFailure.Lock;
        return db.SignInFailures.AnyAsync(f => f.AddressHash == hash && f.Failures >= SignInFailure.Most && f.LastAtUtc > since, ct);
    }

    /// <returns>Whether the address is locked now.</returns>
    public async Task<bool> CountAsync(string normalizedEmail, CancellationToken ct)
    {
        var (hash, now) = (Secrets.HashOf(normalizedEmail), clock.GetUtcNow());
        var since = now - SignInFailure.Lock;
        // What is past its time is forgotten here, so that the table stays as small as the last ten minutes.
        await db.SignInFailures.Where(f => f.LastAtUtc <= since).ExecuteDeleteAsync(ct);
        var failures = await db
            .Database.SqlQuery<int>(
                $"""
                insert into sign_in_failures as f (address_hash, failures, last_at_utc) values ({hash}, 1, {now})
                on conflict (address_hash) do update set failures = f.failures + 1, last_at_utc = excluded.last_at_utc
                returning failures as "Value"
                """
            )
            .ToListAsync(ct);
        return failures[0] >= SignInFailure.Most;
    }

    public Task ForgetAsync(string normalizedEmail, CancellationToken ct)
    {
        var hash = Secrets.HashOf(normalizedEmail);
        return db.SignInFailures.Where(f => f.AddressHash == hash).ExecuteDeleteAsync(ct);
    }
}
