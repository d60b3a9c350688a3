using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.Attempts;

/// <summary>The uploaded bytes, unchanged; compressed where that makes them fewer.</summary>
internal sealed class TrackFile
{
    public required Guid AttemptId { get; init; }

    public required Guid SchoolId { get; init; }

    public required bool Squeezed { get; init; }

    public required byte[] Content { get; init; }

    public static TrackFile Of(Guid attemptId, Guid schoolId, StoredBytes bytes) =>
        new()
        {
            AttemptId = attemptId,
            SchoolId = schoolId,
            Squeezed = bytes.Squeezed,
            Content = bytes.Content,
        };

    /// <summary>The bytes as they were sent.</summary>
    public Stream OpenOriginal() => new StoredBytes(Squeezed, Content).Open();

    private sealed class Configuration : IEntityTypeConfiguration<TrackFile>
    {
        public void Configure(EntityTypeBuilder<TrackFile> builder)
        {
            builder.HasKey(f => f.AttemptId);
            builder.HasOne<Attempt>().WithOne().HasForeignKey<TrackFile>(f => f.AttemptId).OnDelete(DeleteBehavior.Cascade);
        }
    }
}
