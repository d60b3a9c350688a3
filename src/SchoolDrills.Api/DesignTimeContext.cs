using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace SchoolDrills.Api;

/// <summary>The context for <c>dotnet ef migrations</c>, which needs the model and no database.</summary>
internal sealed class DesignTimeContext : IDesignTimeDbContextFactory<SchoolDrillsDbContext>
{
    public SchoolDrillsDbContext CreateDbContext(string[] args) =>
        new(new DbContextOptionsBuilder<SchoolDrillsDbContext>().UseNpgsql("Host=localhost").Options);
}
