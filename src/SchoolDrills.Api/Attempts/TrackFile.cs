using System.IO.Compression;
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

    public static TrackFile Of(Guid attemptId, Guid schoolId, byte[] bytes)
    {
        using var compressed = new MemoryStream();
        using (var gzip = new GZipStream(compressed, CompressionLevel.Optimal, leaveOpen: true))
            gzip.Write(bytes);
        var isSmaller = compressed.Length < bytes.Length;
        return new TrackFile
        {
            AttemptId = attemptId,
            SchoolId = schoolId,
            Squeezed = isSmaller,
            Content = isSmaller ? compressed.ToArray() : bytes,
        };
    }

    /// <summary>The bytes as they were sent.</summary>
    public Stream OpenOriginal()
    {
        var stored = new MemoryStream(Content, writable: false);
        return Squeezed ? new GZipStream(stored, CompressionMode.Decompress) : stored;
    }

    private sealed class Configuration : IEntityTypeConfiguration<TrackFile>
    {
        public void Configure(EntityTypeBuilder<TrackFile> builder)
        {
            builder.HasKey(f => f.AttemptId);
            builder.HasOne<Attempt>().WithOne().HasForeignKey<TrackFile>(f => f.AttemptId).OnDelete(DeleteBehavior.Cascade);
        }
    }
}
