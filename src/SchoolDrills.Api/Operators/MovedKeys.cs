using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.People;

namespace SchoolDrills.Api.Operators;

/// <summary>
/// Keys of authenticator apps lie under the keys of their installation; an archive has them without, and the other installation puts them
/// under its own.
/// </summary>
internal sealed class MovedKeys : IAsyncDisposable
{
    private readonly ServiceProvider services;
    private readonly IDataProtector protector;

    public MovedKeys(DatabaseHost database, IConfiguration configuration)
    {
        var collection = new ServiceCollection().AddLogging();
        collection.AddDbContext<AccountsDbContext>(options => options.UseNpgsql(database.Access.Accounts));
        collection
            .AddDataProtection()
            .SetApplicationName("SchoolDrills")
            .PersistKeysToDbContext<AccountsDbContext>()
            .ProtectKeysAsConfigured(configuration);
        services = collection.BuildServiceProvider();
        protector = SecondFactor.ProtectorOf(services.GetRequiredService<IDataProtectionProvider>());
    }

    public ValueTask DisposeAsync() => services.DisposeAsync();

    /// <summary>The keys that can be read, and how many cannot.</summary>
    public async Task<(List<MovedKey> Keys, int Unreadable)> ReadAsync(OwnerConnection owner, Guid schoolId, CancellationToken ct)
    {
        var (keys, unreadable) = (new List<MovedKey>(), 0);
        foreach (
            var (person, kept) in await owner.ReadAsync(
                "select person_id, authenticator_key from credentials where school_id = $1 and authenticator_key is not null order by 1",
                r => (r.GetGuid(0), r.GetString(1)),
                ct,
                schoolId
            )
        )
        {
            try
            {
                keys.Add(new MovedKey(person, protector.Unprotect(kept)));
            }
            catch (CryptographicException)
            {
                unreadable++;
            }
        }

        return (keys, unreadable);
    }

    public async Task WriteAsync(OwnerConnection owner, Guid schoolId, IEnumerable<MovedKey> keys, CancellationToken ct)
    {
        foreach (var key in keys)
        {
            await owner.ExecuteAsync(
                "update credentials set authenticator_key = $3 where school_id = $1 and person_id = $2",
                ct,
                schoolId,
                key.PersonId,
                protector.Protect(key.Key)
            );
        }
    }
}
