using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.People;

/// <summary>
/// Wrong passwords for an email address: one row for each visitor who tried it, one for all of them together. Counted by address and
/// not by account, so that an address nobody has is slowed down like any other. Neither the address nor the visitor is kept, only
/// hashes.
/// </summary>
internal sealed class SignInFailure
{
    public required string AddressHash { get; init; }

    /// <summary>Empty in the row for all visitors together.</summary>
    public required string VisitorHash { get; init; }

    public required int Failures { get; init; }

    public required DateTimeOffset LastAtUtc { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<SignInFailure>
    {
        public void Configure(EntityTypeBuilder<SignInFailure> builder)
        {
            builder.ToTable("sign_in_failures");
            builder.HasKey(f => new { f.AddressHash, f.VisitorHash });
            builder.Property(f => f.AddressHash).HasMaxLength(64);
            builder.Property(f => f.VisitorHash).HasMaxLength(64);
            builder.HasIndex(f => f.LastAtUtc);
        }
    }
}

/// <summary>
/// Counts wrong passwords and says how long the next try has to wait. The wait doubles with each further failure from one place; from
/// everywhere together it comes later and stays short, so that a stranger's guesses hardly hold up the owner of the account.
/// </summary>
internal sealed class SignInFailures(AccountsDbContext db, SchoolScope scope, TimeProvider clock)
{
    /// <summary>Failures without any wait: typing errors.</summary>
    private const int FreeFromOnePlace = 5,
        FreeFromEverywhere = 50;

    private static readonly TimeSpan FirstWait = TimeSpan.FromSeconds(5),
        LongestFromOnePlace = TimeSpan.FromMinutes(15),
        LongestFromEverywhere = TimeSpan.FromSeconds(30),
        ForgottenAfter = TimeSpan.FromHours(1);

    /// <returns>How long to wait before a password of this address is looked at again; zero where there is no need.</returns>
    public async Task<TimeSpan> WaitAsync(string normalizedEmail, CancellationToken ct)
    {
        var (address, visitor, now) = (Secrets.HashOf(normalizedEmail), VisitorHash(normalizedEmail), clock.GetUtcNow());
        var counted = await db
            .SignInFailures.AsNoTracking()
            .Where(f => f.AddressHash == address && (f.VisitorHash == visitor || f.VisitorHash == ""))
            .ToListAsync(ct);
        return counted.Select(f => f.LastAtUtc + WaitAfter(f) - now).Append(TimeSpan.Zero).Max();
    }

    public async Task CountAsync(string normalizedEmail, CancellationToken ct)
    {
        var (address, visitor, now) = (Secrets.HashOf(normalizedEmail), VisitorHash(normalizedEmail), clock.GetUtcNow());
        // What is past its time is forgotten here, so that the table stays as small as the last hour.
        await db.SignInFailures.Where(f => f.LastAtUtc <= now - ForgottenAfter).ExecuteDeleteAsync(ct);
        await db.Database.ExecuteSqlAsync(
            $"""
            insert into sign_in_failures as f (address_hash, visitor_hash, failures, last_at_utc)
            values ({address}, {visitor}, 1, {now}), ({address}, '', 1, {now})
            on conflict (address_hash, visitor_hash) do update set failures = f.failures + 1, last_at_utc = excluded.last_at_utc
            """,
            ct
        );
    }

    /// <summary>Forgets what everybody did with this address: its owner has shown himself.</summary>
    public Task ForgetAsync(string normalizedEmail, CancellationToken ct)
    {
        var hash = Secrets.HashOf(normalizedEmail);
        return db.SignInFailures.Where(f => f.AddressHash == hash).ExecuteDeleteAsync(ct);
    }

    private static TimeSpan WaitAfter(SignInFailure counted)
    {
        var (free, longest) =
            counted.VisitorHash.Length == 0 ? (FreeFromEverywhere, LongestFromEverywhere) : (FreeFromOnePlace, LongestFromOnePlace);
        var past = counted.Failures - free;
        return past < 0 ? TimeSpan.Zero : TimeSpan.FromSeconds(Math.Min(FirstWait.TotalSeconds * Math.Pow(2, past), longest.TotalSeconds));
    }

    /// <summary>Of address and visitor together, so that rows of two addresses do not show that one visitor tried both.</summary>
    private string VisitorHash(string normalizedEmail) => Secrets.HashOf($"{normalizedEmail} {scope.From.Ip}");
}
