using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Metadata.Conventions;

namespace SchoolDrills.Api.Data;

/// <summary>
/// Tables, columns, keys and indexes as PostgreSQL has them: <c>uploaded_at_utc</c>, so that policies and people can write SQL without
/// quotes.
/// </summary>
/// <remarks>
/// EFCore.NamingConventions 10.0.1 gives our tables the same names, but renames the columns of the migration history as well
/// (<c>migration_id</c>), with which it finds no applied migration in an existing database; the only way around is to replace an
/// internal service of the provider.
/// </remarks>
internal sealed class SnakeCaseNames : IModelFinalizingConvention
{
    public void ProcessModelFinalizing(IConventionModelBuilder modelBuilder, IConventionContext<IConventionModelBuilder> context)
    {
        foreach (var entity in modelBuilder.Metadata.GetEntityTypes())
        {
            if (entity.GetTableName() is not { } table)
                continue;
            entity.SetTableName(Of(table));
            foreach (var property in entity.GetProperties())
                property.SetColumnName(Of(property.GetColumnName()));
            foreach (var key in entity.GetKeys())
                key.SetName(Of(key.GetName()!));
            foreach (var foreignKey in entity.GetForeignKeys())
                foreignKey.SetConstraintName(Of(foreignKey.GetConstraintName()!));
            foreach (var index in entity.GetIndexes())
                index.SetDatabaseName(Of(index.GetDatabaseName()!));
        }
    }

    private static string Of(string name)
    {
        var snake = new StringBuilder(name.Length + 8);
        for (var i = 0; i < name.Length; i++)
        {
            var startsWord =
                char.IsUpper(name[i])
                && i > 0
                && name[i - 1] != '_'
                && (!char.IsUpper(name[i - 1]) || (i + 1 < name.Length && char.IsLower(name[i + 1])));
            if (startsWord)
                snake.Append('_');
            snake.Append(char.ToLowerInvariant(name[i]));
        }

        return snake.ToString();
    }
}
