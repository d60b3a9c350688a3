using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Setup;

namespace SchoolDrills.Api;

/// <summary>
/// The same database for whatever signs people in and keeps their accounts. It connects as a role of its own, which alone reads
/// secrets and changes people, and which has no access to students' work (db/policies/10-grants.sql); through
/// <see cref="SchoolDrillsDbContext"/> the database refuses the tables named here. So what takes this context is what can read secrets.
/// </summary>
internal sealed class AccountsDbContext(DbContextOptions<AccountsDbContext> options)
    : SchoolDrillsDbContext(options),
        IDataProtectionKeyContext
{
    public DbSet<Credentials> Credentials => Set<Credentials>();

    public DbSet<Session> Sessions => Set<Session>();

    public DbSet<EntryLink> EntryLinks => Set<EntryLink>();

    public DbSet<ApiToken> ApiTokens => Set<ApiToken>();

    public DbSet<SignInFailure> SignInFailures => Set<SignInFailure>();

    public DbSet<FirstRunToken> FirstRunTokens => Set<FirstRunToken>();

    public DbSet<DataProtectionKey> DataProtectionKeys => Set<DataProtectionKey>();
}
