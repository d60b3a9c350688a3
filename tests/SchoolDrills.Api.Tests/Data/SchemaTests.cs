using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>
/// <c>db/schema.sql</c> is what the migrations make, for people to read; <c>SCHOOLDRILLS_WRITE_SCHEMA=1</c> writes it anew.
/// </summary>
public sealed class SchemaTests
{
    [Fact]
    public async Task The_written_schema_is_what_the_migrations_make()
    {
        await using var db = new SchoolDrillsDbContext(new DbContextOptionsBuilder<SchoolDrillsDbContext>().UseNpgsql().Options);
        var script = db.GetService<IMigrator>()
            .GenerateScript(options: MigrationsSqlGenerationOptions.NoTransactions)
            .ReplaceLineEndings("\n")
            .Trim();
        var schema = $"-- Made from the migrations by SchemaTests; policies stand in db/policies.\n\n{script}\n";
        var file = Path.Combine(ProjectRoot(), "db", "schema.sql");
        if (Environment.GetEnvironmentVariable("SCHOOLDRILLS_WRITE_SCHEMA") == "1")
            await File.WriteAllTextAsync(file, schema, TestContext.Current.CancellationToken);
        Assert.Equal(schema, (await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken)).ReplaceLineEndings("\n"));
    }

    [Fact]
    public void No_change_of_the_model_lacks_its_migration()
    {
        using var db = new SchoolDrillsDbContext(new DbContextOptionsBuilder<SchoolDrillsDbContext>().UseNpgsql().Options);
        Assert.False(db.Database.HasPendingModelChanges());
    }

    private static string ProjectRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder!.FullName, "SchoolDrills.sln")))
            folder = folder.Parent;
        return folder.FullName;
    }
}
