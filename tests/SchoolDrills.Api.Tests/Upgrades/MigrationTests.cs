using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.EntityFrameworkCore.Migrations.Operations;
using Xunit;

namespace SchoolDrills.Api.Tests.Upgrades;

/// <summary>Hosts are replaced one after another: the version before works on over the schema of the next.</summary>
public sealed class MigrationTests
{
    /// <summary>
    /// Migrations that take something away: one is added here once a whole release has neither read nor written what it takes. The
    /// first of them came before there was a release.
    /// </summary>
    private static readonly string[] Contractions = ["CredentialsApart"];

    [Fact]
    public void A_migration_takes_nothing_away_that_the_version_before_reads_or_writes()
    {
        using var db = new SchoolDrillsDbContext(new DbContextOptionsBuilder<SchoolDrillsDbContext>().UseNpgsql().Options);
        var migrations = db.GetService<IMigrationsAssembly>();
        var taken = migrations
            .Migrations.Where(m => !Contractions.Contains(m.Key.Split('_')[1]))
            .SelectMany(m =>
                migrations
                    .CreateMigration(m.Value, db.Database.ProviderName!)
                    .UpOperations.Select(Taken)
                    .OfType<string>()
                    .Select(what => $"{m.Key.Split('_')[1]} {what}")
            );
        Assert.Empty(taken);
    }

    private static string? Taken(MigrationOperation operation) =>
        operation switch
        {
            DropTableOperation table => $"drops {table.Name}",
            DropColumnOperation column => $"drops {column.Table}.{column.Name}",
            RenameTableOperation table => $"renames {table.Name}",
            RenameColumnOperation column => $"renames {column.Table}.{column.Name}",
            // A host that does not know the column inserts without it.
            AddColumnOperation { IsNullable: false, DefaultValue: null, DefaultValueSql: null, ComputedColumnSql: null } column =>
                $"needs {column.Table}.{column.Name}",
            AlterColumnOperation { IsNullable: false, OldColumn.IsNullable: true } column => $"needs {column.Table}.{column.Name}",
            AlterColumnOperation column when column.ColumnType != column.OldColumn.ColumnType =>
                $"changes the type of {column.Table}.{column.Name}",
            _ => null,
        };
}
