using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.People;

/// <summary>A signed-in client of the API. Ending it makes its tokens worthless at once.</summary>
internal sealed class Session
{
    public static readonly TimeSpan Life = TimeSpan.FromDays(14);

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid PersonId { get; init; }

    public required DateTimeOffset StartedAtUtc { get; init; }

    public required DateTimeOffset ExpiresAtUtc { get; set; }

    public DateTimeOffset? EndedAtUtc { get; set; }

    /// <summary>Rises with each renewal; a refresh token older than the one before is a stolen one.</summary>
    public int Generation { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<Session>
    {
        public void Configure(EntityTypeBuilder<Session> builder)
        {
            builder.HasOne<Person>().WithMany().HasForeignKey(s => s.PersonId).OnDelete(DeleteBehavior.Cascade);
            builder.Property(s => s.Generation).IsConcurrencyToken();
        }
    }
}
