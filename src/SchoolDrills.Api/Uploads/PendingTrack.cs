using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Uploads;

/// <summary>A recording that was sent and can be read, and waits for its sender to say what it is of.</summary>
internal sealed class PendingTrack
{
    /// <summary>What is not claimed by then is dropped.</summary>
    public static readonly TimeSpan Life = TimeSpan.FromDays(7);

    /// <summary>So many of one person wait at most; the oldest make room.</summary>
    public const int Most = 20;

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid PersonId { get; init; }

    public required DateTimeOffset SentAtUtc { get; init; }

    public required string FileName { get; init; }

    public required long FileBytes { get; init; }

    /// <summary>First sample.</summary>
    public required DateTimeOffset StartUtc { get; init; }

    /// <summary>Last sample.</summary>
    public required DateTimeOffset EndUtc { get; init; }

    /// <summary>What was entered with it, its columns above all.</summary>
    public required AttemptMeta Meta { get; init; }

    public required bool Squeezed { get; init; }

    public required byte[] Content { get; init; }

    public UploadForm Form(AttemptMeta meta) =>
        new(
            new UploadedTrack(FileName, FileBytes, new StoredBytes(Squeezed, Content).Open),
            meta with
            {
                Columns = meta.Columns ?? Meta.Columns,
                RememberColumns = meta.RememberColumns ?? Meta.RememberColumns,
            },
            meta.Drill
        );

    public PendingUpload View() => new(Id, FileName, FileBytes, SentAtUtc, StartUtc, EndUtc);

    private sealed class Configuration : IEntityTypeConfiguration<PendingTrack>
    {
        public void Configure(EntityTypeBuilder<PendingTrack> builder)
        {
            builder.HasOne<Person>().WithMany().HasForeignKey(t => t.PersonId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(t => t.Meta).HasJson(WireJson.Default.AttemptMeta);
            builder.Property(t => t.FileName).HasMaxLength(200);
            builder.HasIndex(t => new { t.PersonId, t.SentAtUtc });
        }
    }
}
