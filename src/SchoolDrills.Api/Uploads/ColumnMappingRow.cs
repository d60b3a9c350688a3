using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Api.Uploads;

/// <summary>
/// How a school takes the columns of CSVs with a certain header, as somebody said once. Rows are only added; the newest holds, and one
/// from the staff goes before any from students.
/// </summary>
internal sealed class ColumnMappingRow
{
    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    /// <summary>Of the header: <see cref="TrackHeader.Fingerprint"/>.</summary>
    public required string Fingerprint { get; init; }

    /// <summary>Quantity to column; empty where the names are to tell again.</summary>
    public required IReadOnlyDictionary<string, ColumnChoice> Mapping { get; init; }

    public required Guid? SetById { get; init; }

    /// <summary>Set by an instructor or the chief.</summary>
    public required bool ByStaff { get; init; }

    public required DateTimeOffset SetAtUtc { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<ColumnMappingRow>
    {
        public void Configure(EntityTypeBuilder<ColumnMappingRow> builder)
        {
            builder.ToTable("column_mappings");
            builder.HasOne<Person>().WithMany().HasForeignKey(m => m.SetById).OnDelete(DeleteBehavior.SetNull);
            builder.Property(m => m.Fingerprint).HasMaxLength(64);
            builder.Property(m => m.Mapping).HasJson(WireJson.Default.IReadOnlyDictionaryStringColumnChoice);
            builder.HasIndex(m => new
            {
                m.SchoolId,
                m.Fingerprint,
                m.SetAtUtc,
            });
        }
    }
}
